using CsCheck;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class TruthTests
{
    private static readonly Instant Start = Scenes.At(2026, 5, 1);

    /// <summary>Half of the coming day is missing; what is known is 3.</summary>
    private static Scene HalfKnown(double known = 3) => Scenes.Of(Start, Scenes.Hours(48, i => i is > 12 and < 25 ? double.NaN : known));

    [Theory]
    [InlineData("air low next 24 hours at most 4 °C", Truth.Yes)] // colder still would not change it
    [InlineData("air low next 24 hours at most 2 °C", Truth.Unknown)]
    [InlineData("air low next 24 hours at least 4 °C", Truth.No)]
    [InlineData("air low next 24 hours at least 2 °C", Truth.Unknown)]
    [InlineData("air high next 24 hours at least 2 °C", Truth.Yes)]
    [InlineData("air high next 24 hours above 4 °C", Truth.Unknown)]
    [InlineData("air high next 24 hours below 2 °C", Truth.No)]
    [InlineData("air mean next 24 hours at most 4 °C", Truth.Unknown)]
    [InlineData("air mean next 24 hours at least 4 °C", Truth.Unknown)]
    [InlineData("rain total next 24 hours at least 30 mm", Truth.Yes)]
    [InlineData("rain total next 24 hours at most 30 mm", Truth.No)]
    [InlineData("rain total next 24 hours at most 40 mm", Truth.Unknown)]
    [InlineData("rain total next 24 hours between 10 mm and 30 mm", Truth.No)]
    [InlineData("rain total next 24 hours between 10 mm and 50 mm", Truth.Unknown)]
    [InlineData("rain peak next 24 hours above 2 mm/h", Truth.Yes)]
    [InlineData("rain peak next 24 hours at most 4 mm/h", Truth.Unknown)]
    [InlineData("air hours above 2 °C next 24 hours at least 12 hours", Truth.Yes)]
    [InlineData("air hours above 2 °C next 24 hours at least 25 hours", Truth.No)]
    [InlineData("air hours above 2 °C next 24 hours at least 13 hours", Truth.Unknown)]
    [InlineData("air longest run above 2 °C next 24 hours at least 12 hours", Truth.Yes)]
    [InlineData("air longest run above 2 °C next 24 hours at least 13 hours", Truth.Unknown)]
    public void What_is_known_decides_only_what_the_missing_hours_could_not_change(string phrase, Truth expected) =>
        Assert.Equal(expected, HalfKnown().Ask(phrase, Start).Holds);

    [Theory]
    [InlineData("rain total next 20 hours at most 30 mm", 1, Truth.Yes)] // 19 of 20 are 95 %
    [InlineData("rain total next 20 hours at most 30 mm", 2, Truth.Unknown)]
    [InlineData("air low next 19 hours at least 0 °C", 2, Truth.Yes)] // 18 of 20 stamps are 90 %
    [InlineData("air low next 19 hours at least 0 °C", 3, Truth.Unknown)]
    public void Each_statistic_needs_its_share_of_the_hours(string phrase, int missing, Truth expected)
    {
        var scene = Scenes.Of(Start, Scenes.Hours(48, i => i >= 5 && i < 5 + missing ? double.NaN : 1));
        Assert.Equal(expected, scene.Ask(phrase, Start).Holds);
    }

    [Fact]
    public void A_window_beyond_the_end_of_the_forecast_is_missing_hours()
    {
        var scene = Scenes.Of(Start, Scenes.Hours(48, _ => 0.1));
        Assert.Equal(Truth.Yes, scene.Ask("rain next 24 hours at most 5 mm", Start + Duration.FromHours(23)).Holds);
        Assert.Equal(Truth.Unknown, scene.Ask("rain next 24 hours at most 5 mm", Start + Duration.FromHours(40)).Holds);
        Assert.Equal(Truth.Unknown, scene.Ask("rain next 24 hours at most 5 mm", Start + Duration.FromDays(90)).Holds);
        Assert.Equal(Truth.Unknown, scene.Ask("rain past 24 hours at most 5 mm", Start - Duration.FromDays(900)).Holds);
    }

    [Fact]
    public void Without_any_weather_days_are_still_counted()
    {
        var scene = Scenes.Of(Scenes.At(1970, 1, 1), [], moments: Moments.None.With(Milestone.Sown, new LocalDate(2026, 5, 1)));
        var verdict = scene.Ask("days since sown at least 10 days", Scenes.At(2026, 5, 8, 6));
        Assert.Equal((Truth.No, 7.0, Scenes.At(2026, 5, 11)), (verdict.Holds, verdict.Value, verdict.NextChange));
        Assert.Equal(Truth.Unknown, scene.Ask("rain today at least 1 mm", Scenes.At(2026, 5, 8)).Holds);
    }

    [Theory]
    [InlineData("rain next 60 hours at least 6 mm", 6.0, Truth.Yes)] // sixty tenths are not quite six in binary
    [InlineData("rain next 60 hours above 6 mm", 6.0, Truth.No)]
    [InlineData("rain next 60 hours at most 6 mm", 6.0, Truth.Yes)]
    [InlineData("rain next 60 hours below 6 mm", 6.0, Truth.No)]
    [InlineData("rain next 60 hours between 6 mm and 7 mm", 6.0, Truth.Yes)]
    [InlineData("rain next 60 hours between 5 mm and 6 mm", 6.0, Truth.Yes)]
    public void A_sum_of_tenths_that_equals_the_limit_counts_as_equal(string phrase, double value, Truth expected)
    {
        var verdict = Scenes.Of(Start, Scenes.Hours(100, _ => 0.1)).Ask(phrase, Start);
        Assert.Equal(expected, verdict.Holds);
        Assert.Equal(value, verdict.Value!.Value, 1e-9);
    }

    [Theory]
    [InlineData("all of ()", Truth.Yes)]
    [InlineData("any of ()", Truth.No)]
    [InlineData("none of ()", Truth.Yes)]
    [InlineData("all of (YES; UNKNOWN)", Truth.Unknown)]
    [InlineData("all of (NO; UNKNOWN)", Truth.No)]
    [InlineData("any of (YES; UNKNOWN)", Truth.Yes)]
    [InlineData("any of (NO; UNKNOWN)", Truth.Unknown)]
    [InlineData("none of (YES; UNKNOWN)", Truth.No)]
    [InlineData("none of (NO; UNKNOWN)", Truth.Unknown)]
    [InlineData("none of (NO; all of (YES; any of (NO; NO)))", Truth.Yes)]
    public void What_is_unknown_decides_nothing(string composed, Truth expected)
    {
        string phrase = composed
            .Replace("UNKNOWN", "air mean next 24 hours at most 4 °C", StringComparison.Ordinal)
            .Replace("YES", "rain next 5 hours at least 1 mm", StringComparison.Ordinal)
            .Replace("NO", "rain next 5 hours at least 99 mm", StringComparison.Ordinal);
        Assert.Equal(expected, HalfKnown().Ask(phrase, Start).Holds);
    }

    [Fact]
    public void The_next_change_is_the_first_hour_at_which_the_answer_differs_and_never_the_end_of_the_forecast()
    {
        var scene = Scenes.Of(Start, Scenes.Hours(100, i => i == 50 ? 8 : 0));
        var verdict = scene.Ask("rain next 24 hours at least 6 mm", Start + Duration.FromHours(3));
        Assert.Equal((Truth.No, Start + Duration.FromHours(26)), (verdict.Holds, verdict.NextChange));
        var then = scene.Ask("rain next 24 hours at least 6 mm", Start + Duration.FromHours(26));
        Assert.Equal((Truth.Yes, Start + Duration.FromHours(50)), (then.Holds, then.NextChange));
        Assert.Null(scene.Ask("rain next 24 hours at least 6 mm", Start + Duration.FromHours(60)).NextChange);
    }

    [Fact]
    public void A_course_tells_at_each_hour_what_asking_at_that_hour_tells() =>
        Gen.Select(Gen.OneOf([.. PublishedPhraseTests.Rows.Select(row => row.Phrase)]), Gen.Int[0, 59], Gen.Int[0, int.MaxValue]).Sample((phrase, minute, seed) =>
        {
            var chance = new Random(seed);
            var scene = Scenes.Of(Start, Scenes.Hours(240, i => chance.Next(12) == 0 ? double.NaN : Math.Round(chance.NextDouble() * 20 - 3, 1)), "Europe/Berlin",
                moments: Moments.None.With(Milestone.Sown, new LocalDate(2026, 4, 20)).WithUsualFrosts(new(5, 10), new(10, 10)));
            var from = Start + Duration.FromHours(30) + Duration.FromMinutes(minute);
            var course = Evaluate.Course(Scenes.Read(phrase), from, 120, scene);
            for (int i = 0; i < 120; i += 7)
                Assert.Equal(Evaluate.Holds(Scenes.Read(phrase), from + Duration.FromHours(i), scene), course[i]);
        }, iter: 1000);

    [Fact]
    public void In_turn_the_second_is_asked_from_the_end_of_the_first()
    {
        var scene = Scenes.Of(Start, Scenes.Hours(100, i => i is 3 or 30 ? 8 : 0));
        const string Phrase = "dry next 4 hours, then rain next 24 hours at least 6 mm";
        Assert.Equal(Truth.No, scene.Ask(Phrase, Start).Holds);
        Assert.Equal(Truth.Yes, scene.Ask(Phrase, Start + Duration.FromHours(3)).Holds);
        Assert.Equal(Truth.Yes, scene.Ask(Phrase, Start + Duration.FromHours(25)).Holds);
        Assert.Equal(Truth.No, scene.Ask(Phrase, Start + Duration.FromHours(26)).Holds);
        Assert.Equal(Truth.Unknown, scene.Ask(Phrase, Start + Duration.FromHours(80)).Holds);
    }

    [Fact]
    public void The_share_of_members_counts_those_in_which_all_of_it_holds()
    {
        Scene[] members = [.. Enumerable.Range(0, 20).Select(m => Scenes.Of(Start, Scenes.Hours(48, _ => m / 10.0)))];
        Assert.Equal(0.25, Evaluate.ShareOf(Scenes.Read("rain next 10 hours between 5 mm and 9 mm"), Start, members));
        Assert.Null(Evaluate.ShareOf(Scenes.Read("rain next 10 days at most 5 mm"), Start, [Scenes.Of(Start, [])]));
    }

    [Fact]
    public void Mornings_count_back_from_the_latest_one_of_eight_oclock()
    {
        // Warm on the mornings of 3, 4 and 5 May, cold on the 2nd; New York is at UTC-4.
        var scene = Scenes.Of(Start, Scenes.Hours(140, i => i >= 40 ? 16 : 4), "America/New_York");
        Assert.Equal(3, scene.Ask("soil mornings above 15 °C past 5 days at least 3 days", Scenes.At(2026, 5, 5, 12)).Value);
        Assert.Equal(2, scene.Ask("soil mornings above 15 °C past 5 days at least 3 days", Scenes.At(2026, 5, 5, 11, 59)).Value);
        Assert.Equal(0, scene.Ask("soil mornings above 15 °C past 5 days at least 3 days", Scenes.At(2026, 5, 2, 20)).Value);
    }
}
