using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Water;

/// <summary>How hard it rains, by rate.</summary>
/// <remarks>Meteorological convention: light to 2.5 mm/h, moderate to 7.6 mm/h, heavy above (0.1 and 0.3 inch).</remarks>
public enum RainIntensity { None, Light, Moderate, Heavy }

/// <summary>What a rain is worth to a bed, in mm. Rain below nothing or above 2000 mm is an error; unknown rain stays unknown.</summary>
public static class Rain
{
    /// <summary>Above this a rain wets the whole surface of a bed (FAO-56 p. 149: 3 to 4 mm).</summary>
    public const double WetsAllMm = 3;

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
        Math.Clamp(Plausible.Rain(rainMm), 0.1 * InchMm, InchMm) - 0.1 * InchMm
        + (Math.Clamp(rainMm, InchMm, 2 * InchMm) - InchMm) * 2 / 3;

    /// <summary>The part of a day's rain that a soil water balance counts.</summary>
    /// <remarks>FAO-56 (Allen et al. 1998) p. 170: less than a fifth of the day's ET0 evaporates and may be ignored.</remarks>
    public static double EffectiveOfDay(double rainMm, double referenceEvapotranspirationMm) =>
        double.IsNaN(Plausible.Reference(referenceEvapotranspirationMm)) ? double.NaN
        : Plausible.Rain(rainMm) < 0.2 * referenceEvapotranspirationMm ? 0 : rainMm;

    /// <summary>The useful part of a month's rain, where only months are kept.</summary>
    /// <remarks>
    /// USDA Soil Conservation Service method in the monthly form of FAO Irrigation and Drainage Paper 46 (Smith 1992):
    /// P (125 - 0.2 P) / 125 to 250 mm, 125 + 0.1 P above. Made for dry climates; a daily balance is better.
    /// </remarks>
    public static double EffectiveOfMonth(double rainMm) =>
        OfMonth(rainMm) <= 250 ? rainMm * (125 - 0.2 * rainMm) / 125 : 125 + 0.1 * rainMm;

    /// <summary>The useful part of a month's rain that can be relied on in four years of five.</summary>
    /// <remarks>FAO land and water division, "dependable rain": 0.6 P - 10 to 70 mm, 0.8 P - 24 above, at least nothing.</remarks>
    public static double DependableOfMonth(double rainMm) =>
        double.IsNaN(rainMm) ? double.NaN : Math.Max(0, OfMonth(rainMm) <= 70 ? 0.6 * rainMm - 10 : 0.8 * rainMm - 24);

    /// <summary>The useful part of a rain under leaves: 5 mm stay on them, three quarters of the rest count.</summary>
    /// <remarks>Simple interception, as farm weather services use it (rain rule R057).</remarks>
    public static double EffectiveUnderLeaves(double rainMm) =>
        double.IsNaN(rainMm) ? double.NaN : Math.Max(0, 0.75 * (Plausible.Rain(rainMm) - 5));

    /// <summary>What runs off because hours bring more than the wet soil takes in, mm; NaN when an hour is unknown.</summary>
    /// <param name="intakeMmPerHour">Above 0 mm/h; see <see cref="SoilTexture.IntakeMmPerHour"/>.</param>
    /// <remarks>Infiltration excess (Horton 1933) at the final intake rate: cautious, since dry soil takes in more at first.</remarks>
    public static double Runoff(ReadOnlySpan<double> hourlyMm, double intakeMmPerHour)
    {
        Within.Checked(intakeMmPerHour, double.Epsilon, 1000, "Intake", "mm/h", nameof(intakeMmPerHour));
        double sum = 0;
        foreach (double mm in hourlyMm)
            sum += Math.Max(0, Plausible.Rain(mm) - intakeMmPerHour); // Math.Max hands NaN on.
        return sum;
    }

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

    private static double OfMonth(double mm) => Within.Checked(mm, 0, 10_000, "Rain of a month", "mm", nameof(mm));
}
