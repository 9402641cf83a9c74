using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>The frost of one year that bounds its warm season; no day when that half of the year had none.</summary>
/// <param name="SeasonStart">1 January in the north; 1 July before, in the south.</param>
/// <param name="DayOfSeason">1 on the season's first day.</param>
public readonly record struct FrostOfYear(LocalDate SeasonStart, int? DayOfSeason)
{
    public LocalDate? Date => DayOfSeason is { } day ? SeasonStart.PlusDays(day - 1) : null;
}

/// <summary>The usual last and first frost of a place, from its daily lows.</summary>
/// <remarks>
/// In the north the season is the calendar year and turns on 1 August; in the south it begins on 1 July and turns on
/// 1 February. A half with more than one day in ten missing is left out. Chances are shares of the years on record, those
/// without frost among them (a mixed distribution, as NOAA's tables use): with thirty years a 10 % date is uncertain by
/// about five days. A threshold counts when it is reached.
/// </remarks>
public static class FrostDates
{
    private const double ShareOfDaysNeeded = 0.9;

    /// <summary>The last frost of each warm season's start, for every year of which enough is known.</summary>
    public static IReadOnlyList<FrostOfYear> LastOfSpring(
        ReadOnlySpan<double> dailyLowC, LocalDate first, double thresholdC, bool southern) =>
        Years(dailyLowC, first, thresholdC, southern, spring: true);

    /// <summary>The first frost of each warm season's end, for every year of which enough is known.</summary>
    public static IReadOnlyList<FrostOfYear> FirstOfAutumn(
        ReadOnlySpan<double> dailyLowC, LocalDate first, double thresholdC, bool southern) =>
        Years(dailyLowC, first, thresholdC, southern, spring: false);

    /// <summary>
    /// Day of the season after which the last frost still comes in a share of years; null where so many years have none,
    /// or where there is no record.
    /// </summary>
    /// <remarks>Some tables call the 10 % day the 90th percentile, others the 90 % level the early one: say "later".</remarks>
    public static double? DayWithLaterFrost(IReadOnlyList<FrostOfYear> lastFrosts, double chance) =>
        // A spring without frost had its last one before the season began.
        Finite(Quantile([.. lastFrosts.Select(year => year.DayOfSeason ?? double.NegativeInfinity)], 1 - chance));

    /// <summary>
    /// Day of the season before which the first frost has come in a share of years; null where so many years have none,
    /// or where there is no record.
    /// </summary>
    public static double? DayWithEarlierFrost(IReadOnlyList<FrostOfYear> firstFrosts, double chance) =>
        Finite(Quantile([.. firstFrosts.Select(year => year.DayOfSeason ?? double.PositiveInfinity)], chance));

    /// <summary>Quantile by linear interpolation between order statistics; NaN of nothing, or when one of them is NaN.</summary>
    /// <remarks>Type 7 of Hyndman and Fan 1996, Am. Stat. 50:361-365. Plotting positions i/(n+1) lie further out in the tails.</remarks>
    public static double Quantile(ReadOnlySpan<double> values, double share)
    {
        if (!(share is >= 0 and <= 1))
            throw new ArgumentOutOfRangeException(nameof(share), share, "A share is 0 to 1.");
        if (values.IsEmpty || values.Contains(double.NaN))
            return double.NaN;
        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        double at = share * (sorted.Length - 1);
        int below = (int)Math.Floor(at);
        int above = Math.Min(below + 1, sorted.Length - 1);
        return at == below || sorted[below] == sorted[above]
            ? sorted[below]
            : sorted[below] + (at - below) * (sorted[above] - sorted[below]);
    }

    private static double? Finite(double day) => double.IsFinite(day) ? day : null;

    private static List<FrostOfYear> Years(
        ReadOnlySpan<double> lows, LocalDate first, double thresholdC, bool southern, bool spring)
    {
        List<FrostOfYear> years = [];
        if (lows.IsEmpty)
            return years;
        var last = first.PlusDays(lows.Length - 1);
        for (int year = first.Year - 1; year <= last.Year; year++)
        {
            var start = southern ? new LocalDate(year, 7, 1) : new LocalDate(year, 1, 1);
            var turn = southern ? new LocalDate(year + 1, 2, 1) : new LocalDate(year, 8, 1);
            var from = spring ? start : turn;
            var until = spring ? turn : start.PlusYears(1);
            int days = Period.DaysBetween(from, until);
            int known = 0;
            int? frost = null;
            for (int i = 0; i < days; i++)
            {
                int at = Period.DaysBetween(first, from) + i;
                double low = at >= 0 && at < lows.Length ? lows[at] : double.NaN;
                if (double.IsNaN(low))
                    continue;
                known++;
                if (low <= thresholdC && (spring || frost is null))
                    frost = Period.DaysBetween(start, from) + i + 1;
            }
            if (known >= ShareOfDaysNeeded * days)
                years.Add(new(start, frost));
        }
        return years;
    }
}
