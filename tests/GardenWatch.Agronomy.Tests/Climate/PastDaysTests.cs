using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Agronomy.Tests.Climate;

public class PastDaysTests
{
    private static readonly DateTimeZone Amsterdam = DateTimeZoneProviders.Tzdb["Europe/Amsterdam"];

    [Fact]
    public void Rain_of_a_day_is_what_fell_in_it_day_by_day_as_the_station_published()
    {
        // De Bilt 2000: hours and days are two files of the same station; a day is of UTC there.
        var hours = PublishedTable.StationRows("debilt_hourly_2000.csv");
        var start = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(hours[0]["time_utc"]).Value.InUtc().ToInstant();
        var days = PastDays.Of(
            TestSeries.Of(
                start, hours.Count, (WeatherVariable.Rain, i => hours[i].Number("precipitation")),
                (WeatherVariable.Air, i => hours[i].Number("temperature_2m"))),
            new LocalCalendar(DateTimeZone.Utc, Stations.DeBilt));

        double sum = 0;
        foreach (var row in PublishedTable.StationRows("debilt_daily_1980_2019.csv").Where(row => Stations.DateOf(row).Year == 2000))
        {
            double rain = days[DayFigure.Rain][days.IndexOf(Stations.DateOf(row))];
            Assert.Equal(row.Number("precip_mm"), rain, 1e-6);
            sum += rain;
        }
        Assert.Equal(932.4, sum, 0.01);
    }

    [Fact]
    public void Use_of_water_is_that_of_the_published_day()
    {
        // FAO-56 (Allen et al. 1998) p. 72, example 18: Brussels, 6 July; 12.3 to 21.5 °C, 1.409 kPa, 2.078 m/s at two metres
        // (10 km/h at ten), 22.07 MJ/m²: 3.9 mm. The dew point of 1.409 kPa is 12.06 °C by eq. 14.
        var start = Instant.FromUtc(2001, 7, 4, 0, 0);
        var days = PastDays.Of(
            TestSeries.Of(
                start, 24 * 5,
                (WeatherVariable.Air, hour => 12.3 + (21.5 - 12.3) * (1 - Math.Abs(hour % 24 - 12) / 12.0)),
                (WeatherVariable.DewPoint, _ => 12.06),
                (WeatherVariable.Wind, _ => 10 / 3.6),
                (WeatherVariable.Radiation, _ => 22.07e6 / 86400)),
            new LocalCalendar(DateTimeZone.Utc, new GeoPosition(50.8, 4.35, 100)));

        Assert.Equal(3.9, days[DayFigure.ReferenceEvapotranspiration][days.IndexOf(new(2001, 7, 6))], 0.05);
    }

    [Fact]
    public void Without_sun_and_wind_use_of_water_is_told_from_the_warmth()
    {
        // FAO-56 p. 78, example 20 (Lyon in July, 14.8 to 26.6 °C, 45.7° N): 5.0 mm by Hargreaves.
        var days = PastDays.Of(
            TestSeries.Of(
                Instant.FromUtc(2001, 7, 13, 0, 0), 24 * 5,
                (WeatherVariable.Air, hour => 14.8 + (26.6 - 14.8) * (1 - Math.Abs(hour % 24 - 12) / 12.0))),
            new LocalCalendar(DateTimeZone.Utc, new GeoPosition(45.72, 4.9, 200)));

        Assert.Equal(5.0, days[DayFigure.ReferenceEvapotranspiration][days.IndexOf(new(2001, 7, 15))], 0.05);
    }

    [Fact]
    public void Days_are_local_dates_of_23_and_25_hours_and_a_night_belongs_to_the_date_on_which_it_begins()
    {
        // A degree for each hour of the local day; one night's frost at 5:00 on 28 March, the day of 23 hours. A millimetre
        // an hour, and five in the last of 27 March, which is stamped with the midnight that ends it.
        var start = Instant.FromUtc(2027, 1, 1, 0, 0);
        var cold = new LocalDateTime(2027, 3, 28, 5, 0).InZoneStrictly(Amsterdam).ToInstant();
        var midnight = new LocalDateTime(2027, 3, 28, 0, 0).InZoneStrictly(Amsterdam).ToInstant();
        var days = PastDays.Of(
            TestSeries.Of(
                start, 24 * 365,
                (WeatherVariable.Air, hour => start + Duration.FromHours(hour) is var stamp && stamp == cold ? -7 : stamp.InZone(Amsterdam).Hour),
                (WeatherVariable.Rain, hour => start + Duration.FromHours(hour) == midnight ? 5 : 1)),
            new LocalCalendar(Amsterdam, Stations.DeBilt));

        int changed = days.IndexOf(new(2027, 3, 28));
        Assert.Equal((0, 23, 28), (days[DayFigure.AirLow][changed - 1], days[DayFigure.AirHigh][changed - 1], days[DayFigure.Rain][changed - 1]));
        Assert.Equal((-7, 23), (days[DayFigure.AirLow][changed], days[DayFigure.Rain][changed]));
        Assert.Equal(25, days[DayFigure.Rain][days.IndexOf(new(2027, 10, 31))]);
        Assert.Equal((0, -7, 0), (days[DayFigure.NightLow][changed - 2], days[DayFigure.NightLow][changed - 1], days[DayFigure.NightLow][changed]));
        // The record ends at midnight: of the night that had begun then, too little is known.
        Assert.True(double.IsNaN(days[DayFigure.NightLow][days.Count - 1]));
    }

    [Fact]
    public void A_day_with_more_than_a_tenth_of_its_hours_missing_is_not_known()
    {
        var start = Instant.FromUtc(2027, 1, 1, 0, 0);
        var days = PastDays.Of(
            TestSeries.Of(
                start, 24 * 4,
                (WeatherVariable.Air, hour => hour is >= 24 and < 26 or >= 48 and < 51 ? double.NaN : 5),
                (WeatherVariable.Rain, hour => hour == 30 ? double.NaN : 1)),
            new LocalCalendar(DateTimeZone.Utc, Stations.DeBilt));

        Assert.Equal(5, days[DayFigure.AirMean][1]);
        Assert.True(double.IsNaN(days[DayFigure.AirMean][2]));
        Assert.Equal(24, days[DayFigure.Rain][1], 1e-9); // the mean hour stands for the one that is missing
        Assert.True(double.IsNaN(days.MeanOver(DayFigure.AirMean, 3, 2)));
        Assert.True(double.IsNaN(days.MeanOver(DayFigure.AirMean, 1, 3)));
        Assert.True(double.IsNaN(days.LowOver(DayFigure.AirLow, 9, 1)));
        Assert.Equal(5, days.LowOver(DayFigure.AirLow, 1, 2));
    }

    [Fact]
    public void No_hours_and_wrong_lengths_are_a_mistake_of_the_caller()
    {
        Assert.Throws<ArgumentException>(() => PastDays.Of(WeatherSeries.Empty, InventedYears.At(50)));
        Assert.Throws<ArgumentException>(() => new PastDays(
            new(new(2027, 1, 1), new(2027, 1, 2)),
            System.Collections.Immutable.ImmutableDictionary<DayFigure, double[]>.Empty.Add(DayFigure.Rain, [1])));
    }
}
