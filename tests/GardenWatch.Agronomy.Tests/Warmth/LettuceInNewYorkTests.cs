using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Warmth;

/// <summary>
/// What a mid-Atlantic gardener of zone 7b says of spring lettuce, against four years of measured days at New York: a
/// butterhead is ready 40 to 50 days from sowing in good spring weather, up in one to two weeks in cool soil, and begins to
/// bolt about the middle of May.
/// </summary>
public class LettuceInNewYorkTests
{
    private static readonly GeoPosition NewYork = new(40.78, -73.97, 40);
    private static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["America/New_York"];
    private static readonly PublishedTable.Row Leaf = PublishedTable.Case("lettuce.csv", "crop", "Lettuce (leaf)");
    private static readonly PublishedTable.Row Head = PublishedTable.Case("lettuce.csv", "crop", "Lettuce (head)");

    private readonly double[] _min = [.. PublishedTable.Rows("new-york-days.csv").Select(row => row.Number("min_c"))];
    private readonly double[] _max = [.. PublishedTable.Rows("new-york-days.csv").Select(row => row.Number("max_c"))];
    private readonly LocalDate _first = new(2012, 1, 1);
    private readonly double[] _warmth;

    public LettuceInNewYorkTests()
    {
        Assert.Equal(1461, _min.Length);
        Assert.Equal(new LocalDate(2015, 12, 31), Stations.DateOf(PublishedTable.Rows("new-york-days.csv")[^1]));
        _warmth = new double[_min.Length];
        DegreeDays.Average(_min, _max, _warmth, Leaf.Number("base_temp_c"), Leaf.Number("upper_temp_c"));
    }

    // No table of ours has a sum for butterhead. 45 days in the middle of the months that the tables call good growth make one:
    // 583 °C days over 4 °C.
    private static double Butterhead =>
        45 * ((Leaf.Number("growth_opt_low_c") + Leaf.Number("growth_opt_high_c")) / 2 - Leaf.Number("base_temp_c"));

    [Fact]
    public void Butterhead_is_ready_40_to_50_days_from_sowing_in_good_spring_weather()
    {
        List<int> days = [];
        foreach (var sown in Sowings(new(3, 1), new(6, 1)))
        {
            double mean = MeanAir(sown, 45);
            if (mean >= Leaf.Number("growth_opt_low_c") && mean <= Leaf.Number("growth_opt_high_c"))
                days.Add(DaysTo(sown, Butterhead));
        }
        Assert.InRange(days.Count, 40, 100); // ten to twenty-five sowing days in each spring
        Assert.InRange(days.Min(), 39, 45);
        Assert.InRange(days.Max(), 45, 51);
        Assert.InRange(days.Average(), 44, 46);
    }

    [Fact]
    public void Sown_in_March_it_takes_far_longer_and_in_late_May_less()
    {
        foreach (int year in new[] { 2012, 2013, 2014, 2015 })
        {
            Assert.InRange(DaysTo(new(year, 3, 15), Butterhead), 60, 85);
            Assert.InRange(DaysTo(new(year, 5, 20), Butterhead), 33, 40);
        }
    }

    [Fact]
    public void The_published_sum_for_crisp_heads_is_not_a_butterheads()
    {
        // Paredes et al. 2025: 985 to 1290 °C days; 60 to 80 days from transplanting at four to six weeks.
        double least = double.Parse(Head["gdd_to_maturity_c"].Split('-')[0], System.Globalization.CultureInfo.InvariantCulture);
        foreach (var sown in Sowings(new(4, 15), new(5, 10)))
            Assert.InRange(DaysTo(sown, least), 55, 80);
    }

    [Fact]
    public void In_cool_spring_soil_it_is_up_in_one_to_two_weeks()
    {
        var calendar = new LocalCalendar(Zone, NewYork);
        var (start, air) = DailyToHourly.Air(_min, _max, _first, calendar);
        var weather = TestSeries.Of(start, air.Length, (WeatherVariable.Air, i => air[i]));
        double[] soil = SoilTemperature.Hourly(weather, NewYork, 0.05, SoilSurface.TendedGround);
        var curve = new EmergenceCurve(PublishedTable.Rows("germination-days.csv")
            .Where(row => row["crop"] == "Lettuce" && row["variant"] == "Knott 1997")
            .Select(row => new EmergenceTrial(row.Number("soil_temp_c"), row["status"] == "days" ? row.Number("days_to_emergence") : null)));
        List<double> days = [];
        foreach (var sown in Sowings(new(3, 1), new(4, 30)))
        {
            int hour = weather.FirstAtOrAfter(calendar.At(sown, new(9, 0)));
            // Cool: the three days before at 5 °C, where sowing begins, to 10 °C.
            double before = soil[(hour - 72)..hour].Average();
            if (before is < 5 or > 10)
                continue;
            int hours = 1;
            while (curve.After(soil.AsSpan(hour, hours)).Done < 1)
                hours++;
            days.Add(hours / 24.0);
        }
        days.Sort();
        Assert.InRange(days.Count, 40, 100);
        Assert.InRange(days[days.Count / 2], 7, 14);
        // A warm spell right after sowing (the last days of March 2012) brings it up in five days, nothing keeps it past two weeks.
        Assert.InRange(days[days.Count / 10], 5, 8);
        Assert.InRange(days[^1], 10, 15);
    }

    [Fact]
    public void About_the_middle_of_May_days_grow_long_and_warm_past_what_keeps_it_from_bolting()
    {
        // The tables give bolting no sum: heat with long days brings the stalk. It may begin when days of 14 hours meet a
        // week at the foot of the months of good growth, and is under way when a week passes their top.
        foreach (int year in new[] { 2012, 2013, 2014, 2015 })
        {
            var begins = FirstDay(year, day => DayHours(day) >= 14 && MeanAir(day.PlusDays(-6), 7) >= Leaf.Number("growth_opt_low_c"));
            var underWay = FirstDay(year, day => DayHours(day) >= 14 && MeanAir(day.PlusDays(-6), 7) > Leaf.Number("growth_opt_high_c"));
            Assert.InRange(begins, new LocalDate(year, 5, 1), new LocalDate(year, 5, 15));
            Assert.InRange(underWay, new LocalDate(year, 5, 10), new LocalDate(year, 6, 5));
            // Where the trade's date lies, give or take five days.
            Assert.True(begins <= new LocalDate(year, 5, 20) && underWay >= new LocalDate(year, 5, 10));
        }
    }

    private static IEnumerable<LocalDate> Sowings(AnnualDate from, AnnualDate until) =>
        Enumerable.Range(2012, 4).SelectMany(year => new DateInterval(from.InYear(year), until.InYear(year)));

    private int DaysTo(LocalDate sown, double neededCd) =>
        1 + Enumerable.Range(0, 365).First(day => _warmth.Skip(Period.DaysBetween(_first, sown)).Take(day + 1).Sum() >= neededCd);

    private double MeanAir(LocalDate from, int days)
    {
        int at = Period.DaysBetween(_first, from);
        return Enumerable.Range(at, days).Average(i => (_min[i] + _max[i]) / 2);
    }

    private static double DayHours(LocalDate date) => Sun.Course(NewYork, date, Zone).DayLength.TotalHours;

    private static LocalDate FirstDay(int year, Func<LocalDate, bool> holds) =>
        Enumerable.Range(0, 200).Select(day => new LocalDate(year, 3, 1).PlusDays(day)).First(holds);
}
