using GardenWatch.Planning.Conditions;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>What the gathered table of jobs found missing in a grammar of conditions, and what there is now.</summary>
/// <remarks>The gaps are those listed with that table (jobs.csv, compiled from extension sources), by their numbers.</remarks>
public sealed class GapTests
{
    [Theory]
    [InlineData(1, "days until last spring frost at most 35 days")]
    [InlineData(1, "days until first autumn frost at most 0 days")]
    [InlineData(1, "days until away at most 3 days")]
    [InlineData(2, "air mean of lows next 7 nights at least 12.8 °C")]
    [InlineData(2, "air mean of highs past 3 days above 27 °C")]
    [InlineData(2, "air low next 3 nights at least 10 °C")] // three nights in a row are the coldest of three
    [InlineData(2, "late blight days past 2 days at least 1 day")] // hours on each of two days, which blight asks
    [InlineData(5, "leaf low tonight at most 0 °C")]
    [InlineData(5, "ground frost hours past 14 days at least 6 hours")]
    [InlineData(5, "leaf low tonight at most 0 °C with chance at least 25 %")]
    [InlineData(6, "days since potted on at least 14 days")]
    [InlineData(6, "days since hardening at least 7 days")]
    [InlineData(6, "days since flowering at least 20 days")]
    [InlineData(6, "days since fruit set at least 7 days")]
    [InlineData(6, "days since ripe at least 2 days")]
    [InlineData(6, "days since covered at least 1 day")]
    [InlineData(6, "days since cleared at least 3 days")]
    [InlineData(6, "days since stored at least 30 days")]
    [InlineData(6, "days since seen at most 7 days")]
    [InlineData(7, "soil water deficit mean today at least 80 %")]
    [InlineData(8, "hail hours past 24 hours above 0 hours")]
    [InlineData(8, "no thunder next 6 hours")]
    [InlineData(9, "late blight values since up at least 18 values")]
    [InlineData(9, "early blight values since last done at least 15 values")]
    [InlineData(10, "warmth base 4 °C total since midwinter at least 200 °C days")]
    [InlineData(11, "any of (rain total since last done at least 12 mm; days since last done at least 7 days)")]
    [InlineData(11, "none of (all of (air high today above 27 °C; dry past 3 days))")]
    [InlineData(15, "dry past 2 hours")]
    [InlineData(15, "no hail today")]
    public void What_was_missing_can_be_written(int gap, string phrase)
    {
        Assert.InRange(gap, 1, 15);
        Assert.IsType<ConditionReading.Ok>(ConditionText.Read(phrase));
    }

    // gap, what can't be written, and why that is so.
    [Theory]
    [InlineData(1, "days until end of warmth at most 60 days", "no usual date of it is worked out for a place; the first autumn frost is")]
    [InlineData(2, "humidity hours above 90 % each of past 2 days at least 6 hours", "a statistic of a statistic of days is only there for lows and highs; blight's own has a measure")]
    [InlineData(4, "days until sunset at most 2 hours", "hours of the day are the window's: jobs are cut to the gardener's hours and the dark by the agenda, not by a phrase")]
    [InlineData(8, "snow lying today at least 5 cm", "the weather that is fetched has fresh snow, not what lies")]
    [InlineData(8, "uv high today at most 6", "ultraviolet light is not fetched")]
    [InlineData(12, "water total since last done at least 12 mm", "water given by hand is in the journal, which the weather of a bed does not see")]
    [InlineData(13, "frame air high today above 30 °C", "no model of the air under glass is sure enough to act on; the soil under it is one")]
    [InlineData(14, "until air low next 7 nights at least 6 °C", "what ends a job is its `by:`, what undoes it another job's `when:`")]
    public void What_still_can_not_be_written_has_its_reason(int gap, string phrase, string reason)
    {
        Assert.InRange(gap, 1, 15);
        Assert.NotEmpty(reason);
        Assert.IsType<ConditionReading.Fault>(ConditionText.Read(phrase));
    }
}
