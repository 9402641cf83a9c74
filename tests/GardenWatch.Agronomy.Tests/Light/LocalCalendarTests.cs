using CsCheck;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Light;

public class LocalCalendarTests
{
    private static readonly LocalCalendar Berlin = In("Europe/Berlin", 52.5, 13.4);
    private static readonly LocalCalendar Svalbard = In("Arctic/Longyearbyen", 78.22, 15.65);
    private static readonly LocalCalendar Apia = In("Pacific/Apia", -13.83, -171.77);

    [Theory]
    [InlineData("Europe/Berlin", "2026-03-29", 23)]
    [InlineData("Europe/Berlin", "2026-10-25", 25)]
    [InlineData("Europe/Berlin", "2028-02-29", 24)]
    [InlineData("Australia/Lord_Howe", "2026-10-04", 23.5)]
    [InlineData("Australia/Lord_Howe", "2026-04-05", 24.5)]
    [InlineData("America/Santiago", "2026-09-06", 23)] // begins at one o'clock
    [InlineData("Pacific/Apia", "2011-12-29", 24)]
    [InlineData("Pacific/Apia", "2011-12-30", 0)]
    [InlineData("Pacific/Apia", "2011-12-31", 24)]
    public void A_day_has_the_hours_its_zone_gives_it(string zone, string date, double hours) =>
        Assert.Equal(hours, In(zone, 0, 0).DayOf(Date(date)).Duration.TotalHours);

    [Fact]
    public void Days_follow_each_other_without_gap_or_overlap()
    {
        foreach (var calendar in new[] { Berlin, Apia, In("Australia/Lord_Howe", -31.5, 159.1), In("America/Santiago", -33.4, -70.7) })
            for (var date = new LocalDate(2011, 1, 1); date < new LocalDate(2013, 1, 1); date = date.PlusDays(1))
                Assert.Equal(calendar.DayOf(date).End, calendar.DayOf(date.PlusDays(1)).Start);
    }

    [Fact]
    public void A_repeated_hour_means_the_first_and_a_missing_one_moves_on()
    {
        Assert.Equal(Instant.FromUtc(2026, 10, 25, 0, 30), Berlin.At(new(2026, 10, 25), new(2, 30)));
        Assert.Equal(Instant.FromUtc(2026, 3, 29, 1, 30), Berlin.At(new(2026, 3, 29), new(2, 30)));
    }

    [Fact]
    public void A_night_begins_at_sunset_and_ends_two_hours_after_sunrise()
    {
        var night = Berlin.NightOf(new(2026, 4, 20));
        // Berlin, 20 April 2026: sunset 20:10, sunrise of the 21st 5:55, summer time.
        Assert.InRange((night.Start - Instant.FromUtc(2026, 4, 20, 18, 10)).TotalMinutes, -4, 4);
        Assert.InRange((night.End - Instant.FromUtc(2026, 4, 21, 5, 55)).TotalMinutes, -4, 4);
        Assert.Equal(night, Berlin.NightOf(new(2026, 4, 20)));
    }

    [Theory]
    [InlineData(2026, 6, 21)]
    [InlineData(2026, 12, 21)]
    public void Where_the_sun_does_not_set_or_rise_the_night_is_from_six_to_nine(int year, int month, int day)
    {
        var night = Svalbard.NightOf(new(year, month, day));
        Assert.Equal(new LocalTime(18, 0), Svalbard.TimeOf(night.Start));
        Assert.Equal(new LocalTime(9, 0), Svalbard.TimeOf(night.End));
        Assert.Equal(15, night.Duration.TotalHours);
    }

    [Fact]
    public void Every_night_of_a_polar_year_is_a_night()
    {
        for (var date = new LocalDate(2026, 1, 1); date.Year == 2026; date = date.PlusDays(1))
            Assert.InRange(Svalbard.NightOf(date).Duration.TotalHours, 0.1, 26);
    }

    [Fact]
    public void The_night_over_a_date_that_was_left_out_ends_on_the_next_date_there_is()
    {
        var night = Apia.NightOf(new(2011, 12, 29));
        Assert.InRange(night.Duration.TotalHours, 12, 14);
        Assert.Equal(new LocalDate(2011, 12, 31), Apia.DateOf(night.End));
        Assert.Equal(Duration.Zero, Apia.NightOf(new(2011, 12, 30)).Duration);
        Assert.Equal(new LocalDate(2011, 12, 29), Apia.TonightAt(Apia.At(new(2011, 12, 31), new(3, 0))).Date);
    }

    [Fact]
    public void After_midnight_tonight_is_the_night_that_is_running()
    {
        Assert.Equal(new LocalDate(2026, 4, 20), Berlin.TonightAt(Berlin.At(new(2026, 4, 21), new(2, 0))).Date);
        Assert.Equal(new LocalDate(2026, 4, 20), Berlin.TonightAt(Berlin.At(new(2026, 4, 21), new(7, 30))).Date);
        Assert.Equal(new LocalDate(2026, 4, 21), Berlin.TonightAt(Berlin.At(new(2026, 4, 21), new(8, 30))).Date);
        Assert.Equal(new LocalDate(2026, 12, 31), Berlin.TonightAt(Berlin.At(new(2027, 1, 1), new(0, 30))).Date);
    }

    [Fact]
    public void Tonight_never_ends_in_the_past_and_its_date_is_yesterday_or_today() =>
        Gen.Select(Gen.Int[0, 20 * 365 * 24], Gen.Int[-75, 75], Gen.Int[-11, 11]).Sample((hour, latitude, zoneHours) =>
        {
            var calendar = new LocalCalendar(DateTimeZone.ForOffset(Offset.FromHours(zoneHours)), new(latitude, 15 * zoneHours, 0));
            var instant = Instant.FromUtc(2015, 1, 1, 0, 0) + Duration.FromHours(hour);
            var (date, night) = calendar.TonightAt(instant);
            Assert.True(night.End > instant);
            Assert.InRange(Period.DaysBetween(date, calendar.DateOf(instant)), 0, 1);
        });

    [Theory]
    [InlineData("Asia/Urumqi", 43.8, 87.6)]
    [InlineData("Asia/Shanghai", 39.5, 76.0)] // two hours off the sun
    [InlineData("Pacific/Kiritimati", 1.9, -157.4)] // a day ahead of its longitude
    [InlineData("Pacific/Chatham", -44.0, -176.5)]
    public void Far_off_zones_have_their_nights_in_the_dark(string zone, double latitude, double longitude)
    {
        var calendar = In(zone, latitude, longitude);
        var night = calendar.NightOf(new(2026, 9, 22));
        Assert.InRange(night.Duration.TotalHours, 13, 15);
        Assert.True(Sun.AltitudeDegrees(night.Start + Duration.FromHours(6), calendar.Place) < -20);
        Assert.Equal(new LocalDate(2026, 9, 22), calendar.DateOf(night.Start));
    }

    private static LocalCalendar In(string zone, double latitude, double longitude) =>
        new(DateTimeZoneProviders.Tzdb[zone], new GeoPosition(latitude, longitude, 0));

    private static LocalDate Date(string iso) => NodaTime.Text.LocalDatePattern.Iso.Parse(iso).Value;
}
