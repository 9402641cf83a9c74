using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Readings;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Planning.Tests.Readings;

/// <summary>What the gardener's own readings change in the morning's agenda.</summary>
public sealed class CorrectionsTests
{
    private const string Beds = """
        beds:
          - { bed: kitchen bed }
          - { bed: low bed, frost pocket: 2 °C }
          - { bed: sill, over: windowsill }
        """;

    private static readonly LocalDate Day = new(2026, 4, 21);

    private static JournalEntry Reading(ReadingKind kind, int daysAgo, double value, double? modelled, string? bed = null, double? clear = null) =>
        new(EntryKind.Reading, Day.PlusDays(-daysAgo), Scenario.Calendar.At(Day.PlusDays(-daysAgo), new(5, 0)), null, bed, null, null)
        {
            Id = $"{kind}-{daysAgo}-{value}-{bed}",
            BedId = bed,
            Measure = kind,
            Value = value,
            Modelled = modelled,
            ClearAndCalm = clear,
        };

    private static double? SoilOf(string bed, params JournalEntry[] entries) =>
        Scenario.On(2026, 4, 21).Plan(Beds).Wrote(entries).At().Beds.Single(each => each.Name == bed).SoilC;

    [Fact]
    public void A_probe_in_one_bed_moves_the_soil_of_that_bed_alone_and_one_of_the_garden_that_of_the_others()
    {
        double? before = SoilOf("kitchen bed");
        Assert.NotNull(before);
        var inLowBed = Enumerable.Range(0, 8).Select(day => Reading(ReadingKind.Soil, day, 13, 10, "low-bed")).ToArray();
        var inGarden = Enumerable.Range(0, 8).Select(day => Reading(ReadingKind.Soil, day, 8, 10)).ToArray();

        Assert.Equal(before, SoilOf("kitchen bed", inLowBed));
        Assert.InRange(SoilOf("low bed", inLowBed)!.Value - before.Value, 2.2, 2.6); // 8 days of 3 K beside two of nothing: 2.4
        Assert.InRange(SoilOf("kitchen bed", [.. inLowBed, .. inGarden])!.Value - before.Value, -1.8, -1.4);
        Assert.InRange(SoilOf("low bed", [.. inLowBed, .. inGarden])!.Value - before.Value, 2.2, 2.6);
    }

    [Fact]
    public void A_reading_counts_from_when_it_was_recorded_until_it_is_taken_back_or_reset()
    {
        var reading = Reading(ReadingKind.Soil, 0, 13, 10);
        var at = reading.RecordedAt;
        var undo = new JournalEntry(EntryKind.Undo, Day, at + Duration.FromHours(1), null, null, null, null) { Id = "u-1", Undoes = reading.Id };
        var reset = new JournalEntry(EntryKind.Reset, Day, at + Duration.FromHours(1), null, null, null, null) { Id = "r-1", Measure = ReadingKind.Soil };

        double? Learned(Instant asOf, params JournalEntry[] entries) => Corrections.Of(Journal.AsOf(entries, asOf), asOf).SoilOf(null)?.Kelvins;

        Assert.Null(Learned(at - Duration.FromSeconds(1), reading));
        Assert.Equal(1, Learned(at, reading)!.Value, 0.01);
        Assert.Null(Learned(at + Duration.FromHours(2), reading, undo));
        Assert.Null(Learned(at + Duration.FromHours(2), reading, reset));
        Assert.NotNull(Learned(at + Duration.FromHours(2), reading, reset, Reading(ReadingKind.Soil, 0, 12, 10) with { RecordedAt = at + Duration.FromHours(2) }));
        // What the model did not know teaches nothing.
        Assert.Null(Learned(at, reading with { Modelled = null }));
    }

    [Fact]
    public void A_thermometer_in_a_hollow_brings_the_frost_there_forward()
    {
        var nights = Enumerable.Range(1, 10).Select(day => Reading(ReadingKind.AirLow, day, 1, 4, "low-bed", clear: 1)).ToArray();
        var corrections = Corrections.Of(Journal.AsOf(nights, Scenario.Calendar.At(Day, new(6, 0))), Scenario.Calendar.At(Day, new(6, 0)));
        var plan = Scenario.On(2026, 4, 21).Plan(Beds).ReadPlan();

        Assert.InRange(corrections.FrostPocketOf(plan.BedOf("low-bed")).Kelvins, 2.5, 3);
        Assert.Equal(0, corrections.FrostPocketOf(plan.BedOf("kitchen-bed")).Kelvins);
        Assert.Equal(0, corrections.FrostPocketOf(plan.BedOf("sill")).Kelvins);
    }

    [Fact]
    public void The_gauge_has_the_last_word_on_the_rain_of_its_day()
    {
        double RainOfWeek(params JournalEntry[] entries) => Scenario.On(2026, 4, 21).Plan(Beds).Wrote(entries)
            .Hourly(WeatherVariable.Rain, at => at.Hour is >= 8 and < 12 && at.Date == Day.PlusDays(-3) ? 3 : 0)
            .At().Beds[0].RainPastWeekMm!.Value;
        JournalEntry Gauge(int daysAgo, double mm, double modelled) => Reading(ReadingKind.Rain, daysAgo, mm, modelled) with { RecordedAt = Scenario.Calendar.At(Day, new(5, 30)) };

        Assert.Equal(12, RainOfWeek(), 1e-6);
        // No factor is learned where one of the two had next to nothing.
        Assert.Equal(0, RainOfWeek(Gauge(3, 0, 12)), 1e-6);
        Assert.Equal(17, RainOfWeek(Gauge(1, 5, 0)), 1e-6);
        Assert.Equal(20, RainOfWeek(Gauge(3, 20, 12)), 1e-6);
    }

    [Fact]
    public void Runs_of_the_ensemble_share_the_measured_past()
    {
        var entry = Reading(ReadingKind.Rain, 1, 9, 0);
        var agenda = Scenario.On(2026, 4, 21).Plan(Beds).Wrote(entry).RunsAsForecast(5).At();
        Assert.Equal(9, agenda.Beds[0].RainPastWeekMm!.Value, 1e-6);
        Assert.All(agenda.Week.Skip(1).Take(5), day => Assert.Equal(0, day.RainChance));
    }
}
