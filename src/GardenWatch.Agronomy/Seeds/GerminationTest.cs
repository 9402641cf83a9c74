namespace GardenWatch.Agronomy.Seeds;

/// <summary>What to do with a lot after its germination test.</summary>
public enum SeedWorth
{
    /// <summary>80 % or more: sow at the normal rate.</summary>
    SowAsUsual,
    /// <summary>50 to 79 %: sow thicker, by <see cref="GerminationTest.SowTimesAsThick"/>.</summary>
    SowThicker,
    /// <summary>Below 50 %: buy fresh seed; what still comes up is weak.</summary>
    BuyFresh,
}

/// <summary>Seeds that sprouted of those laid out on moist paper at 21 to 27 °C, counted for one to two weeks.</summary>
/// <remarks>Iowa State Univ. Extension 1999, with twenty seeds; the limits of worth are common practice.</remarks>
public readonly record struct GerminationTest
{
    /// <exception cref="ArgumentOutOfRangeException">Nothing was tested, or more sprouted than was laid out.</exception>
    public GerminationTest(int sprouted, int tested)
    {
        if (tested < 1)
            throw new ArgumentOutOfRangeException(nameof(tested), tested, "A test has at least one seed.");
        if (sprouted < 0 || sprouted > tested)
            throw new ArgumentOutOfRangeException(nameof(sprouted), sprouted, $"Of {tested} seeds, 0 to {tested} can sprout.");
        (Sprouted, Tested) = (sprouted, tested);
    }

    public int Sprouted { get; }

    public int Tested { get; }

    /// <summary>Of 1.</summary>
    public double Share => (double)Sprouted / Tested;

    public SeedWorth Worth => WorthOf(Share);

    /// <summary>Of a lot of which such a share comes up, tested or reckoned.</summary>
    public static SeedWorth WorthOf(double share) => share >= 0.8 ? SeedWorth.SowAsUsual : share >= 0.5 ? SeedWorth.SowThicker : SeedWorth.BuyFresh;

    /// <summary>How many times the normal rate to sow; infinite when nothing sprouted.</summary>
    public double SowTimesAsThick => 1 / Share;

    /// <summary>Between which shares the whole lot likely lies: with fifteen of twenty, 53 to 89 %.</summary>
    /// <remarks>Wilson 1927, J. Am. Stat. Assoc. 22:209-212, score interval at 95 %: true of small counts and of none or all.</remarks>
    public (double Low, double High) LikelyShare
    {
        get
        {
            const double z = 1.959964;
            double n = Tested, middle = (Share + z * z / (2 * n)) / (1 + z * z / n);
            double half = z / (1 + z * z / n) * Math.Sqrt(Share * (1 - Share) / n + z * z / (4 * n * n));
            // The ends are exact where none or all sprouted; rounding would leave them a hair off.
            return (Sprouted == 0 ? 0 : middle - half, Sprouted == Tested ? 1 : middle + half);
        }
    }
}
