using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Trial.Observed;

/// <summary>The observations are read as they are, and daily ones made hourly keep what was measured.</summary>
public class DeBiltTests
{
    private static ObservedWeather Hours()
    {
        string? path = DeBilt.File(DeBiltHours.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltHours.FileName));
        return DeBiltHours.Read(path);
    }

    private static ObservedWeather Days(int fromYear, int toYear)
    {
        string? path = DeBilt.File(DeBiltDays.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltDays.FileName));
        return DeBiltDays.Read(path, fromYear, toYear);
    }

    [Fact]
    public void The_hourly_year_is_whole_and_has_the_rain_of_the_daily_sums()
    {
        var observed = Hours();

        Assert.Equal(8784, observed.Weather.Hours);
        Assert.Equal(Instant.FromUtc(2000, 1, 1, 1, 0), observed.Weather.Start);
        // KNMI's own daily sums of 2000 add up to 932.4 mm.
        Assert.Equal(932.4, observed.Weather[WeatherVariable.Rain].ToArray().Sum(), tolerance: 0.05);
        foreach (var variable in new[] { WeatherVariable.Air, WeatherVariable.CloudCover, WeatherVariable.Wind, WeatherVariable.Radiation })
            Assert.DoesNotContain(double.NaN, observed.Weather[variable].ToArray());
        Assert.DoesNotContain(observed.Weather[WeatherVariable.SoilAt6Cm].ToArray(), value => !double.IsNaN(value));
    }

    [Fact]
    public void Hourly_water_use_adds_up_to_the_published_evaporation()
    {
        string? path = DeBilt.File(DeBiltDays.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltDays.FileName));
        var table = ObservedTable.Read(path);
        double published = Enumerable.Range(0, table.Rows)
            .Where(row => table.Text(row, "date").StartsWith("2000-", StringComparison.Ordinal))
            .Sum(row => table.Number(row, "et_makkink_mm"));

        // KNMI's Makkink of daily means against the same formula by the hour.
        Assert.Equal(1, Hours().Weather[WeatherVariable.ReferenceEvapotranspiration].ToArray().Sum() / published, tolerance: 0.08);
    }

    [Fact]
    public void The_ground_is_colder_than_the_air_on_most_nights_and_by_much_on_some()
    {
        var observed = Hours();
        double[] below =
        [
            .. observed.GroundLow.Select(night =>
            {
                var hours = observed.Calendar.NightOf(night.Key);
                int first = observed.Weather.FirstAtOrAfter(hours.Start), last = observed.Weather.LastAtOrBefore(hours.End);
                return observed.Weather[WeatherVariable.Air][first..Math.Min(last + 1, observed.Weather.Hours)].ToArray().Min() - night.Value;
            }),
        ];

        Assert.InRange(below.Length, 360, 366);
        Assert.InRange(below.Average(), 0.5, 3);
        Assert.InRange(below.Max(), 4, 8);
    }

    [Fact]
    public void Days_made_hourly_keep_their_extremes_their_rain_and_their_sun()
    {
        string? path = DeBilt.File(DeBiltDays.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltDays.FileName));
        var table = ObservedTable.Read(path);
        var weather = DeBiltDays.Read(path, 1980, 2019).Weather;

        Assert.Equal(table.Rows * 24, weather.Hours);
        for (int day = 0; day < table.Rows; day++)
        {
            double[] Of(WeatherVariable variable) => weather[variable].Slice(day * 24, 24).ToArray();
            Assert.Equal(table.Number(day, "tmin_c"), Of(WeatherVariable.Air).Min(), tolerance: 1e-9);
            Assert.Equal(table.Number(day, "tmax_c"), Of(WeatherVariable.Air).Max(), tolerance: 1e-9);
            Assert.Equal(table.Number(day, "precip_mm"), Of(WeatherVariable.Rain).Sum(), tolerance: 1e-6);
            Assert.Equal(table.Number(day, "global_radiation_mj_m2"), Of(WeatherVariable.Radiation).Sum() * 3600 / 1e6, tolerance: 1e-6);
            Assert.Equal(table.Number(day, "wind_mean_10m_m_s"), Of(WeatherVariable.Wind).Average(), tolerance: 1e-6);
            Assert.True(Of(WeatherVariable.Rain).Min() >= 0);
        }
    }

    // Last spring day of air at or below 0 °C, De Bilt 1980 to 2019, type 7 quantiles of the day of the year.
    [Theory]
    [InlineData(0.1, 4, 4)]
    [InlineData(0.5, 4, 20)]
    [InlineData(0.9, 5, 7)]
    public void Last_frosts_of_the_hourly_years_fall_where_those_of_the_daily_ones_do(double share, int month, int day)
    {
        var weather = Days(1980, 2019).Weather;
        var air = weather[WeatherVariable.Air];
        var last = new SortedDictionary<int, int>();
        for (int hour = 0; hour < weather.Hours; hour++)
        {
            var date = (weather.StampOf(hour) - Duration.FromMinutes(30)).InUtc().Date;
            if (air[hour] <= 0 && date.Month < 7)
                last[date.Year] = date.DayOfYear;
        }
        double[] sorted = [.. last.Values.Select(value => (double)value).Order()];
        double at = share * (sorted.Length - 1);
        double quantile = sorted[(int)at] + (at - (int)at) * (sorted[Math.Min((int)at + 1, sorted.Length - 1)] - sorted[(int)at]);

        Assert.Equal(40, sorted.Length);
        Assert.Equal(new LocalDate(2001, month, day).DayOfYear, quantile, tolerance: 1.01);
    }

    [Fact]
    public void Made_hours_resemble_the_measured_ones()
    {
        var measured = Hours().Weather;
        var made = Days(2000, 2000).Weather;
        Assert.Equal(measured.Start, made.Start);
        double squares = 0;
        for (int hour = 0; hour < measured.Hours; hour++)
            squares += Math.Pow(made[WeatherVariable.Air][hour] - measured[WeatherVariable.Air][hour], 2);
        double error = Math.Sqrt(squares / measured.Hours);
        TestContext.Current.TestOutputHelper?.WriteLine($"air made of days errs by {error:0.00} K");

        Assert.InRange(error, 0.3, 1.8);
    }

    [Fact]
    public void Rain_of_a_day_falls_at_the_same_hours_each_time_it_is_read()
    {
        Assert.Equal(Days(2000, 2001).Weather[WeatherVariable.Rain][8784..].ToArray(), Days(2001, 2001).Weather[WeatherVariable.Rain].ToArray());
    }

    [Fact]
    public void Daily_ground_lows_tell_frost_from_none_nearly_as_well_as_those_of_the_night_itself()
    {
        string? path = DeBilt.File(DeBiltDays.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltDays.FileName));
        var ofNight = Hours().GroundLow;
        var ofDay = DeBiltDays.Read(path, 2000, 2000).GroundLow;
        var nights = ofNight.Keys.Intersect(ofDay.Keys).Where(night => night.PlusDays(1).Month is >= 4 and <= 10).ToArray();

        Assert.Equal(214, nights.Length);
        Assert.Equal(210, nights.Count(night => ofNight[night] <= 0 == ofDay[night] <= 0));
    }
}
