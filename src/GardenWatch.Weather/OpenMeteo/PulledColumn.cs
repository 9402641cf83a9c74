using System.Collections.Immutable;
using System.Runtime.InteropServices;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>
/// One variable of a pull as whole numbers of its last printed decimal: what the service printed, exactly, in two
/// bytes an hour.
/// </summary>
public sealed record PulledColumn(int Decimals, ImmutableArray<short> Scaled)
{
    /// <summary>Stands for a value that was not given.</summary>
    public const short Missing = short.MinValue;

    /// <summary>More decimals than this can't be kept and are of no use to a garden.</summary>
    public const int MostDecimals = 4;

    private static readonly double[] Powers = [1, 10, 100, 1_000, 10_000];

    public int Hours => Scaled.Length;

    /// <summary>NaN where the service gave nothing.</summary>
    public double this[int hour] => Scaled[hour] is var scaled && scaled == Missing ? double.NaN : scaled / Powers[Decimals];

    /// <summary>Keeps the printed decimals, or as many of them as fit the largest value.</summary>
    public static PulledColumn Of(ReadOnlySpan<double> values, int printedDecimals)
    {
        double largest = 0;
        foreach (double value in values)
            if (Math.Abs(value) > largest)
                largest = Math.Abs(value);
        int decimals = Math.Clamp(printedDecimals, 0, MostDecimals);
        while (decimals > 0 && largest * Powers[decimals] > short.MaxValue)
            decimals--;

        var scaled = new short[values.Length];
        for (int hour = 0; hour < scaled.Length; hour++)
            scaled[hour] = double.IsNaN(values[hour])
                ? Missing
                : (short)Math.Clamp(Math.Round(values[hour] * Powers[decimals]), -short.MaxValue, short.MaxValue);
        return new(decimals, ImmutableCollectionsMarshal.AsImmutableArray(scaled));
    }
}
