using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Frost;

/// <summary>
/// What an hour of weather says about cooling towards the sky. An input that is missing is taken at its worst: no cloud,
/// no wind, dry air. Protective advice is never withheld for want of data.
/// </summary>
internal readonly record struct NightSky(
    double AirC, double DewPointC, double LossWatts, double ClearLossWatts, double WindMetresPerSecond)
{
    private const double StefanBoltzmann = 5.67e-8;

    // Drier than all but a few frosty nights; no dew then comes to the leaf's help.
    private const double DryHumidityPercent = 50;

    // Reflected by leaves and grass, FAO-56 (Allen et al. 1998) eq. 38.
    private const double Albedo = 0.23;

    /// <summary>
    /// How much of a clear, calm night this hour is, 0 to 1: the share of a frost pocket's extra cold that counts. None
    /// by day, under full cloud a third; whole up to 1.5 m/s at ten metres, none from 5 m/s, where no cold air can lie.
    /// </summary>
    /// <remarks>Cloud by the longwave balance; the wind limits are the trade's (light air, and "above 4 to 5 m/s small").</remarks>
    public double ClearAndCalm =>
        LossWatts <= 0 ? 0 : Math.Min(1, LossWatts / ClearLossWatts) * Math.Clamp((5 - WindMetresPerSecond) / 3.5, 0, 1);

    /// <summary>Watts per square metre of a black body at a temperature.</summary>
    public static double BlackBody(double celsius)
    {
        double kelvin = celsius + 273.16;
        return StefanBoltzmann * kelvin * kelvin * kelvin * kelvin;
    }

    public static Reader Read(WeatherSeries weather, GeoPosition place) => new(weather, place);

    /// <summary>The columns that matter to the night, side by side.</summary>
    public readonly ref struct Reader(WeatherSeries weather, GeoPosition place)
    {
        private readonly ReadOnlySpan<double> _air = weather[WeatherVariable.Air];
        private readonly ReadOnlySpan<double> _dewPoint = weather[WeatherVariable.DewPoint];
        private readonly ReadOnlySpan<double> _humidity = weather[WeatherVariable.RelativeHumidity];
        private readonly ReadOnlySpan<double> _cloud = weather[WeatherVariable.CloudCover];
        private readonly ReadOnlySpan<double> _wind = weather[WeatherVariable.Wind];
        private readonly ReadOnlySpan<double> _radiation = weather[WeatherVariable.Radiation];

        /// <summary>Balance of a flat, leafy surface at the air's temperature.</summary>
        /// <remarks>
        /// Clear sky after Brunt with FAO-56's coefficients (eq. 39): emissivity 0.66 + 0.14 √e, e in kPa; cloud after
        /// Bolz 1949 (Oke 1987, Boundary Layer Climates, 2nd ed.): times 1 + 0.22 n². Hourly sums of such formulas err by
        /// 10 to 20 W/m².
        /// </remarks>
        public NightSky At(int hour)
        {
            double air = _air[hour];
            if (double.IsNaN(air))
                return new(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN);
            double humidity = double.IsNaN(_humidity[hour]) ? DryHumidityPercent : _humidity[hour];
            double dewPoint = double.IsNaN(_dewPoint[hour]) ? DewPoint.Of(air, Math.Max(1, humidity)) : _dewPoint[hour];
            dewPoint = Math.Min(dewPoint, air);
            double clear = 0.66 + 0.14 * Math.Sqrt(VapourPressure.Saturation(dewPoint));
            double cloud = double.IsNaN(_cloud[hour]) ? 0 : Math.Clamp(_cloud[hour] / 100, 0, 1);
            double body = BlackBody(air);
            double sun = (1 - Albedo) * SunAt(hour);
            return new(
                air,
                dewPoint,
                body * (1 - clear * (1 + 0.22 * cloud * cloud)) - sun,
                body * (1 - clear),
                double.IsNaN(_wind[hour]) ? 0 : _wind[hour]);
        }

        // Without measured or forecast sun: none below the horizon; above, clear-sky radiation (Haurwitz 1945) under the
        // cloud that is known (Kasten and Czeplak 1980), else under full cloud, which warms least.
        private double SunAt(int hour)
        {
            double radiation = _radiation[hour];
            if (!double.IsNaN(radiation))
                return radiation;
            double height = Math.Sin(Sun.AltitudeDegrees(weather.StampOf(hour), place) * Math.PI / 180);
            if (height <= 0)
                return 0;
            double cloud = double.IsNaN(_cloud[hour]) ? 1 : Math.Clamp(_cloud[hour] / 100, 0, 1);
            return 1098 * height * Math.Exp(-0.057 / height) * (1 - 0.75 * Math.Pow(cloud, 3.4));
        }
    }
}
