using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using NodaTime;

namespace GardenWatch.Messages.Tests.Warnings;

/// <summary>A quiet subject that names the danger and its time, and what has changed.</summary>
public sealed class ThreatWarningTests
{
    private static readonly LocalDate Thursday = new(2026, 6, 18);

    [Fact]
    public void The_subject_names_the_danger_its_time_the_deed_and_the_hour()
    {
        Assert.Equal("Gale tonight: tie the tomatoes by 8:30 pm, 1 more", ThreatSamples.Gale().Subject);
        Assert.Equal("Hail this afternoon: shelter the salad bed by 2 pm", ThreatSamples.Hail().Subject);
        Assert.Equal("Heat tomorrow: shade the lettuce by 8:30 pm", ThreatSamples.Heat().Subject);
        Assert.Equal("Called off: tie the tomatoes, 1 more", ThreatSamples.GaleCalledOff().Subject);
    }

    [Theory]
    [InlineData(0, 9, "now")]
    [InlineData(0, 11, "this morning")]
    [InlineData(0, 15, "this afternoon")]
    [InlineData(0, 22, "tonight")]
    [InlineData(1, 3, "tonight")]
    [InlineData(1, 9, "tomorrow morning")]
    [InlineData(1, 14, "tomorrow afternoon")]
    [InlineData(1, 21, "tomorrow night")]
    public void The_time_is_said_as_one_says_it(int day, int hour, string said)
    {
        var from = SampleGarden.At(Thursday.PlusDays(day), hour);
        var job = ThreatSamples.Tie() with { Threat = new(Danger.Wind, from, from + Duration.FromHours(2)) };

        Assert.StartsWith($"Gale {said}: ", WarningMessage.Of(ThreatSamples.Look(10, job), [job], [], SampleGarden.Pat).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void What_changed_is_said_first_in_the_readers_units_and_only_where_it_changed()
    {
        string text = DigestText.Write(ThreatSamples.Gale()).Replace('\u00A0', ' ');
        Assert.Contains("It has become worse: the last message said gusts to 46 mph.", Flat(text), StringComparison.Ordinal);
        Assert.Equal(1, text.Split("the last message").Length - 1);

        var job = ThreatSamples.Tie();
        var metric = WarningMessage.Of(ThreatSamples.Look(17, job), [job], [], SampleGarden.Kim, lastSaid: ThreatSamples.Told((job, 20.5)));
        Assert.Contains("It has become worse: the last message said gusts to 74 km/h.", Flat(DigestText.Write(metric).Replace('\u00A0', ' ')), StringComparison.Ordinal);

        Assert.DoesNotContain("the last message", DigestText.Write(ThreatSamples.Hail()), StringComparison.Ordinal);
    }

    [Fact]
    public void Each_kind_has_its_own_measure_of_change()
    {
        Assert.Contains("the last message said 90 °F.", Changed(ThreatSamples.Shade(), 32), StringComparison.Ordinal);
        Assert.Contains("the last message said hail.", Changed(ThreatSamples.Shelter(HailClass.Heavy), HailClass.Told), StringComparison.Ordinal);
        Assert.Contains("the last message said a thunderstorm.", Changed(ThreatSamples.Shelter(), HailClass.Possible), StringComparison.Ordinal);
        var cover = SampleGarden.CoverTomatoes(Thursday) with { DecidingValue = -1 };
        Assert.Contains("the last message said leaves near 36 °F.", Changed(cover, 2), StringComparison.Ordinal);

        static string Changed(Job job, double told) => Flat(DigestText.Write(
            WarningMessage.Of(ThreatSamples.Look(10, job), [job], [], SampleGarden.Pat, lastSaid: ThreatSamples.Told((job, told)))).Replace('\u00A0', ' '));
    }

    [Fact]
    public void Several_dangers_are_one_message_the_most_pressing_first_and_each_is_named()
    {
        var several = ThreatSamples.Several();

        Assert.StartsWith("Hail this afternoon: ", several.Subject, StringComparison.Ordinal);
        Assert.EndsWith(", 2 more", several.Subject, StringComparison.Ordinal);
        Assert.Contains("Gale tonight as well.", several.Lead, StringComparison.Ordinal);
    }

    [Fact]
    public void A_storm_of_which_no_hail_is_told_is_called_a_thunderstorm_and_a_lesser_wind_no_gale()
    {
        var storm = ThreatSamples.Shelter(HailClass.Possible);
        Assert.StartsWith("Thunderstorm this afternoon: ", WarningMessage.Of(ThreatSamples.Look(10, storm), [storm], [], SampleGarden.Pat).Subject, StringComparison.Ordinal);

        var wind = ThreatSamples.Tie(15);
        Assert.StartsWith("Strong wind tonight: ", WarningMessage.Of(ThreatSamples.Look(10, wind), [wind], [], SampleGarden.Pat).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void A_danger_called_off_is_not_said_to_be_of_the_night_alone() =>
        Assert.Equal("No need to tie the tomatoes any more", ThreatSamples.GaleCalledOff().Headline);

    [Fact]
    public void A_bed_that_the_deed_names_is_not_named_twice()
    {
        string text = DigestText.Write(ThreatSamples.Gale());
        Assert.Contains("Shut and strap down the cold frame by", text, StringComparison.Ordinal);
        Assert.Contains("Tie the tomatoes (top bed) by", Flat(text), StringComparison.Ordinal);
    }

    private static string Flat(string text) => string.Join(' ', text.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));
}
