using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>A night that was measured, to make a rule from.</summary>
/// <param name="Ahead">With the low that came.</param>
/// <param name="GroundLowC">Lowest of a thermometer near the ground, °C.</param>
public readonly record struct PastNight(NightAhead Ahead, double GroundLowC)
{
    /// <summary>Error of the leaf beside a thermometer near the ground, K, with hours made of daily means (LeafTemperature).</summary>
    public const double LeafErrorKelvins = 1.4;

    /// <summary>
    /// The night that began on a date, from a place's past years, with the leaf of <see cref="LeafNight"/> where no
    /// thermometer stood; null when no air of it is known.
    /// </summary>
    public static PastNight? WithLeaf(WeatherSeries years, LocalCalendar calendar, LocalDate evening) =>
        LeafNight.Coldest(years, calendar.Place, new(0), calendar.NightOf(evening)) is { } leaf
            ? new(NightAhead.Of(years, calendar, evening), leaf.LeafC)
            : null;
}

/// <summary>A temperature by a straight line of what is known of a night. Kelvins per unit, names as in <see cref="NightAhead"/>.</summary>
/// <param name="PerCloud">Per square of the share of cloud above a fifth.</param>
/// <param name="PerWind">Per m/s above 1.5: under that the air is calm to the ground.</param>
public readonly record struct NightLine(
    double Constant, double PerDewPoint, double PerHighBefore, double PerLowBefore, double PerCloud, double PerWind, double PerNightHour)
{
    internal const int Terms = 7;

    private const double LittleCloud = 0.2;
    private const double CalmWind = 1.5;

    /// <summary>°C; NaN where a term is not known. Unknown cloud counts as none, unknown wind as still.</summary>
    public double Of(in NightAhead night)
    {
        Span<double> terms = stackalloc double[Terms];
        Fill(terms, night);
        return Constant + PerDewPoint * terms[1] + PerHighBefore * terms[2] + PerLowBefore * terms[3]
            + PerCloud * terms[4] + PerWind * terms[5] + PerNightHour * terms[6];
    }

    /// <summary>The terms that the line's factors stand before.</summary>
    internal static void Fill(Span<double> terms, in NightAhead night)
    {
        (terms[0], terms[1], terms[2], terms[3]) = (1, night.DewPointC, night.HighBeforeC, night.LowBeforeC);
        (terms[4], terms[5], terms[6]) = (Cloud(night), Wind(night), night.NightHours);
    }

    internal static double Cloud(in NightAhead night)
    {
        double above = double.IsNaN(night.CloudPercent) ? 0 : Math.Max(0, night.CloudPercent / 100 - LittleCloud);
        return above * above;
    }

    internal static double Wind(in NightAhead night) =>
        double.IsNaN(night.WindMetresPerSecond) ? 0 : Math.Max(0, night.WindMetresPerSecond - CalmWind);
}

/// <summary>How much colder than the air the ground gets, by cloud and wind alone, and how far that errs. K.</summary>
public readonly record struct GroundDepression(double ClearAndCalm, double PerCloud, double PerWind, double Variance)
{
    internal double Of(in NightAhead night) =>
        Math.Max(0, ClearAndCalm + PerCloud * NightLine.Cloud(night) + PerWind * NightLine.Wind(night));
}

