using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;
using Stored = (long Id, NodaTime.Instant FetchedAt, NodaTime.Instant Start, NodaTime.Instant End);

namespace GardenWatch.Weather.History;

/// <summary>The weather of a place as it was known at an instant: its pulls laid over one another, the newest on top.</summary>
/// <remarks>
/// <para>Per hour and variable the newest value wins; where a newer pull has none, the older one's stands.</para>
/// <para>
/// The seam: an hour after the newest pull was fetched is taken only from pulls fetched within 36 hours before it, since
/// an older forecast of an hour yet to come is worth less than saying that it is not known. An hour before it may come
/// from any pull: nothing better will ever be known of it.
/// </para>
/// </remarks>
public static class PullFold
{
    public const string SourceName = "Open-Meteo";

    /// <summary>How much older than the newest a pull may be and still speak of hours to come.</summary>
    public static Duration ForecastLife => WeatherAge.StaleAfter;

    /// <param name="pulls">Of one place, in any order; those fetched later than <paramref name="asOf"/> are not looked at.</param>
    public static WeatherSeries Join(IReadOnlyList<Pull> pulls, Instant asOf)
    {
        Pull[] newestFirst = [.. pulls.Where(p => p.FetchedAt <= asOf && p.Hours > 0).OrderByDescending(p => p.FetchedAt)];
        if (newestFirst.Length == 0)
            return WeatherSeries.Empty;

        var newest = newestFirst[0];
        var start = newestFirst.Min(p => p.Start);
        var last = newestFirst.Max(p => LastUsableStamp(p, newest));
        int hours = HoursBetween(start, last) + 1;
        var columns = new double[ServiceVariable.All.Length][];
        for (int i = 0; i < columns.Length; i++)
            Array.Fill(columns[i] = new double[hours], double.NaN);
        // One bit a variable: hours of which all is known are not looked at again, so older pulls cost next to nothing.
        var known = new ushort[hours];
        var sourceOfHour = new short[hours];
        Array.Fill(sourceOfHour, (short)-1);

        int everGiven = 0;
        for (int source = 0; source < newestFirst.Length; source++)
            everGiven |= Fill(newestFirst[source], newest, start, columns, known, sourceOfHour, (short)source);

        var given = ImmutableDictionary.CreateBuilder<WeatherVariable, ImmutableArray<double>>();
        for (int i = 0; i < columns.Length; i++)
            if ((everGiven & (1 << i)) != 0)
                given[ServiceVariable.All[i].Variable] = ImmutableCollectionsMarshal.AsImmutableArray(columns[i]);
        return new(
            start, hours, given.ToImmutable(),
            [.. newestFirst.Select(p => new HourSource(SourceKind.Forecast, SourceName, p.FetchedAt))],
            ImmutableCollectionsMarshal.AsImmutableArray(sourceOfHour));
    }

    /// <summary>Lays one pull under what is known already; gives the variables of which it has anything.</summary>
    private static int Fill(
        Pull pull, Pull newest, Instant start, double[][] columns, ushort[] known, short[] sourceOfHour, short source)
    {
        int everGiven = 0;
        var given = new PulledColumn?[columns.Length];
        for (int i = 0; i < given.Length; i++)
            if (pull.Columns.TryGetValue(ServiceVariable.All[i].Variable, out given[i]))
                everGiven |= 1 << i;

        int offset = HoursBetween(start, pull.Start);
        int end = HoursBetween(pull.Start, LastUsableStamp(pull, newest)) + 1;
        for (int hour = 0; hour < end; hour++)
        {
            int at = offset + hour;
            for (int open = everGiven & ~known[at]; open != 0; open &= open - 1)
            {
                int i = BitOperations.TrailingZeroCount(open);
                if (given[i]!.Scaled[hour] == PulledColumn.Missing)
                    continue;
                columns[i][at] = given[i]![hour];
                known[at] |= (ushort)(1 << i);
                if (sourceOfHour[at] < 0)
                    sourceOfHour[at] = source;
            }
        }
        return everGiven;
    }

    private static Instant LastUsableStamp(Pull pull, Pull newest) =>
        newest.FetchedAt - pull.FetchedAt <= ForecastLife
            ? pull.LastStamp
            : Instant.Min(pull.LastStamp, Instant.FromUnixTimeSeconds(newest.FetchedAt.ToUnixTimeSeconds() / 3600 * 3600));

    private static int HoursBetween(Instant from, Instant to) => (int)(to - from).TotalHours;

    /// <summary>Which stored pulls a fold at an instant needs, newest first: few, so that a small machine loads little.</summary>
    /// <remarks>
    /// The newest; the one before it if it is within the forecast's life, to stand in for what the newest left null; then
    /// backwards, each time the pull that had seen the next missing hours pass and reaches farthest back. Only across a
    /// gap in the pulls does an old forecast fill hours that were still to come when it was fetched.
    /// </remarks>
    /// <param name="pulls">End is the last stamp.</param>
    public static ImmutableArray<long> Needed(
        IEnumerable<(long Id, Instant FetchedAt, Instant Start, Instant End)> pulls, Instant asOf)
    {
        Stored[] known = [.. pulls.Where(p => p.FetchedAt <= asOf).OrderByDescending(p => p.FetchedAt).ThenByDescending(p => p.Id)];
        if (known.Length == 0)
            return [];

        List<Stored> needed = [known[0]];
        if (known.Length > 1 && known[0].FetchedAt - known[1].FetchedAt <= ForecastLife)
            needed.Add(known[1]);
        while (NextBefore(needed.Min(p => p.Start), known) is { } next)
            needed.Add(next);
        return [.. needed.OrderByDescending(p => p.FetchedAt).ThenByDescending(p => p.Id).Select(p => p.Id)];
    }

    /// <summary>The pull with which to go on backwards from the first hour that is covered; null at the end.</summary>
    private static Stored? NextBefore(Instant coveredFrom, Stored[] newestFirst)
    {
        var joint = coveredFrom - Duration.FromHours(1);
        Stored? sawItPass = null;
        Stored? reaches = null;
        Stored? endsNearest = null;
        foreach (var pull in newestFirst)
        {
            if (pull.Start >= coveredFrom)
                continue;
            if (pull.End < joint)
            {
                if (!(endsNearest?.End >= pull.End))
                    endsNearest = pull;
                continue;
            }
            reaches ??= pull;
            if (pull.FetchedAt >= joint && !(sawItPass?.Start <= pull.Start))
                sawItPass = pull;
        }
        return sawItPass ?? reaches ?? endsNearest;
    }
}
