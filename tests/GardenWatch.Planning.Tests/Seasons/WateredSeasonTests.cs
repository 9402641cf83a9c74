using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>How often a measured summer asks for water, and how dry the beds are then.</summary>
public class WateredSeasonTests(ITestOutputHelper output)
{
    private const string Garden = """
        beds:
          - { bed: top bed, id: top, size: 2 m x 3 m, soil: loam }
          - { bed: sandy bed, id: sandy, size: 2 m x 3 m, soil: sand }
          - { bed: salad bed, id: salad, size: 1 m x 3 m, soil: silt loam }
          - { bed: film house, id: film, size: 2 m x 4 m, soil: loam, over: tunnel }
          - { bed: big pot, id: pot, container: 40 litres }
        plantings:
          - { crop: tomato, bed: top bed, set out: 20 May }
          - { crop: snap bean, bed: sandy bed, sown: 20 May }
          - { crop: lettuce, bed: salad bed, set out: 1 June }
          - { crop: cucumber, bed: film house, set out: 20 May }
          - { crop: tomato, bed: big pot, set out: 20 May }
        """;

    [Fact]
    public void De_Bilts_summer_of_2000_asks_seldom_in_the_open_and_a_bed_that_is_kept_does_not_run_dry()
    {
        var answered = Play((_, job) => job.Kind == JobKind.Water ? EntryKind.Done : null);
        var silent = Play((_, _) => null);

        // Who answers and who never does is asked about equally often: nothing grows behind a silence.
        foreach (string bed in answered.Keys)
            Assert.InRange(silent[bed].Waterings, answered[bed].Waterings - 4, answered[bed].Waterings + 4);
        Assert.InRange(answered["top"].Waterings, 1, 12);
        Assert.True(answered["sandy"].Waterings >= answered["top"].Waterings);
        Assert.True(answered["film"].Waterings >= answered["top"].Waterings);
        Assert.InRange(answered["pot"].Waterings, 6, 90);
        Assert.All(answered.Values, bed => Assert.True(bed.MostOverEasy < 1.3, $"{bed.MostOverEasy}"));
    }

    private sealed record Tally(int Waterings, double MeanDeficitMm, double MostDeficitMm, double MostOverEasy, double Litres);

    private Dictionary<string, Tally> Play(Func<LocalDate, Job, EntryKind?> answers)
    {
        var player = SeasonPlayer.Of(Garden, new(2000, 6, 1), new WithUse(MeasuredYear.DeBilt()), null);
        var days = player.Play(new(2000, 6, 1), new(2000, 9, 15), answers).ToList();
        var tally = new Dictionary<string, Tally>();
        foreach (var bed in player.Plan.Beds)
        {
            var jobs = days.SelectMany(day => day.Agenda.Jobs.Where(job => job.Kind == JobKind.Water && job.BedId == bed.Id && job.Standing == Standing.Now)).ToList();
            var deficits = jobs.Select(job => job.Reasons.Single(reason => reason.Code == "water-deficit").Values).ToList();
            Assert.Equal(jobs.Count, jobs.Select(job => job.Id).Distinct().Count());
            tally[bed.Id] = new(
                jobs.Count, deficits.Select(each => each["deficitMm"]).DefaultIfEmpty(0).Average(), deficits.Select(each => each["deficitMm"]).DefaultIfEmpty(0).Max(),
                deficits.Select(each => each["deficitMm"] / each["easilyHadMm"]).DefaultIfEmpty(0).Max(),
                jobs.Sum(job => job.Reasons.Single(reason => reason.Code == Reason.WaterToGive).Values["litres"]));
            output.WriteLine($"{bed.Name}: {tally[bed.Id].Waterings} waterings in 106 days, deficit met {tally[bed.Id].MeanDeficitMm:0.0} mm in the mean, {tally[bed.Id].MostDeficitMm:0.0} at most "
                + $"({tally[bed.Id].MostOverEasy:0.00} of what is easily had), {tally[bed.Id].Litres:0} litres");
        }
        return tally;
    }

    /// <summary>Reference use reckoned from what was measured (FAO-56 eq. 53), which the record of De Bilt does not hold.</summary>
    private sealed class WithUse(PlayedWeather measured) : PlayedWeather
    {
        public override LocalCalendar Calendar => measured.Calendar;

        public override WeatherSeries Between(LocalDate from, LocalDate until)
        {
            var series = measured.Between(from, until);
            double[] use = new double[series.Hours];
            EvapotranspirationHours.Fill(series, Calendar.Place, use);
            return series.With(
                new Dictionary<WeatherVariable, ImmutableArray<double>> { [WeatherVariable.ReferenceEvapotranspiration] = [.. use] },
                new(SourceKind.Forecast, "reckoned", series.Start), 0, series.Hours);
        }
    }
}
