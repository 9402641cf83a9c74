namespace GardenWatch.Demo;

/// <summary>
/// Seeded chance for invented weather: number <i>i</i> of a stream is found without those before it, so the weather of
/// an hour does not depend on where a series begins.
/// </summary>
/// <remarks>
/// The mixing function of SplitMix64 (Steele, Lea and Flood 2014), used on a counter. System.Random's sequence is not
/// promised from one release of .NET to the next.
/// </remarks>
public readonly record struct Scatter(ulong Seed)
{
    private const ulong Golden = 0x9E3779B97F4A7C15;

    /// <summary>An independent sequence for another thing, or another time.</summary>
    public Scatter Stream(long number) => new(Mix(Seed + Mix((ulong)number + Golden)));

    /// <summary>Evenly from 0 to below 1.</summary>
    public double Share(long index) => (Bits(index) >> 11) * (1.0 / (1UL << 53));

    /// <summary>
    /// Nearly normal, mean 0 and variance 1: the sum of four even numbers, which ends at 3.5 and needs no logarithm
    /// whose last digit could differ between machines.
    /// </summary>
    public double Normal(long index)
    {
        ulong bits = Bits(index);
        double sum = (bits & 0xFFFF) + (bits >> 16 & 0xFFFF) + (bits >> 32 & 0xFFFF) + (bits >> 48);
        return (sum / 65536 - 2 + 1.0 / 32768) * Math.Sqrt(3);
    }

    /// <summary>A smooth curve through time of mean 0 and variance 1 that forgets itself in about two units of <paramref name="x"/>.</summary>
    public double Wave(double x)
    {
        long first = (long)Math.Floor(x);
        Span<double> weights = stackalloc double[4];
        double norm = Spline(x - first, weights);
        double sum = 0;
        for (int i = 0; i < 4; i++)
            sum += weights[i] * Normal(first + i);
        return sum / norm;
    }

    /// <summary>The same over two coordinates.</summary>
    public double Field(double x, double y)
    {
        long firstX = (long)Math.Floor(x), firstY = (long)Math.Floor(y);
        Span<double> across = stackalloc double[4], down = stackalloc double[4];
        double norm = Spline(x - firstX, across) * Spline(y - firstY, down);
        double sum = 0;
        for (int j = 0; j < 4; j++)
        {
            var row = Stream(firstY + j);
            for (int i = 0; i < 4; i++)
                sum += down[j] * across[i] * row.Normal(firstX + i);
        }
        return sum / norm;
    }

    /// <summary>Weights of the cubic B-spline; gives the root of their squares' sum, which keeps the variance even.</summary>
    private static double Spline(double u, Span<double> weights)
    {
        double v = 1 - u;
        weights[0] = v * v * v / 6;
        weights[1] = (3 * u * u * u - 6 * u * u + 4) / 6;
        weights[2] = (3 * v * v * v - 6 * v * v + 4) / 6;
        weights[3] = u * u * u / 6;
        double squares = 0;
        foreach (double weight in weights)
            squares += weight * weight;
        return Math.Sqrt(squares);
    }

    private ulong Bits(long index) => Mix(Seed + ((ulong)index + 1) * Golden);

    private static ulong Mix(ulong z)
    {
        z = (z ^ z >> 30) * 0xBF58476D1CE4E5B9;
        z = (z ^ z >> 27) * 0x94D049BB133111EB;
        return z ^ z >> 31;
    }
}
