using CsCheck;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Light;

public class TwilightTests
{
    [Fact]
    public void Grey_comes_before_light_and_light_before_the_sun() =>
        Gen.Select(Gen.Double[-50, 50], Gen.Double[-180, 180], Gen.Int[0, 3650]).Sample((latitude, longitude, day) =>
        {
            var place = new GeoPosition(latitude, longitude, 0);
            var zone = DateTimeZone.ForOffset(Offset.FromHours((int)Math.Round(longitude / 15)));
            var date = new LocalDate(2020, 1, 1).PlusDays(day);
            var sun = Sun.Course(place, date, zone);
            var civil = Sun.CivilTwilight(place, date, zone);
            var nautical = Sun.NauticalTwilight(place, date, zone);
            Assert.True(nautical.Rise < civil.Rise && civil.Rise < sun.Rise);
            Assert.True(sun.Set < civil.Set && civil.Set < nautical.Set);
            Assert.Equal(Sun.NauticalTwilightAltitudeDegrees, Sun.AltitudeDegrees(nautical.Rise!.Value, place), 0.01);
            Assert.Equal(Sun.NauticalTwilightAltitudeDegrees, Sun.AltitudeDegrees(nautical.Set!.Value, place), 0.01);
            Assert.Equal(Sun.CivilTwilightAltitudeDegrees, Sun.AltitudeDegrees(civil.Set!.Value, place), 0.01);
        });

    [Fact]
    public void Where_midsummer_nights_stay_grey_the_length_is_the_whole_day()
    {
        var north = Sun.NauticalTwilight(new(56, 10, 0), new(2026, 6, 21), DateTimeZone.Utc);
        Assert.Null(north.Rise);
        Assert.Equal(24, north.DayLength.TotalHours);
        Assert.NotNull(Sun.NauticalTwilight(new(54, 10, 0), new(2026, 6, 21), DateTimeZone.Utc).Rise);
    }

    [Theory]
    [InlineData(Sun.RiseAndSetAltitudeDegrees)]
    [InlineData(Sun.CivilTwilightAltitudeDegrees)]
    [InlineData(Sun.NauticalTwilightAltitudeDegrees)]
    public void Anywhere_from_pole_to_pole_the_length_is_what_counting_the_minutes_gives(double altitude) =>
        Gen.Select(Gen.Double[-90, 90], Gen.Int[0, 1460]).Sample((latitude, day) =>
        {
            var place = new GeoPosition(latitude, 0, 0);
            var date = new LocalDate(2022, 1, 1).PlusDays(day);
            var course = altitude switch
            {
                Sun.RiseAndSetAltitudeDegrees => Sun.Course(place, date, DateTimeZone.Utc),
                Sun.CivilTwilightAltitudeDegrees => Sun.CivilTwilight(place, date, DateTimeZone.Utc),
                _ => Sun.NauticalTwilight(place, date, DateTimeZone.Utc),
            };
            // From midnight to midnight by the sun of longitude 0: within a quarter of an hour of UTC's.
            var midnight = date.AtMidnight().InUtc().ToInstant();
            int minutes = 0;
            for (int minute = 0; minute < 1440; minute += 4)
            {
                double height = Sun.AltitudeDegrees(midnight + Duration.FromMinutes(minute), place);
                minutes += height > altitude ? 4 : 0;
            }
            // Where the sun runs along the horizon, a hundredth of a degree is worth an hour.
            double slope = Math.Cos(latitude * Math.PI / 180);
            double allowed = 0.25 + (slope < 0.5 ? 0.1 / Math.Max(slope, 0.01) : 0);
            Assert.Equal(minutes / 60.0, course.DayLength.TotalHours, allowed + (Near(place, date, altitude) ? 3 : 0));
        }, iter: 300);

    // Within half a degree of never rising or never setting the day's length changes by hours from date to date.
    private static bool Near(GeoPosition place, LocalDate date, double altitude)
    {
        var noon = date.AtMidnight().PlusHours(12).InUtc().ToInstant();
        return Math.Abs(Sun.AltitudeDegrees(noon, place) - altitude) < 0.6
            || Math.Abs(Sun.AltitudeDegrees(noon + Duration.FromHours(12), place) - altitude) < 0.6;
    }

    [Theory]
    [InlineData(95, 0)]
    [InlineData(-90.5, 0)]
    [InlineData(45, 200)]
    public void A_place_off_the_earth_is_an_error_that_names_value_and_range(double latitude, double longitude)
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => new GeoPosition(latitude, longitude, 0));
        Assert.Contains(latitude is > 90 or < -90 ? "Latitude is from -90 to 90" : "Longitude is from -180 to 180", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new GeoPosition(45, 0, 0) with { LatitudeDegrees = 95 });
    }

    [Fact]
    public void Radiation_knows_latitudes_and_days_of_the_year()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SolarRadiation.Extraterrestrial(95, 100));
        Assert.Throws<ArgumentOutOfRangeException>(() => SolarRadiation.DaylightHours(45, 367));
        Assert.Throws<ArgumentOutOfRangeException>(() => SolarRadiation.InverseDistance(0));
        Assert.Throws<ArgumentException>(() => SolarRadiation.FromTemperatureRange(20, 10, 40, 0));
        Assert.Equal(double.NaN, SolarRadiation.Extraterrestrial(double.NaN, 100));
        Assert.Equal(24, SolarRadiation.DaylightHours(90, 172), 1e-9);
        Assert.Equal(0, SolarRadiation.Extraterrestrial(90, 355), 1e-9);
    }
}
