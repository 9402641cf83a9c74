using System.Globalization;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tests.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Crops;

/// <summary>
/// The jobs that begin each crop, asked on each morning of a measured year: a maritime one (De Bilt 2000), a continental one with a
/// hot summer (Manhattan, Kansas, 2014), and the maritime one moved to the other hemisphere and half a year.
/// </summary>
public sealed class CropYearTests(ITestOutputHelper output)
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);
    // Windows look a week back and a week ahead.
    private const int Margin = 10;

    [Fact]
    public void Every_crop_can_be_begun_somewhere_in_time_to_be_picked()
    {
        var maritime = Maritime(southern: false);
        var continental = Continental();
        var never = new List<string>();
        foreach (var crop in Shelf.Crops)
        {
            int best = 0;
            foreach (var job in Beginning(crop))
            {
                var (cool, hot) = (Open(job, maritime), Open(job, continental));
                best = Math.Max(best, Math.Max(cool.Count, hot.Count));
                output.WriteLine($"{crop.Name,-20} {job.Kind.Word(),-14} maritime {Told(cool, maritime),-30} continental {Told(hot, continental)}");
            }
            if (best < 10)
                never.Add(crop.Name);
        }
        Assert.Empty(never);
    }

    [Fact]
    public void The_same_weather_half_a_year_on_opens_the_same_days_in_the_other_hemisphere()
    {
        var (north, south) = (Maritime(southern: false), Maritime(southern: true));
        foreach (var crop in Shelf.Crops)
        {
            foreach (var job in Beginning(crop))
            {
                var (there, here) = (Open(job, north), Open(job, south));
                // Usual frosts fall on whole dates of years that are no mirror of each other.
                Assert.True(there.Except(here).Count() + here.Except(there).Count() <= 6, $"{crop.Name} {job.Kind.Word()}: {Told(there, north)}, {Told(here, south)}");
            }
        }
    }

    [Fact]
    public void Tender_crops_are_not_set_out_into_frost()
    {
        foreach (var year in (Year[])[Maritime(southern: false), Continental()])
        {
            foreach (var crop in Shelf.Crops.Where(crop => crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender))
            {
                foreach (var job in Beginning(crop).Where(job => job.Kind == JobKind.SetOut))
                {
                    var open = Open(job, year);
                    int struck = open.Count(day => Enumerable.Range(day * 24, 7 * 24).Any(hour => year.Air[hour] <= crop.CriticalLows[FrostStage.Seedlings].Celsius));
                    Assert.True(struck == 0, $"{crop.Name}: {struck} of {open.Count} days, {Told(open, year)}");
                }
            }
        }
    }

    private static IEnumerable<JobTemplate> Beginning(CropProfile crop) => crop.Jobs.Where(job => job.Kind is JobKind.Sow or JobKind.StartIndoors or JobKind.SetOut);

    private static List<int> Open(JobTemplate job, Year year) =>
        [.. Enumerable.Range(Margin, year.Air.Length / 24 - 2 * Margin).Where(day =>
        {
            var morning = year.Start + Duration.FromHours(24 * day + 9);
            bool Is(Condition condition, Truth truth) => Evaluate.Holds(condition, morning, year.Scene) == truth;
            return job.Conditions.When.All(need => Is(need, Truth.Yes)) && !job.Conditions.Unless.Any(bar => Is(bar, Truth.Yes)) && !job.Conditions.By.Any(end => Is(end, Truth.Yes));
        })];

    private static string Told(List<int> open, Year year) => open.Count == 0
        ? "never"
        : string.Create(CultureInfo.InvariantCulture, $"{open.Count,3} d {year.Date(open[0]):d MMM} to {year.Date(open[^1]):d MMM}");

    private sealed record Year(Instant Start, double[] Air, Scene Scene, AnnualDate FirstFrost)
    {
        public LocalDate Date(int day) => (Start + Duration.FromDays(day)).InUtc().Date;

        public int Day(AnnualDate date) => Period.DaysBetween(Date(0), date.InYear(Date(0).Year));
    }

    private static Year Maritime(bool southern)
    {
        var rows = MeasuredRecord.RowsOf("debilt_hourly_2000.csv");
        double[] air = MeasuredRecord.Column(rows, 1), rain = MeasuredRecord.Column(rows, 4), gust = Array.ConvertAll(MeasuredRecord.Column(rows, 7), kmh => kmh / 3.6);
        // Open ground follows the air of some days. Common practice.
        double[] soil = [.. Enumerable.Range(0, air.Length).Select(hour => air[Math.Max(0, hour - 96)..(hour + 1)].Average() + 1)];
        return southern
            ? Of(Instant.FromUtc(2000, 7, 2, 0, 0), air, rain, gust, soil, new(10, 20), new(5, 4), new(-52.1, 5.18, 2))
            : Of(Instant.FromUtc(2000, 1, 1, 0, 0), air, rain, gust, soil, new(4, 20), new(11, 2), new(52.1, 5.18, 2));
    }

    private static Year Continental()
    {
        string[][] rows = [.. MeasuredRecord.RowsOf("uscrn_manhattan_ks_daily_2010_2016.csv").Where(row => row[2].StartsWith("2014", StringComparison.Ordinal))];
        double[] low = MeasuredRecord.Column(rows, 3), high = MeasuredRecord.Column(rows, 4), fell = MeasuredRecord.Column(rows, 6), ground = MeasuredRecord.Column(rows, 12);
        int hours = rows.Length * 24;
        double[] air = Scenes.Hours(hours, hour => (low[hour / 24] + high[hour / 24]) / 2 + (high[hour / 24] - low[hour / 24]) / 2 * Math.Cos((hour % 24 - 15) * Math.PI / 12));
        double[] rain = Scenes.Hours(hours, hour => hour % 24 is >= 16 and < 20 ? fell[hour / 24] / 4 : 0);
        return Of(Instant.FromUtc(2014, 1, 1, 0, 0), air, rain, Scenes.Hours(hours, _ => 6), Scenes.Hours(hours, hour => ground[hour / 24]),
            new(4, 20), new(10, 14), new(39.1, -96.61, 347));
    }

    private static Year Of(Instant start, double[] air, double[] rain, double[] gust, double[] soil, AnnualDate lastFrost, AnnualDate firstFrost, GeoPosition place) => new(start, air, Scenes.Of(
        start, air.Length, variable => variable switch
        {
            WeatherVariable.Rain => rain,
            WeatherVariable.Gust => gust,
            WeatherVariable.SoilAt6Cm => soil,
            WeatherVariable.Snowfall => Scenes.Hours(air.Length, _ => 0),
            _ => air,
        }, moments: Moments.None.WithUsualFrosts(lastFrost, firstFrost), place: place), firstFrost);
}
