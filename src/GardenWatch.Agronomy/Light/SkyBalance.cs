using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Light;

/// <summary>What stands in for an input that is missing.</summary>
/// <param name="SkyCloud">Cloud, 0 to 1, for what the sky sends back.</param>
/// <param name="SunCloud">Cloud, 0 to 1, for what the sun brings.</param>
internal readonly record struct WhenUnknown(double SkyCloud, double SunCloud, double HumidityPercent, double WindMetresPerSecond)
{
    /// <summary>For advice that protects from cold: a clear sky at night, no sun by day, dry and still air.</summary>
    public static WhenUnknown Worst { get; } = new(0, 1, 50, 0);

    /// <summary>For estimates: what a temperate garden has most days; wind as FAO-56 advises, 2 m/s at two metres.</summary>
    public static WhenUnknown Usual { get; } = new(0.6, 0.6, 75, 2.7);
}

/// <summary>Sun, sky and air over a flat surface in one hour. All unknown (NaN) when the air is.</summary>
/// <param name="SunWatts">Shortwave on the flat, W/m².</param>
/// <param name="LossWatts">What a black surface at air temperature sends to the sky beyond what comes back, W/m².</param>
/// <param name="ClearLossWatts">The same under a clear sky.</param>
/// <param name="WindMetresPerSecond">At ten metres.</param>
internal readonly record struct SkyBalance(
    double AirC, double DewPointC, double SunWatts, double LossWatts, double ClearLossWatts, double WindMetresPerSecond)
{
    private const double StefanBoltzmann = 5.67e-8;

    private static readonly SkyBalance Unknown =
        new(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN, double.NaN);

    /// <summary>Wind at two metres, by FAO-56 (Allen et al. 1998) eq. 47.</summary>
    public double WindAtTwoMetres => 0.748 * WindMetresPerSecond;

    /// <summary>Watts per square metre of a black body at a temperature.</summary>
    public static double BlackBody(double celsius)
    {
        double kelvin = celsius + 273.16;
        return StefanBoltzmann * kelvin * kelvin * kelvin * kelvin;
    }

    public static Reader Over(WeatherSeries weather, GeoPosition place, WhenUnknown unknown) => new(weather, place, unknown);

    /// <summary>The columns that matter to the balance, side by side.</summary>
    public ref struct Reader(WeatherSeries weather, GeoPosition place, WhenUnknown unknown)
    {
        private readonly ReadOnlySpan<double> _air = weather[WeatherVariable.Air];
        private readonly ReadOnlySpan<double> _dewPoint = weather[WeatherVariable.DewPoint];
        private readonly ReadOnlySpan<double> _humidity = weather[WeatherVariable.RelativeHumidity];
        private readonly ReadOnlySpan<double> _cloud = weather[WeatherVariable.CloudCover];
        private readonly ReadOnlySpan<double> _wind = weather[WeatherVariable.Wind];
        private readonly ReadOnlySpan<double> _radiation = weather[WeatherVariable.Radiation];

        // Where the sun stands changes little in a day; reckoned once for each.
        private Sun.SunPosition _sun;
        private int _sunDay = -1;

        public SkyBalance At(int hour) => At(hour, _air[hour]);

        /// <summary>Balance of an hour whose air is taken from elsewhere, such as a bridged gap.</summary>
        /// <remarks>
        /// Clear sky after Brunt with FAO-56's coefficients (eq. 39): emissivity 0.66 + 0.14 √e, e in kPa; cloud after
        /// Bolz 1949 (Oke 1987, Boundary Layer Climates, 2nd ed.): times 1 + 0.22 n². Hourly values of such formulas err by
        /// 10 to 20 W/m².
        /// </remarks>
        public SkyBalance At(int hour, double airC)
        {
            if (double.IsNaN(airC))
                return Unknown;
            double dewPoint = _dewPoint[hour];
            if (double.IsNaN(dewPoint))
                dewPoint = DewPoint.Of(airC, Math.Clamp(Or(_humidity[hour], unknown.HumidityPercent), 1, 100));
            dewPoint = Math.Min(dewPoint, airC);
            double clear = 0.66 + 0.14 * Math.Sqrt(VapourPressure.Saturation(dewPoint));
            double cloud = CloudOr(hour, unknown.SkyCloud);
            double body = BlackBody(airC);
            return new(
                airC,
                dewPoint,
                SunAt(hour),
                body * (1 - clear * (1 + 0.22 * cloud * cloud)),
                body * (1 - clear),
                Or(_wind[hour], unknown.WindMetresPerSecond));
        }

        // Without measured or forecast sun: what the sun's height and the cloud let through.
        private double SunAt(int hour)
        {
            double radiation = _radiation[hour];
            if (!double.IsNaN(radiation))
                return radiation;
            var stamp = weather.StampOf(hour);
            if (hour / 24 != _sunDay)
            {
                _sunDay = hour / 24;
                _sun = new(stamp + Duration.FromHours(12));
            }
            return SkyLight.UnderCloud(SkyLight.Clear(_sun.SineOfAltitude(stamp, place)), CloudOr(hour, unknown.SunCloud));
        }

        private double CloudOr(int hour, double other) => Math.Clamp(Or(_cloud[hour] / 100, other), 0, 1);

        private static double Or(double known, double other) => double.IsNaN(known) ? other : known;
    }
}
