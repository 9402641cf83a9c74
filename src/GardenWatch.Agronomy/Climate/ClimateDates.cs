using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>When something held in past years: the usual date of any condition, from any day of the year on.</summary>
public static class ClimateDates
{
    /// <summary>A year counts in which at most this share of the days looked at is not known; three days always may be.</summary>
    public const double ShareUnknownAllowed = 0.1;

    private const int DaysUnknownAllowed = 3;

    /// <summary>The first day on which something holds.</summary>
    /// <param name="record">The days of the past years, one behind the other.</param>
    /// <param name="from">Where to begin in each year: the season's start, or today's date.</param>
    /// <param name="withinDays">How far to look; later is never.</param>
    /// <param name="holds">Asked with the number of a day in the record, from 0; null where it can't be known.</param>
    /// <remarks>
    /// A year in which too much is not known before the day is left out: it may have held then. One that has not held by the
    /// end of the record, with its days still to come, is left out too.
    /// </remarks>
    public static UsualDate DateReached(DateInterval record, AnnualDate from, int withinDays, Func<int, bool?> holds) =>
        UsualDate.OfFirst(from, Years(record, from, withinDays, holds, backwards: false));

    /// <summary>The last day on which something holds.</summary>
    /// <inheritdoc cref="DateReached"/>
    public static UsualDate DateLeft(DateInterval record, AnnualDate from, int withinDays, Func<int, bool?> holds) =>
        UsualDate.OfLast(from, Years(record, from, withinDays, holds, backwards: true));

    private static List<int?> Years(DateInterval record, AnnualDate from, int withinDays, Func<int, bool?> holds, bool backwards)
    {
        List<int?> days = [];
        for (int year = record.Start.Year - 1; year <= record.End.Year; year++)
        {
            int start = Period.DaysBetween(record.Start, from.InYear(year));
            if (start + withinDays <= 0 || start >= record.Length)
                continue;
            int unknown = 0;
            int? found = null;
            int looked = 0;
            while (looked < withinDays && found is null)
            {
                int offset = backwards ? withinDays - 1 - looked : looked;
                int day = start + offset;
                looked++;
                switch (day >= 0 && day < record.Length ? holds(day) : null)
                {
                    case true: found = offset + 1; break;
                    case null: unknown++; break;
                }
            }
            if (unknown <= Math.Max(found is null ? 0 : DaysUnknownAllowed, ShareUnknownAllowed * looked))
                days.Add(found);
        }
        return days;
    }
}