/// <summary>
/// How the lowest air and the lowest at the ground of a night hang on its cloud, wind, dew point, the day and night before
/// and its length, at one kind of place.
/// </summary>
/// <remarks>
/// Two linear regressions over cold nights, and what they leave together; the forecast's low is not among the terms, so the
/// rule does not depend on how good a forecast is (<see cref="GroundFrost"/> weighs them). In the manner of Snyder and de
/// Melo-Abreu 2005 (FAO 10, vol. 1, ch. 5: low from evening air and dew point), with cloud, wind and night length in place of
/// their choice of clear, calm nights. A fitted rule is local.
/// </remarks>
/// <param name="Low">The lowest air, °C.</param>
/// <param name="Ground">The lowest at the ground, °C.</param>
/// <param name="LowVariance">Of what <paramref name="Low"/> leaves, K².</param>
/// <param name="Covariance">Of what both leave: a night colder than the line is so at both heights.</param>
/// <param name="GroundVariance">Of what <paramref name="Ground"/> leaves, K².</param>
/// <param name="Depression">For nights of which the rest is not known, or that are unlike those of the rule.</param>
public sealed record GroundRule(
    NightLine Low, NightLine Ground, double LowVariance, double Covariance, double GroundVariance, GroundDepression Depression)
{
    private const int NightsNeeded = 100;
    private const double ColdDewPointC = 8;
    private const double ColdLowC = 7;

    /// <summary>Temperate lowland, 10 cm over short grass.</summary>
    /// <remarks>
    /// Fitted to De Bilt (KNMI), 15 April to 31 October of the odd years 1981 to 2019; the even years were kept for the test
    /// (GroundFrostAtDeBiltTests), which also makes this fit anew. Elsewhere it is a guess: too cold in dry air, too warm where
    /// cold moist air gathers; <see cref="Fit"/> one to the place's past years where these are at hand. With the leaf for the
    /// ground that did nearly as well at De Bilt, without any thermometer near it.
    /// </remarks>
    public static GroundRule Lowland { get; } = new(
        new(-4.192, 0.5628, 0.1849, 0.2259, 3.528, 0.8701, -0.0296),
        new(-8.600, 0.5939, 0.1261, 0.2783, 5.941, 1.2462, 0.0808),
        2.023, 2.310, 3.639,
        new(3.608, -1.993, -0.3203, 1.173));

    /// <summary>
    /// The rule of a place from its own past nights; null with fewer than a hundred cold ones, or nights all alike.
    /// </summary>
    /// <param name="nights">Of the frost season that the rule is wanted for. Those with something missing are left out.</param>
    /// <param name="groundError">
    /// Spread of what stands for the ground about what was there, K: none for a thermometer,
    /// <see cref="PastNight.LeafErrorKelvins"/> for the leaf.
    /// </param>
    public static GroundRule? Fit(IReadOnlyList<PastNight> nights, double groundError = 0)
    {
        Within.Checked(groundError, 0, 5, "An error of the ground's low", "K", nameof(groundError));
        List<PastNight> known = [.. nights.Where(night => IsWhole(night))];
        List<PastNight> cold = [.. known.Where(night => night.Ahead.DewPointC < ColdDewPointC)];
        NightLine low = default, ground = default;
        // Which nights are cold is asked of the rule, not of the outcome, which would bend it; three rounds settle it.
        for (int round = 0; round < 3; round++)
        {
            if (cold.Count < NightsNeeded
                || Line(cold, night => night.Ahead.LowC) is not { } lows || Line(cold, night => night.GroundLowC) is not { } grounds)
                return null;
            (low, ground) = (lows, grounds);
            if (round < 2)
                cold = [.. known.Where(night => low.Of(night.Ahead) < ColdLowC)];
        }
        double lowSquares = 0, products = 0, groundSquares = 0;
        foreach (var night in cold)
        {
            double lowLeft = night.Ahead.LowC - low.Of(night.Ahead), groundLeft = night.GroundLowC - ground.Of(night.Ahead);
            lowSquares += lowLeft * lowLeft;
            products += lowLeft * groundLeft;
            groundSquares += groundLeft * groundLeft;
        }
        int free = cold.Count - NightLine.Terms;
        return DepressionOf([.. known.Where(night => night.Ahead.LowC < ColdLowC)]) is { } depression
            ? new(
                low, ground, lowSquares / free, products / free, groundSquares / free + groundError * groundError,
                depression with { Variance = depression.Variance + groundError * groundError })
            : null;
    }

    private static bool IsWhole(PastNight night)
    {
        var ahead = night.Ahead;
        return !double.IsNaN(ahead.LowC + ahead.DewPointC + ahead.CloudPercent + ahead.WindMetresPerSecond
            + ahead.HighBeforeC + ahead.LowBeforeC + ahead.NightHours + night.GroundLowC);
    }

    private static NightLine? Line(List<PastNight> nights, Func<PastNight, double> of)
    {
        var squares = new LeastSquares(NightLine.Terms);
        Span<double> terms = stackalloc double[NightLine.Terms];
        foreach (var night in nights)
        {
            NightLine.Fill(terms, night.Ahead);
            squares.Add(terms, of(night));
        }
        return squares.Solve() is { } w ? new(w[0], w[1], w[2], w[3], w[4], w[5], w[6]) : null;
    }

    private static GroundDepression? DepressionOf(List<PastNight> nights)
    {
        var squares = new LeastSquares(3);
        foreach (var night in nights)
            squares.Add([1, NightLine.Cloud(night.Ahead), NightLine.Wind(night.Ahead)], night.Ahead.LowC - night.GroundLowC);
        if (nights.Count < NightsNeeded || squares.Solve() is not { } w)
            return null;
        var depression = new GroundDepression(w[0], w[1], w[2], 0);
        double left = nights.Sum(night => Math.Pow(night.Ahead.LowC - night.GroundLowC - depression.Of(night.Ahead), 2));
        return depression with { Variance = left / (nights.Count - 3) };
    }
}
