using System.Diagnostics;
using CsCheck;
using GardenWatch.Planning.Conditions;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Phrases as they come out of hurried fingers.</summary>
public sealed class BrokenPhraseTests
{
    private static readonly string[] Good =
    [
        .. PublishedPhraseTests.Rows.Select(row => row.Phrase), .. ConditionLanguage.Measures.Select(row => row.Example),
        "warmth base 50 °F ceiling 86 °F by single sine total since set out at least 900 °F days", "no thunder next 6 hours",
        "dry next 2 hours, then rain total next 24 hours at least 6 mm", "any of (rain today at least 3 mm; soil water deficit today at most 50 %)",
        "air low tonight at most {frost: 2 °C} with chance at least 20 %",
    ];

    private const string Letters = "abcdefghijklmnopqrstuvwxyz0123456789 °%/{}(),;:.<>=µ¼'\"\t";

    private static string Slipped(string phrase, Random chance)
    {
        int at = chance.Next(phrase.Length);
        string[] words = phrase.Split(' ');
        int word = chance.Next(words.Length);
        return chance.Next(9) switch
        {
            0 => phrase.Remove(at, 1),
            1 => phrase.Insert(at, Letters[chance.Next(Letters.Length)].ToString()),
            2 => phrase[..at] + Letters[chance.Next(Letters.Length)] + phrase[(at + 1)..],
            3 when at + 1 < phrase.Length => phrase[..at] + phrase[at + 1] + phrase[at] + phrase[(at + 2)..],
            4 => string.Join(' ', words.Where((_, i) => i != word)),
            5 => string.Join(' ', words.Take(word + 1).Concat(words.Skip(word))),
            6 => phrase[..at],
            7 => string.Join(' ', words.Select((w, i) => i == word ? Good[chance.Next(Good.Length)].Split(' ')[0] : w)),
            _ => phrase + " " + words[word],
        };
    }

    [Fact]
    public void Ten_thousand_slips_are_each_told_at_a_column_and_what_is_offered_whole_reads_well()
    {
        int broken = 0, offered = 0;
        long longest = 0;
        Gen.Select(Gen.OneOf(Good), Gen.Int[1, 3], Gen.Int).Sample((phrase, slips, seed) =>
        {
            var chance = new Random(seed);
            for (int i = 0; i < slips && phrase.Length > 0; i++)
                phrase = Slipped(phrase, chance);
            long before = Stopwatch.GetTimestamp();
            var reading = ConditionText.Read(phrase);
            long took = Stopwatch.GetTimestamp() - before;
            InterlockedMax(ref longest, took);
            if (reading is not ConditionReading.Fault(var column, var problem, var instead))
                return;
            Interlocked.Increment(ref broken);
            Assert.InRange(column, 1, phrase.Length + 1);
            Assert.True(problem.Length > 0 && !problem.EndsWith('.'), problem);
            if (!OffersWhole(instead, out string whole))
                return;
            Interlocked.Increment(ref offered);
            Assert.True(ConditionText.Read(whole) is ConditionReading.Ok, $"{phrase}\n{problem}\n{whole}: {ConditionText.Read(whole)}");
        }, iter: 25_000);
        Assert.True(broken >= 10_000, $"{broken} of 25000 were broken, {offered} of them mended");
        Assert.True(offered >= broken / 10, $"{offered} of {broken} mended");
        Assert.True(Stopwatch.GetElapsedTime(0, longest) < TimeSpan.FromSeconds(2), "a phrase took seconds");
    }

    /// <summary>A whole phrase is offered, not a word or a quantity to put into it.</summary>
    private static bool OffersWhole(string? instead, out string whole)
    {
        whole = instead is ['`', .. var inside, '`'] ? inside : instead is ['s', 'u', 'c', 'h', ' ', 'a', 's', ' ', '`', .. var example, '`'] ? example : "";
        return !whole.Contains('`', StringComparison.Ordinal) && !whole.Contains("...", StringComparison.Ordinal)
            && whole.Split(' ').Length > 4 && !whole.StartsWith("with ", StringComparison.Ordinal) && !whole.StartsWith("between ", StringComparison.Ordinal);
    }

    private static void InterlockedMax(ref long most, long value)
    {
        long seen;
        while (value > (seen = Interlocked.Read(ref most)) && Interlocked.CompareExchange(ref most, value, seen) != seen)
        {
        }
    }

    [Theory]
    [InlineData("warmth base 5 °C by singel sine total since sown at least 90 °C days", 21, "`singel sine`: no method of reckoning warmth; did you mean single sine?", "`warmth base 5 °C by single sine total since sown at least 90 °C days`")]
    [InlineData("warmth base 15 °C by reducing ceiling total today at least 9 °C days", 22, "`reducing ceiling` wants a ceiling", "such as `warmth base 15 °C ceiling 32 °C by reducing ceiling total since set out at least 300 °C days`")]
    [InlineData("no air next 6 hours", 4, "`no` goes with what is counted or falls, not with air", "such as `no thunder next 6 hours`")]
    [InlineData("lightning next 6 hours at most 0 hours", 1, "`lightning`: no such measure; did you mean thunder?", "`thunder next 6 hours at most 0 hours`")]
    [InlineData("thunder today at least 3 mm", 24, "`3 mm` is not a number of hours", "`3 hours`")]
    [InlineData("early blight values past 7 days at least 15", 42, "`15` has no unit; a number of severity values is wanted", "`15 values`")]
    [InlineData("air hours past 7 days at least 15 hours", 5, "`hours`: neither a statistic nor a window of air", "such as `air low tonight at most 2 °C`")]
    public void New_words_have_errors_as_good_as_the_old(string phrase, int column, string problem, string instead)
    {
        var fault = Assert.IsType<ConditionReading.Fault>(ConditionText.Read(phrase));
        Assert.Equal((column, problem, instead), (fault.Column, fault.Problem, fault.Instead));
    }

    [Theory]
    [InlineData("no rain next 2 hours", "rain total next 2 hours at most 0.2 mm")]
    [InlineData("no thunder tonight", "thunder hours tonight at most 0 hours")]
    [InlineData("dry next 2 hours with chance at least 70 %", "rain total next 2 hours at most 0.2 mm with chance at least 70 %")]
    [InlineData("no hail today with chance at least 90 %, then dry next 2 hours", null)]
    [InlineData("soil water deficit today at least {thirsty: 80 percent}", "soil water deficit mean today at least {thirsty: 80 %}")]
    [InlineData("soil water deficit high today between 5 mm and 9 mm with chance at least 60 %", "soil water deficit high today between 5 mm and 9 mm with chance at least 60 %")]
    [InlineData("warmth base 5 °C by hours total today at least 3 °C days", "warmth base 5 °C total today at least 3 °C days")]
    public void What_people_may_write_is_printed_in_one_way(string written, string? printed) =>
        Assert.Equal(printed, ConditionText.Read(written) is ConditionReading.Ok(var condition) ? ConditionText.Print(condition) : null);
}
