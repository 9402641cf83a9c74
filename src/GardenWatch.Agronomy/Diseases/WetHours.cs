namespace GardenWatch.Agronomy.Diseases;

/// <summary>The wet, or humid, hours of a day or spell and the mean air in them; unknown values are NaN.</summary>
public readonly record struct WetHours(double Hours, double MeanAirC)
{
    /// <summary>Of hours in which leaves are wet by <see cref="LeafWetness.ByHumidity"/>.</summary>
    /// <exception cref="ArgumentException">Columns of different length, or a value that can't be true.</exception>
    /// <remarks>Unknown when more than one hour in ten is; a few unknown hours count as dry.</remarks>
    public static WetHours Of(ReadOnlySpan<double> airC, ReadOnlySpan<double> relativeHumidityPercent, ReadOnlySpan<double> rainMm)
    {
        if (airC.Length != relativeHumidityPercent.Length || airC.Length != rainMm.Length)
            throw new ArgumentException(
                $"{airC.Length} hours of air, {relativeHumidityPercent.Length} of humidity, {rainMm.Length} of rain.", nameof(airC));
        double sum = 0;
        int wet = 0, unknown = 0;
        for (int hour = 0; hour < airC.Length; hour++)
        {
            bool? isWet = LeafWetness.ByHumidity(relativeHumidityPercent[hour], rainMm[hour]);
            if (isWet is null || double.IsNaN(airC[hour]))
            {
                unknown++;
                continue;
            }
            if (isWet == false)
                continue;
            wet++;
            sum += airC[hour];
        }
        if (airC.IsEmpty || unknown > 0.1 * airC.Length)
            return new(double.NaN, double.NaN);
        return new(wet, wet == 0 ? double.NaN : sum / wet);
    }
}
