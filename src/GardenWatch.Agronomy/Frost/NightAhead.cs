using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>What a forecast and the day that ends say of a coming night. NaN is not known.</summary>
/// <param name="LowC">Forecast lowest air of the night at two metres, °C.</param>
/// <param name="DewPointC">Mean dew point of the 24 hours about the night, °C.</param>
/// <param name="CloudPercent">Mean cloud of the 24 hours about the night, 0 to 100 %; not known counts as clear.</param>
/// <param name="WindMetresPerSecond">Mean wind of the 24 hours about the night at ten metres; not known counts as still.</param>
/// <param name="HighBeforeC">Highest air of the day before the night, °C.</param>
/// <param name="LowBeforeC">Lowest air of the night before this one, °C.</param>
/// <param name="NightHours">From sunset to sunrise.</param>
public readonly record struct NightAhead(
    double LowC, double DewPointC, double CloudPercent, double WindMetresPerSecond,
    double HighBeforeC, double LowBeforeC, double NightHours)
{
    private const int HoursNeeded = 12;

    public double LowC { get; init => field = Within.Air(value); } = Within.Air(LowC);

    public double DewPointC { get; init => field = Within.Air(value); } = Within.Air(DewPointC);

    public double CloudPercent { get; init => field = Cloud(value); } = Cloud(CloudPercent);

    public double WindMetresPerSecond { get; init => field = Wind(value); } = Wind(WindMetresPerSecond);

    public double HighBeforeC { get; init => field = Within.Air(value); } = Within.Air(HighBeforeC);

    public double LowBeforeC { get; init => field = Within.Air(value); } = Within.Air(LowBeforeC);

    public double NightHours { get; init => field = Night(value); } = Night(NightHours);

    /// <summary>The night that begins on a date, from hourly weather that holds it and the day before.</summary>
    /// <remarks>
    /// Cloud, wind and dew point are means from noon to noon: the rules were made for means of 24 hours, and these lie about
    /// the night. With fewer than twelve hours known a mean is not known. The low of a night with a gap is not known either.
    /// </remarks>
    public static NightAhead Of(WeatherSeries weather, LocalCalendar calendar, LocalDate evening)
    {
        var night = calendar.NightOf(evening);
        var about = new Interval(calendar.At(evening, LocalTime.Noon), calendar.At(evening.PlusDays(1), LocalTime.Noon));
        var dewPoint = Mean(weather, WeatherVariable.DewPoint, about);
        return new(
            Lowest(weather, night),
            dewPoint,
            Mean(weather, WeatherVariable.CloudCover, about),
            Mean(weather, WeatherVariable.Wind, about),
            Extreme(weather, calendar.DayOf(evening), highest: true),
            Extreme(weather, calendar.NightOf(evening.PlusDays(-1)), highest: false),
            // The night of the calendar ends two hours after sunrise.
            Math.Clamp(night.Duration.TotalHours - 2, 0, 24));
    }

    private static double Lowest(WeatherSeries weather, Interval night)
    {
        int from = weather.FirstAtOrAfter(night.Start), until = weather.LastAtOrBefore(night.End);
        if (from < 0 || until >= weather.Hours || from > until)
            return double.NaN;
        var air = weather[WeatherVariable.Air][from..(until + 1)];
        return ScreenNight.ShareKnown(air) == 1 ? ScreenNight.LowC(air) : double.NaN;
    }

    private static double Extreme(WeatherSeries weather, Interval span, bool highest)
    {
        double extreme = double.NaN;
        int known = 0;
        foreach (double air in Span(weather, WeatherVariable.Air, span))
        {
            if (double.IsNaN(air))
                continue;
            known++;
            if (!(highest ? air <= extreme : air >= extreme))
                extreme = air;
        }
        return known >= HoursNeeded / 2 ? extreme : double.NaN;
    }

    private static double Mean(WeatherSeries weather, WeatherVariable variable, Interval span)
    {
        double sum = 0;
        int known = 0;
        foreach (double value in Span(weather, variable, span))
        {
            if (double.IsNaN(value))
                continue;
            sum += value;
            known++;
        }
        return known >= HoursNeeded ? sum / known : double.NaN;
    }

    private static ReadOnlySpan<double> Span(WeatherSeries weather, WeatherVariable variable, Interval span)
    {
        int from = Math.Clamp(weather.FirstAtOrAfter(span.Start), 0, weather.Hours);
        int until = Math.Clamp(weather.LastAtOrBefore(span.End) + 1, from, weather.Hours);
        return weather[variable][from..until];
    }

    private static double Cloud(double percent) => Within.Checked(percent, 0, 100, "Cloud", "%", nameof(CloudPercent));

    private static double Wind(double metresPerSecond) =>
        Within.Checked(metresPerSecond, 0, 120, "Wind", "m/s", nameof(WindMetresPerSecond));

    private static double Night(double hours) => Within.Checked(hours, 0, 24, "A night", "hours", nameof(NightHours));
}

/// <summary>How far a forecast of a night may be off: spreads (standard deviations), in kelvins.</summary>
/// <param name="LowKelvins">Of the lowest air.</param>
/// <param name="DewPointKelvins">Of the dew point.</param>
/// <param name="Shared">How much of both is one error, that of the air mass: their correlation, 0 to below 1.</param>
public readonly record struct ForecastError(double LowKelvins, double DewPointKelvins = 1.25, double Shared = 0.6)
{
    public double LowKelvins { get; init => field = Spread(value, nameof(LowKelvins)); } = Spread(LowKelvins, nameof(LowKelvins));

    public double DewPointKelvins { get; init => field = Spread(value, nameof(DewPointKelvins)); }
        = Spread(DewPointKelvins, nameof(DewPointKelvins));

    public double Shared { get; init => field = Correlation(value, nameof(Shared)); } = Correlation(Shared, nameof(Shared));

    /// <summary>What to expect of a single forecast so many days ahead where no runs of an ensemble tell.</summary>
    /// <remarks>
    /// Common practice: a station's low is met within about 1.5 K (standard deviation) a day ahead, and a quarter kelvin
    /// less well with each day; that of the dew point is a little smaller, and over half of the error is that of the air mass.
    /// </remarks>
    public static ForecastError AtLead(double days) =>
        days >= 0
            ? new(1.5 + 0.25 * Math.Max(0, Math.Min(days, 14) - 1))
            : throw new ArgumentOutOfRangeException(nameof(days), days, "A forecast is for a time to come: 0 days or more.");

    private static double Spread(double value, string name) =>
        value is >= 0 and <= 10 ? value : throw new ArgumentOutOfRangeException(name, value, "A forecast's error is 0 to 10 K.");

    private static double Correlation(double value, string name) =>
        value is >= 0 and < 1 ? value : throw new ArgumentOutOfRangeException(name, value, "A correlation here is 0 to below 1.");
}
