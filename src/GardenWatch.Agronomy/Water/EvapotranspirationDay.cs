using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>What was not known of a day or hour and was put in its place.</summary>
[Flags]
public enum EvapotranspirationGaps
{
    None = 0,
    /// <summary>Dew point taken as the lowest air.</summary>
    Humidity = 1,
    /// <summary>Wind taken as 2 m/s.</summary>
    Wind = 2,
    /// <summary>Radiation taken from how far the day warms.</summary>
    Radiation = 4,
}

/// <summary>Reference evapotranspiration and what it was guessed from.</summary>
public readonly record struct EvapotranspirationEstimate(double Mm, EvapotranspirationGaps Gaps);

/// <summary>A day's weather as it is known for reference evapotranspiration; NaN for what is not.</summary>
/// <param name="LowC">Lowest air, °C; without both temperatures there is no estimate.</param>
/// <param name="HighC">Highest air.</param>
/// <remarks>FAO-56 (Allen et al. 1998), ch. 3 (best first) and its "missing climatic data", p. 58 to 65.</remarks>
public readonly record struct EvapotranspirationDay(double LowC, double HighC)
{
    /// <summary>Lowest air is above the dew point by about this much where it is dry.</summary>
    /// <remarks>FAO-56 p. 58: take 2 to 3 K off in arid places.</remarks>
    public const double AridDewPointBelowLowest = 2.5;

    /// <summary>m/s; the mean of 2000 stations (FAO-56 p. 63).</summary>
    public const double UsualWind = 2;

    public double DewPointC { get; init; } = double.NaN;

    public double LowestHumidityPercent { get; init; } = double.NaN;

    public double HighestHumidityPercent { get; init; } = double.NaN;

    public double MeanHumidityPercent { get; init; } = double.NaN;

    /// <summary>At two metres, m/s; see <see cref="ReferenceEvapotranspiration.WindAtTwoMetres"/>.</summary>
    public double WindMetresPerSecond { get; init; } = double.NaN;

    /// <summary>Radiation at the ground, MJ/m².</summary>
    public double SunMegajoules { get; init; } = double.NaN;

    /// <summary>Hours of sunshine, where radiation is not measured.</summary>
    public double SunshineHours { get; init; } = double.NaN;

    /// <summary>By the sea, where days warm less for the same sun: coefficient 0.19 instead of 0.16 (eq. 50).</summary>
    public bool ByTheSea { get; init; }

    /// <summary>A dry place: the lowest air stays above the dew point.</summary>
    public bool Arid { get; init; }

    /// <summary>Penman-Monteith (eq. 6) on what is known; what is not is estimated as the paper advises.</summary>
    /// <exception cref="ArgumentException">A value that can't be true.</exception>
    public EvapotranspirationEstimate Reference(GeoPosition place, int dayOfYear, double soilHeatMegajoules = 0)
    {
        Plausible.LowestFirst(LowC, HighC);
        var gaps = EvapotranspirationGaps.None;
        double vapour = Vapour(ref gaps);
        double sun = Sun(place, dayOfYear, ref gaps);
        double wind = WindMetresPerSecond;
        if (double.IsNaN(wind))
        {
            wind = UsualWind;
            gaps |= EvapotranspirationGaps.Wind;
        }
        double mm = ReferenceEvapotranspiration.Daily(
            LowC, HighC, vapour, sun, wind, place.LatitudeDegrees, place.ElevationMetres, dayOfYear, soilHeatMegajoules);
        return new(mm, gaps);
    }

    private double Vapour(ref EvapotranspirationGaps gaps)
    {
        if (!double.IsNaN(DewPointC))
            return VapourPressure.Saturation(Within.Air(DewPointC));
        if (!double.IsNaN(HighestHumidityPercent))
            return double.IsNaN(LowestHumidityPercent)
                ? ReferenceEvapotranspiration.VapourFromHighestHumidity(LowC, HighestHumidityPercent)
                : ReferenceEvapotranspiration.VapourFromHumidities(LowC, HighC, LowestHumidityPercent, HighestHumidityPercent);
        if (!double.IsNaN(MeanHumidityPercent))
            return ReferenceEvapotranspiration.VapourFromMeanHumidity(LowC, HighC, MeanHumidityPercent);
        gaps |= EvapotranspirationGaps.Humidity;
        return VapourPressure.Saturation(LowC - (Arid ? AridDewPointBelowLowest : 0)); // eq. 48
    }

    private double Sun(GeoPosition place, int dayOfYear, ref EvapotranspirationGaps gaps)
    {
        if (!double.IsNaN(SunMegajoules))
            return SunMegajoules;
        double top = SolarRadiation.Extraterrestrial(place.LatitudeDegrees, dayOfYear);
        double daylight = SolarRadiation.DaylightHours(place.LatitudeDegrees, dayOfYear);
        if (!double.IsNaN(SunshineHours))
            return SolarRadiation.FromSunshine(Within.Checked(SunshineHours, 0, 24, "Sunshine", "hours", nameof(SunshineHours)), daylight, top);
        gaps |= EvapotranspirationGaps.Radiation;
        return SolarRadiation.FromTemperatureRange(LowC, HighC, top, place.ElevationMetres, ByTheSea ? 0.19 : 0.16);
    }
}
