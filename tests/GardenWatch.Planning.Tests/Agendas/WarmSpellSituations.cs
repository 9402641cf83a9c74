using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>Soil that a warm spell has warmed is no soil to sow into when the cold comes back before the seed is up. The weather is invented.</summary>
public class WarmSpellSituations
{
    private static readonly AnnualDate NewYear = new(1, 1);

    /// <summary>Warm for ten days until the day of the look and some days after; then as cold as is said.</summary>
    private static Scenario Spell(int month, int warmDaysAhead, double coldLow, double coldHigh) => Scenario.On(2026, month, 3).Plan("""
        beds:
          - { bed: kitchen bed, size: 2 m x 2 m }
        plantings:
          - { crop: pea, bed: kitchen bed }
        """)
        .Hourly(WeatherVariable.Radiation, _ => 60)
        .Hourly(WeatherVariable.CloudCover, _ => 90)
        .Hourly(WeatherVariable.Air, Scenario.Between(coldLow, coldHigh))
        .Days(WeatherVariable.Air, -10, warmDaysAhead, Scenario.Between(6, 14));

    private static Job Sowing(Agenda agenda) => Assert.Single(agenda.Jobs, job => job.Kind == JobKind.Sow);

    [Fact]
    public void Peas_wait_where_the_soil_is_warm_today_and_cold_again_in_two_days()
    {
        var job = Sowing(Spell(3, warmDaysAhead: 1, -3, 3).At());

        Assert.Equal(Standing.Waiting, job.Standing);
        Assert.Contains(job.Needs, need => need.Condition == "lasting warmth" && need.Sentence.Contains("does not last", StringComparison.Ordinal));
    }

    [Fact]
    public void Peas_are_sown_where_the_warmth_stays() =>
        Assert.Equal(Standing.Now, Sowing(Spell(3, warmDaysAhead: 16, -3, 3).At()).Standing);

    [Fact]
    public void One_cold_night_in_a_warm_week_stops_nobody() =>
        Assert.Equal(Standing.Now, Sowing(Spell(3, warmDaysAhead: 16, -3, 3).Days(WeatherVariable.Air, 3, 3, Scenario.Between(-2, 8)).At()).Standing);

    [Fact]
    public void A_warm_fortnight_in_January_is_no_spring_where_past_years_are_known()
    {
        var job = Sowing(Spell(1, warmDaysAhead: 16, -3, 3).Climate(Normals(coldestC: -2, warmestC: 22)).At());

        Assert.Equal(Standing.Waiting, job.Standing);
        var need = Assert.Single(job.Needs, need => need.Condition == "lasting warmth");
        Assert.Contains("before its time", need.Sentence, StringComparison.Ordinal);
        Assert.InRange(need.Likely!.Start, new(2026, 2, 15), new(2026, 4, 10));
    }

    [Fact]
    public void The_same_fortnight_in_the_usual_weeks_of_spring_is_for_sowing() =>
        Assert.Equal(Standing.Now, Sowing(Spell(4, warmDaysAhead: 16, -3, 3).Climate(Normals(coldestC: -2, warmestC: 22)).At()).Standing);

    [Fact]
    public void What_was_asked_for_yesterday_is_not_taken_back_for_half_a_kelvin()
    {
        var yesterday = new Said(new(2026, 3, 2), new(2026, 3, 2), Standing.Now, null);
        int kept = 0;
        for (double low = 1.2; low < 2.6; low += 0.2)
        {
            Scenario Mild() => Spell(3, warmDaysAhead: -1, low, low + 5);
            var anew = Sowing(Mild().At());
            var told = Sowing(Mild().Said(LastSaid.Nothing with { Jobs = LastSaid.Nothing.Jobs.Add(anew.Id, yesterday) }).At());
            Assert.False(anew.Standing == Standing.Now && told.Standing != Standing.Now);
            kept += anew.Standing != Standing.Now && told.Standing == Standing.Now ? 1 : 0;
        }
        Assert.InRange(kept, 1, 5);
    }

    private static ClimateSummary Normals(double coldestC, double warmestC)
    {
        var never = new UsualDate(NewYear, null, null, null, 0, 30);
        return new(
            NewYear, 1991, 2020, 30, [new(false, 0, new(NewYear, 100, 110, 125, 30, 30), new(NewYear, 280, 290, 300, 30, 30))],
            [new SoilWarm(5, false, 5, never)], [], [], [.. Enumerable.Repeat(20.0, 52)], [.. Enumerable.Repeat(15.0, 52)],
            [.. Enumerable.Range(0, 365).Select(day => (coldestC + warmestC) / 2 - (warmestC - coldestC) / 2 * Math.Cos((day - 20) * 2 * Math.PI / 365)).Select(mean => new NormalAir(mean - 5, mean, mean + 5))]);
    }
}
