namespace GardenWatch.Agronomy.Water;

/// <summary>How hard it rains, by rate.</summary>
/// <remarks>Meteorological convention: light to 2.5 mm/h, moderate to 7.6 mm/h, heavy above (0.1 and 0.3 inch).</remarks>
public enum RainIntensity { None, Light, Moderate, Heavy }

/// <summary>What a rain is worth to a bed, in mm.</summary>
public static class Rain
{
    private const double InchMm = 25.4;

    /// <summary>Class of a rate in mm/h; null when the rate is not known.</summary>
    public static RainIntensity? Intensity(double mmPerHour) => mmPerHour switch
    {
        double.NaN => null,
        <= 0 => RainIntensity.None,
        <= 2.5 => RainIntensity.Light,
        <= 7.6 => RainIntensity.Moderate,
        _ => RainIntensity.Heavy,
    };

    /// <summary>The useful part of one rain; sum a rain that lasts some days before asking.</summary>
    /// <remarks>
    /// Texas A&amp;M, TexasET network, "effective rainfall": the first tenth of an inch evaporates, up to one inch counts in
    /// full, from there to two inches by two thirds, the rest runs off or drains.
    /// </remarks>
    public static double EffectiveOfEvent(double rainMm) =>
        Math.Clamp(rainMm, 0.1 * InchMm, InchMm) - 0.1 * InchMm
        + (Math.Clamp(rainMm, InchMm, 2 * InchMm) - InchMm) * 2 / 3;

    /// <summary>The part of a day's rain that a soil water balance counts.</summary>
    /// <remarks>FAO-56 (Allen et al. 1998) p. 170: less than a fifth of the day's ET0 evaporates and may be ignored.</remarks>
    public static double EffectiveOfDay(double rainMm, double referenceEvapotranspirationMm) =>
        double.IsNaN(referenceEvapotranspirationMm) ? double.NaN
        : rainMm < 0.2 * referenceEvapotranspirationMm ? 0 : rainMm;

    /// <summary>Total of some hours, mm; NaN if any hour is unknown, since a missing hour may hold the rain.</summary>
    public static double Total(ReadOnlySpan<double> hourlyMm)
    {
        double sum = 0;
        foreach (double mm in hourlyMm)
            sum += mm;
        return sum;
    }

    /// <summary>Wettest hour, mm/h; NaN if any hour is unknown or there is none.</summary>
    public static double Peak(ReadOnlySpan<double> hourlyMm)
    {
        double peak = hourlyMm.IsEmpty ? double.NaN : 0;
        foreach (double mm in hourlyMm)
            peak = Math.Max(peak, mm); // Math.Max hands NaN on.
        return peak;
    }
}
