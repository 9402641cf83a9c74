namespace GardenWatch.Agronomy.Water;

/// <summary>How dry a root zone is, hour by hour, where nobody has measured how it began.</summary>
public static class SoilWaterCourse
{
    /// <summary>Share of all the water within which two guesses must agree for the mean of them to be given.</summary>
    /// <remarks>Soils of one name differ by a third (FAO-56 table 19), so a closer agreement would promise too much.</remarks>
    public const double Agreement = 0.1;

    /// <summary>More than short grass uses in an hour anywhere (FAO-56: 8 to 10 mm on the hottest days).</summary>
    internal const double MostUseMm = 1.2;

    /// <summary>Water lacking to field capacity at each stamp, mm; NaN until it is known.</summary>
    /// <remarks>
    /// The balance of <see cref="RootZone.Day"/> in steps of an hour, once from full and once from wilting. Rain that
    /// fills the zone, or weeks of use, bring the two together. After a missing hour they part again.
    /// </remarks>
    /// <param name="useMm">Of the crop when it has enough, in each hour.</param>
    public static double[] Depletion(RootZone zone, ReadOnlySpan<double> rainMm, ReadOnlySpan<double> useMm)
    {
        if (rainMm.Length != useMm.Length)
            throw new ArgumentException($"{rainMm.Length} hours of rain, {useMm.Length} of use.", nameof(useMm));
        double[] depletion = new double[rainMm.Length];
        double wet = 0, dry = zone.TotalMm;
        for (int hour = 0; hour < depletion.Length; hour++)
        {
            // A series is not refused for one bad hour: rain below nothing is unknown rain.
            double rain = rainMm[hour] >= 0 ? rainMm[hour] : double.NaN, use = useMm[hour];
            wet = double.IsNaN(rain) ? 0 : zone.Day(wet, rain, 0, double.IsNaN(use) ? 0 : use).DepletionMm;
            dry = zone.Day(dry, double.IsNaN(rain) ? 0 : rain, 0, double.IsNaN(use) ? MostUseMm : use).DepletionMm;
            bool known = !double.IsNaN(rain) && !double.IsNaN(use) && dry - wet <= Agreement * zone.TotalMm;
            depletion[hour] = known ? (wet + dry) / 2 : double.NaN;
        }
        return depletion;
    }
}
