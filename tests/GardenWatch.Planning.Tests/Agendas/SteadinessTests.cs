using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>Forecasts waver from run to run; advice once given does not come and go with them. The weather is invented.</summary>
public class SteadinessTests
{
    private const string Feeding = """
        chores:
          - chore: Spread granular fertiliser
            minutes: 15
            when:
              - rain total next 24 hours at least {enough: 6 mm}
            caution: product label
        """;

    private const string Tomatoes = """
        beds:
          - { bed: low bed, size: 2 m x 2 m, cover: medium fleece }
        plantings:
          - { crop: tomato, bed: low bed, set out: 15 May, plants: 6 }
        """;

    private static Scenario Rain(double mm) => Scenario.On(2026, 6, 10).Plan(Feeding)
        .Days(WeatherVariable.Rain, 0, 0, at => at.Hour is > 21 and <= 23 ? mm / 2 : 0);

    private static LastSaid After(Agenda agenda) => LastSaid.Nothing.After(agenda);

    [Fact]
    public void A_job_of_this_morning_does_not_vanish_for_tenths_of_a_millimetre()
    {
        var morning = After(Rain(6.1).At());
        var later = Rain(5.7).Said(morning).At("16:00");
        var job = Assert.Single(later.Jobs, job => job.Kind == JobKind.Spread);

        Assert.Equal(Standing.Now, job.Standing);
        var kept = Assert.Single(job.Reasons, reason => reason.Code == "kept");
        Assert.Contains("As said before", kept.Text, StringComparison.Ordinal);
        Assert.Contains("5.7 of 6 mm", kept.Text.Replace('\u00A0', ' '), StringComparison.Ordinal);
    }

    [Fact]
    public void It_goes_when_the_rain_really_stays_away()
    {
        var job = Assert.Single(Rain(4).Said(After(Rain(6.1).At())).At("16:00").Jobs, job => job.Kind == JobKind.Spread);

        Assert.NotEqual(Standing.Now, job.Standing);
    }

    [Fact]
    public void What_was_never_said_must_hold_strictly() =>
        Assert.NotEqual(Standing.Now, Assert.Single(Rain(5.7).At("16:00").Jobs, job => job.Kind == JobKind.Spread).Standing);

    [Fact]
    public void Over_two_hundred_wavering_forecasts_advice_turns_at_most_once()
    {
        var random = new Random(11);
        int withMemory = 0, without = 0;
        var said = LastSaid.Nothing;
        bool? wasNow = null, wasStrictly = null;
        for (int look = 0; look < 200; look++)
        {
            double mm = 6 + (random.NextDouble() - 0.5);
            bool now = IsNow(Rain(mm).Said(said).At("16:00"), out var agenda);
            bool strictly = IsNow(Rain(mm).At("16:00"), out _);
            withMemory += wasNow is { } before && before != now ? 1 : 0;
            without += wasStrictly is { } beforeStrictly && beforeStrictly != strictly ? 1 : 0;
            (wasNow, wasStrictly) = (now, strictly);
            said = said.After(agenda);
        }

        Assert.InRange(withMemory, 0, 1);
        Assert.True(without > 50, $"Without memory it turned only {without} times, so this tests nothing.");

        static bool IsNow(Agenda agenda, out Agenda same) =>
            (same = agenda).Jobs.Any(job => job is { Kind: JobKind.Spread, Standing: Standing.Now });
    }

    [Theory]
    [InlineData(0.3, true)]
    [InlineData(2, false)]
    public void A_cover_of_this_morning_stands_in_the_evening_unless_the_night_has_turned_clearly_milder(double warmer, bool stands)
    {
        Scenario Night(double low) => Scenario.On(2026, 5, 20).Plan(Tomatoes)
            .Hourly(WeatherVariable.CloudCover, _ => 100).Hourly(WeatherVariable.Wind, _ => 6)
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(low, 16));

        // The lowest forecast low at which nothing is said, found by asking.
        double limit = Enumerable.Range(0, 80).Select(step => step / 10.0 - 1)
            .First(low => Night(low).At("16:00").Jobs.All(job => job.Kind != JobKind.Cover));
        var morning = After(Night(limit - 0.2).At());
        var evening = Night(limit - 0.1 + warmer).Said(morning).At("16:00");

        Assert.Equal(stands, evening.Jobs.Any(job => job is { Kind: JobKind.Cover, Standing: Standing.Now }));
    }
}
