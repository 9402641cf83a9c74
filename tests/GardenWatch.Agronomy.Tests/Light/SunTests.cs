using System.Globalization;
using CsCheck;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Agronomy.Tests.Light;

public class SunTests
{
    private const string File = "daylight.csv";

    // Printed for the UTC date, on which the set is that of the evening before in Colorado; tested apart below.
    private static readonly string[] OfTheEveningBefore = ["SUN-GOLDEN-SPA-2015-08-02-set", "DL-GOLDEN-SPA-2015-08-02"];

    public static TheoryData<string> Published =>
        PublishedTable.Ids(File, "id", row =>
            row["longitude"].Length > 0
            && !row["definition"].StartsWith("geometric", StringComparison.Ordinal)
            && !OfTheEveningBefore.Contains(row["id"]));

    [Theory]
    [MemberData(nameof(Published))]
    public void The_sun_keeps_the_published_times(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        var date = LocalDatePattern.Iso.Parse(row["date"]).Value;
        var zone = row["unit"].Contains("UTC-7", StringComparison.Ordinal) ? DateTimeZone.ForOffset(Offset.FromHours(-7)) : DateTimeZone.Utc;
        var place = new GeoPosition(row.Number("latitude"), row.Number("longitude"), 0);
        var course = row["definition"].StartsWith("civil", StringComparison.Ordinal)
            ? Sun.CivilTwilight(place, date, zone)
            : Sun.Course(place, date, zone);
        if (row["quantity"] == "daylength")
        {
            Assert.Equal(row.Number("expected"), course.DayLength.TotalHours, row.Number("tolerance"));
            return;
        }
        var ours = Assert.NotNull(row["quantity"] is "sunrise" or "civil_dawn" ? course.Rise : course.Set).InZone(zone);
        Assert.Equal(date, ours.Date);
        double printed = Seconds(row["expected"], out bool toTheMinute);
        double tolerance = Tolerance(row) + (toTheMinute ? 30 : 0);
        Assert.Equal(printed, ours.TimeOfDay.TickOfDay / (double)NodaConstants.TicksPerSecond, tolerance);
    }

    [Fact]
    public void A_set_printed_for_the_UTC_date_is_that_of_the_local_evening_before()
    {
        var row = PublishedTable.Case(File, "id", OfTheEveningBefore[0]);
        var zone = DateTimeZone.ForOffset(Offset.FromHours(-7));
        var set = Assert.NotNull(Sun.Course(new(row.Number("latitude"), row.Number("longitude"), 0), new(2015, 8, 1), zone).Set);
        Assert.Equal(new LocalDate(2015, 8, 2), set.InUtc().Date);
        double setSeconds = set.InZone(zone).TimeOfDay.TickOfDay / (double)NodaConstants.TicksPerSecond;
        Assert.Equal(Seconds(row["expected"], out _), setSeconds, 30.0);

        // The length of the same table runs from this morning's rise to that evening's set.
        var rise = Assert.NotNull(Sun.Course(new(row.Number("latitude"), row.Number("longitude"), 0), new(2015, 8, 2), zone).Rise);
        double riseSeconds = rise.InZone(zone).TimeOfDay.TickOfDay / (double)NodaConstants.TicksPerSecond;
        Assert.Equal(PublishedTable.Case(File, "id", OfTheEveningBefore[1]).Number("expected"), (setSeconds - riseSeconds) / 3600, 0.01);
    }

    [Theory]
    [InlineData("Jan", 1, 10.182)]
    [InlineData("Mar", 3, 11.985)]
    [InlineData("Jun", 6, 14.388)]
    [InlineData("Dec", 12, 9.928)]
    public void A_month_of_days_at_Los_Angeles_has_the_published_mean_length(string month, int number, double hours)
    {
        // US Naval Observatory, Duration of Daylight, rows DLM-LA of the table.
        Assert.Equal(hours, PublishedTable.Case(File, "id", $"DLM-LA-{month}").Number("expected"));
        var place = new GeoPosition(34.0833, -118.25, 0);
        var zone = DateTimeZone.ForOffset(Offset.FromHours(-8));
        // The table names no year; in March one day is worth 0.035 h. Four years have them all.
        double mean = Enumerable.Range(2024, 4)
            .SelectMany(year => Enumerable.Range(1, CalendarSystem.Iso.GetDaysInMonth(year, number)).Select(day => new LocalDate(year, number, day)))
            .Average(date => Sun.Course(place, date, zone).DayLength.TotalHours);
        Assert.Equal(hours, mean, 0.02);
    }

    [Theory]
    [InlineData(6, 21, 24)]
    [InlineData(12, 21, 0)]
    public void The_polar_sun_neither_rises_nor_sets(int month, int day, double hours)
    {
        var course = Sun.Course(new(78.22, 15.65, 10), new(2026, month, day), DateTimeZoneProviders.Tzdb["Arctic/Longyearbyen"]);
        Assert.Null(course.Rise);
        Assert.Null(course.Set);
        Assert.Equal(hours, course.DayLength.TotalHours);
    }

    [Fact]
    public void Days_are_long_in_june_north_and_in_december_south()
    {
        var north = Sun.Course(new(45, 0, 0), new(2026, 6, 21), DateTimeZone.Utc).DayLength;
        var south = Sun.Course(new(-45, 0, 0), new(2026, 12, 21), DateTimeZone.Utc).DayLength;
        Assert.InRange((north - south).TotalMinutes, -5, 5);
        Assert.True(north > Sun.Course(new(-45, 0, 0), new(2026, 6, 21), DateTimeZone.Utc).DayLength + Duration.FromHours(5));
    }

    [Fact]
    public void At_rise_and_set_the_sun_stands_where_the_definition_says() =>
        Gen.Select(Gen.Double[-60, 60], Gen.Double[-180, 180], Gen.Int[0, 3650]).Sample((latitude, longitude, day) =>
        {
            var place = new GeoPosition(latitude, longitude, 0);
            // The zone that a place's longitude suggests.
            var zone = DateTimeZone.ForOffset(Offset.FromHours((int)Math.Round(longitude / 15)));
            var date = new LocalDate(2020, 1, 1).PlusDays(day);
            var course = Sun.Course(place, date, zone);
            foreach (var instant in new[] { course.Rise, course.Set })
            {
                Assert.Equal(date, Assert.NotNull(instant).InZone(zone).Date);
                Assert.Equal(Sun.RiseAndSetAltitudeDegrees, Sun.AltitudeDegrees(instant!.Value, place), 0.01);
            }
        });

    [Fact]
    public void A_date_that_the_zone_left_out_has_no_sun()
    {
        var course = Sun.Course(new(-13.83, -171.77, 2), new(2011, 12, 30), DateTimeZoneProviders.Tzdb["Pacific/Apia"]);
        Assert.Equal(new(null, null, Duration.Zero), course);
    }

    private static double Seconds(string clock, out bool toTheMinute)
    {
        string[] parts = clock.Split(':');
        toTheMinute = parts.Length == 2;
        return parts.Zip([3600.0, 60, 1], (part, unit) => unit * int.Parse(part, CultureInfo.InvariantCulture)).Sum();
    }

    private static double Tolerance(PublishedTable.Row row) =>
        double.Parse(row["tolerance"].Split(' ')[0], CultureInfo.InvariantCulture);
}
