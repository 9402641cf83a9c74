namespace GardenWatch.Agronomy.Diseases;

/// <summary>Whether leaves are wet in an hour, from ordinary weather; null when that cannot be told.</summary>
/// <remarks>
/// Where five published ways were set side by side (Sentelhas et al. 2008) the plain limit of 90 % was as good as any and missed a
/// day's wet hours by 1.2 h at best, more where it was not tuned to the place.
/// </remarks>
public static class LeafWetness
{
    /// <summary>Relative humidity of a wet hour, %.</summary>
    public const double WetPercent = 90;

    /// <summary>Wet in an hour with rain, or with a relative humidity of 90 % or more.</summary>
    /// <remarks>
    /// Sentelhas et al. 2008, Agric. For. Meteorol. 148:392-400: humidity alone was right in 87 to 92 % of the hours at four
    /// sites. Rain is added as common practice has it. A hygrometer that shows 101 % is wet too.
    /// </remarks>
    public static bool? ByHumidity(double relativeHumidityPercent, double rainMm)
    {
        if (rainMm > 0 || relativeHumidityPercent >= WetPercent)
            return true;
        return double.IsNaN(relativeHumidityPercent) || double.IsNaN(rainMm) ? null : false;
    }
}
