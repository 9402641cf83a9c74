using GardenWatch.Agronomy.Climate;
using NodaTime;

namespace GardenWatch.Agronomy.Warmth;

/// <summary>The day on which warmth comes to what is needed: on known and forecast days, then from past years.</summary>
/// <remarks>
/// Degree-days of every source go in, as long as they are those the need was stated in. Needs are sums in °C days, above 0.
/// </remarks>
public static class WarmthTarget
{
    /// <summary>The first day on which the warmth from <paramref name="first"/> on comes to what is needed.</summary>
    /// <param name="dailyCd">One value a day; NaN where it is not known.</param>
    /// <remarks>
    /// A day counts when the known days alone suffice, or when at most one day in ten is unknown and, counted as the mean of
    /// the known, they make it enough.
    /// </remarks>
    public static WarmthOutcome On(ReadOnlySpan<double> dailyCd, LocalDate first, double neededCd)
    {
        CheckNeed(neededCd);
        double known = 0;
        int unknown = 0;
        for (int day = 0; day < dailyCd.Length; day++)
        {
            if (double.IsNaN(dailyCd[day]))
                unknown++;
            else
                known += dailyCd[day];
            // A comparison with a sum that is not known is false.
            if (known >= neededCd || new WarmthGathered(known, day + 1, unknown).EstimatedDegreeDays >= neededCd)
                return new WarmthOutcome.Reached(first.PlusDays(day));
        }
        double gathered = new WarmthGathered(known, dailyCd.Length, unknown).EstimatedDegreeDays;
        return double.IsNaN(gathered)
            ? new WarmthOutcome.Unknown(unknown, dailyCd.Length)
            : new WarmthOutcome.NotYet(gathered, neededCd - gathered);
    }

    /// <summary>
    /// On which day warmth came to what is needed in each of the past years, gathered from the same date on: the early, the
    /// middle and the late day, with the years in which it never came.
    /// </summary>
    /// <param name="record">The dates of the past days.</param>
    /// <param name="dailyCd">One value for each date of the record; NaN where it is not known.</param>
    /// <param name="from">The first day that counts: a sowing date, or the morrow of the last forecast day.</param>
    /// <param name="neededCd">For the latter, what is still needed.</param>
    /// <param name="withinDays">How far to look, at most a year; later is never.</param>
    /// <remarks>
    /// Past years in place of normals: warmth above a base does not follow from a normal's mean where the weather swings about
    /// the base, and a range is what is honest beyond the forecast.
    /// </remarks>
    public static UsualDate InPastYears(
        DateInterval record, ReadOnlySpan<double> dailyCd, AnnualDate from, double neededCd, int withinDays = 365)
    {
        CheckNeed(neededCd);
        if (dailyCd.Length != record.Length)
            throw new ArgumentException($"{dailyCd.Length} values for {record.Length} days.", nameof(dailyCd));
        if (withinDays is < 1 or > 365)
            throw new ArgumentOutOfRangeException(nameof(withinDays), withinDays, "A year's search is from 1 to 365 days.");
        var sums = new double[record.Length + 1];
        var unknown = new int[record.Length + 1];
        for (int day = 0; day < dailyCd.Length; day++)
        {
            bool missing = double.IsNaN(dailyCd[day]);
            sums[day + 1] = sums[day] + (missing ? 0 : dailyCd[day]);
            unknown[day + 1] = unknown[day] + (missing ? 1 : 0);
        }
        return ClimateDates.DateReached(record, from, withinDays, Holds);

        bool? Holds(int day)
        {
            int start = StartBefore(day);
            if (start < 0)
                return null;
            var gathered = new WarmthGathered(sums[day + 1] - sums[start], day + 1 - start, unknown[day + 1] - unknown[start]);
            return gathered.KnownDegreeDays >= neededCd ? true
                : double.IsNaN(gathered.EstimatedDegreeDays) ? null
                : gathered.EstimatedDegreeDays >= neededCd;
        }

        int StartBefore(int day)
        {
            var date = record.Start.PlusDays(day);
            var start = from.InYear(date.Year);
            return Period.DaysBetween(record.Start, start <= date ? start : from.InYear(date.Year - 1));
        }
    }

    /// <summary>On known and forecast days if they suffice, else as past years would go on from there.</summary>
    /// <param name="dailyCd">From <paramref name="first"/> to the last forecast day; NaN where it is not known.</param>
    /// <param name="record">The dates of the past days.</param>
    /// <param name="pastCd">One value for each date of the record, by the same method and thresholds.</param>
    /// <remarks>The warmth of the forecast is taken as sure: ask once for each ensemble member to have its doubt too.</remarks>
    public static WarmthDates Expected(
        ReadOnlySpan<double> dailyCd, LocalDate first, double neededCd, DateInterval record, ReadOnlySpan<double> pastCd)
    {
        var outcome = On(dailyCd, first, neededCd);
        switch (outcome)
        {
            case WarmthOutcome.Reached reached:
                return new(outcome, null, reached.Date, reached.Date, reached.Date);
            case WarmthOutcome.NotYet notYet:
                var morrow = first.PlusDays(dailyCd.Length);
                var past = InPastYears(record, pastCd, new AnnualDate(morrow.Month, morrow.Day), notYet.StillNeededCd);
                return new(
                    outcome, past, past.DateIn(morrow.Year, past.EarlyDay), past.DateIn(morrow.Year, past.MiddleDay), past.DateIn(morrow.Year, past.LateDay));
            default:
                return new(outcome, null, null, null, null);
        }
    }

    /// <summary>The day of a smooth, usual year on which warmth comes to what is needed; null if a year is not enough.</summary>
    /// <param name="normals">One for each day of a year without leap day, such as <see cref="ClimateSummary.DailyAir"/>.</param>
    /// <remarks>
    /// A single sine through the normal low and high. Where only normals are at hand; early in spring it comes late, since
    /// the warm days that a mean smooths away bring warmth and the cold ones take none. Not a range: for that, past years.
    /// </remarks>
    public static LocalDate? InUsualYear(
        IReadOnlyList<NormalAir> normals, LocalDate from, double neededCd, double baseC, double ceilingC = double.PositiveInfinity)
    {
        CheckNeed(neededCd);
        double gathered = 0;
        for (int day = 0; day < Normals.Days; day++)
        {
            var date = from.PlusDays(day);
            var air = normals[Normals.SlotOf(date)];
            gathered += DegreeDays.SingleSine(air.LowC, air.HighC, baseC, ceilingC);
            if (gathered >= neededCd)
                return date;
        }
        return null;
    }

    private static void CheckNeed(double neededCd)
    {
        if (!(neededCd > 0 && double.IsFinite(neededCd)))
            throw new ArgumentOutOfRangeException(nameof(neededCd), neededCd, "What is needed is a sum above 0 °C days.");
    }
}
