using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Tests.Replies;

/// <summary>What has a word for done and a number, and says of no job that it is done.</summary>
public sealed class NeverDoneTests
{
    [Theory]
    [InlineData("gone 1")]
    [InlineData("none done")]
    [InlineData("none of 1 2 3 done")]
    [InlineData("nothing done, 1 and 2 tomorrow")]
    [InlineData("I did not do 1")]
    [InlineData("I have not done 1 or 2")]
    [InlineData("I haven't done 1, 2 or 3 yet")]
    [InlineData("1 isn't done")]
    [InlineData("1 and 2 aren't done")]
    [InlineData("1 is not quite done")]
    [InlineData("nearly done 1")]
    [InlineData("half done 2")]
    [InlineData("2 half done")]
    [InlineData("1 will be done by Friday")]
    [InlineData("1 done tomorrow")]
    [InlineData("done 1 tomorrow")]
    [InlineData("did you mean 1 done?")]
    [InlineData("Is 1 done?")]
    [InlineData("when 1 is done, what next")]
    [InlineData("once 1 and 2 are done I will rest")]
    [InlineData("neither 1 nor 2 done")]
    [InlineData("could someone say if 3 is done")]
    [InlineData("I wish 1 were done")]
    [InlineData("I would have 1 and 2 done but it rained")]
    [InlineData("Neighbour said 1 was done")]
    [InlineData("did 2 rows of 6")]
    [InlineData("done 3 of 5 beds")]
    [InlineData("did 1 bag of compost")]
    [InlineData("done 2 kg")]
    [InlineData("finished 1 beer")]
    [InlineData("almost all done")]
    [InlineData("not all done")]
    [InlineData("all done? no")]
    [InlineData("all but done")]
    [InlineData("soon all done")]
    [InlineData("undo 1")]
    [InlineData("redo 1")]
    [InlineData("dose 1")]
    [InlineData("dig 2")]
    [InlineData("don't do 2")]
    [InlineData("never did 2")]
    [InlineData("done without 1")]
    [InlineData("I sowed half the radishes")]
    [InlineData("I should have sowed the radishes")]
    [InlineData("radishes not sown")]
    [InlineData("radishes are nearly sown")]
    [InlineData("sow radishes")]
    [InlineData("tomatoes were covered in blossom")]
    [InlineData("tomatoes finished")]
    [InlineData("the radishes are done for")]
    [InlineData("covered the squash")]
    [InlineData("sowed the tomatoes")]
    [InlineData("done 1 not")]
    [InlineData("done 1 - not")]
    [InlineData("done 1 (no, wait)")]
    [InlineData("1 nicht erledigt")]
    [InlineData("1 noch nicht fertig")]
    [InlineData("fast erledigt 1")]
    [InlineData("1 wird morgen erledigt")]
    [InlineData("alles nicht erledigt")]
    [InlineData("kein 1 erledigt")]
    [InlineData("done 20 minutes of weeding")]
    [InlineData("did 3 hours")]
    [InlineData("21 April done")]
    [InlineData("done at 1 pm")]
    [InlineData("done by 2")]
    [InlineData("done in 1 go")]
    [InlineData("1.5 done")]
    [InlineData("done 1/2")]
    [InlineData("done 50 %")]
    [InlineData("done 2x")]
    [InlineData("did the 2 mile walk")]
    public void What_is_not_said_to_be_done_is_not_taken_for_it(string words)
    {
        foreach (string written in (string[])[words, words + ".", $"Hello,\n{words}\nPat", words.ToUpperInvariant()])
        {
            var answers = ReplyReader.Read([new OwnWords(written)], ReplySamples.Today, ReplySamples.English(UnitSystem.Metric), ReplySamples.Jobs);
            Assert.DoesNotContain(answers, answer => answer is Answer.Done);
        }
    }
}
