using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>What a statistic of a window is, found by going through its hours one by one.</summary>
/// <param name="Enough">Whether so many of the hours are known that the value counts.</param>
/// <param name="OpenUpwardOnly">Whether what is not known could only make it more, and something is known.</param>
internal readonly record struct PlainStatistic(double Value, bool Enough, bool OpenUpwardOnly)
{
    public static Condition.Phrase Phrase(Measured of, Statistic statistic, TimeWindow window, double level, double limit)
    {
        var row = ConditionLanguage.Row(of.Measure);
        return new(of, statistic, ConditionLanguage.Row(statistic).TakesLevel ? new(null, new(level, row.Dimension)) : null, window,
            Comparison.AtLeast, new(null, new(limit, ConditionLanguage.DimensionOf(of.Measure, statistic))), null, null);
    }

    public static PlainStatistic Of(Condition.Phrase phrase, Instant asked, LocalCalendar calendar, Instant start, double[] hourly, double level)
    {
        var statistic = phrase.Statistic;
        if (statistic is Statistic.MorningsAbove or Statistic.MorningsBelow)
            return Mornings(statistic == Statistic.MorningsAbove, phrase.Window.Count, asked, calendar, start, hourly, level);
        bool bothEnds = statistic is Statistic.Low or Statistic.High or Statistic.MeanOfLows or Statistic.MeanOfHighs;
        bool byPiece = statistic is Statistic.MeanOfLows or Statistic.MeanOfHighs;
        var intervals = byPiece && phrase.Window.Kind is WindowKind.PastDays or WindowKind.NextDays
            ? Days(phrase.Window, asked, calendar)
            : PlainWindow.Intervals(phrase.Window, asked, calendar);
        var pieces = PlainWindow.Values(intervals, start, hourly, bothEnds);
        var all = pieces.SelectMany(piece => piece).ToArray();
        var known = all.Where(value => !double.IsNaN(value)).ToArray();
        double share = all.Length == 0 ? 0 : (double)known.Length / all.Length;
        bool enough = statistic switch
        {
            Statistic.Low or Statistic.High => share >= 0.9,
            Statistic.MeanOfLows or Statistic.MeanOfHighs => pieces.All(p => p.Length > 0 && p.Count(v => !double.IsNaN(v)) >= 0.9 * p.Length),
            Statistic.RunAbove or Statistic.RunBelow or Statistic.Run => share == 1,
            _ => share >= 0.95,
        };
        bool openUpward = known.Length > 0 && statistic is Statistic.High or Statistic.Total or Statistic.Peak or Statistic.Hours or Statistic.Run
            or Statistic.HoursAbove or Statistic.HoursBelow or Statistic.RunAbove or Statistic.RunBelow;
        if (!enough)
            return new(double.NaN, false, openUpward);
        return new(statistic switch
        {
            Statistic.Low => known.Min(),
            Statistic.High or Statistic.Peak => known.Max(),
            Statistic.Mean => known.Average(),
            Statistic.Total or Statistic.Hours => known.Sum(),
            Statistic.HoursAbove => known.Count(value => value > level),
            Statistic.HoursBelow => known.Count(value => value < level),
            Statistic.RunAbove => pieces.Max(piece => Run(piece, value => value > level)),
            Statistic.RunBelow => pieces.Max(piece => Run(piece, value => value < level)),
            Statistic.Run => pieces.Max(piece => Run(piece, value => value == 1)),
            Statistic.MeanOfLows => pieces.Average(piece => piece.Where(value => !double.IsNaN(value)).Min()),
            _ => pieces.Average(piece => piece.Where(value => !double.IsNaN(value)).Max()),
        }, true, openUpward);
    }

    private static int Run(double[] values, Predicate<double> isSo)
    {
        int longest = 0, run = 0;
        foreach (double value in values)
        {
            run = isSo(value) ? run + 1 : 0;
            longest = Math.Max(longest, run);
        }
        return longest;
    }

    private static List<Interval> Days(TimeWindow window, Instant asked, LocalCalendar calendar)
    {
        var edges = new List<Instant> { Instant.FromUnixTimeSeconds(asked.ToUnixTimeSeconds() / 3600 * 3600) };
        for (int i = 1; i <= window.Count; i++)
        {
            var upTo = PlainWindow.Intervals(window with { Count = i }, asked, calendar)[0];
            edges.Add(window.Kind == WindowKind.PastDays ? upTo.Start : upTo.End);
        }
        edges.Sort();
        return [.. edges.Zip(edges.Skip(1), (a, b) => new Interval(a, b))];
    }

    private static PlainStatistic Mornings(bool above, int wanted, Instant asked, LocalCalendar calendar, Instant start, double[] hourly, double level)
    {
        int run = 0;
        for (var date = calendar.DateOf(asked); run < wanted; date = date.PlusDays(-1))
        {
            if (calendar.DayOf(date).Duration == Duration.Zero)
                continue;
            var eight = calendar.Zone.ResolveLocal(date.At(new LocalTime(8, 0)), NodaTime.TimeZones.Resolvers.LenientResolver).ToInstant();
            if (eight > asked)
                continue;
            int hour = (int)Math.Floor((eight - start).TotalHours);
            double value = hour >= 0 && hour < hourly.Length ? hourly[hour] : double.NaN;
            if (double.IsNaN(value))
                return new(double.NaN, false, true);
            if (above ? value <= level : value >= level)
                break;
            run++;
        }
        return new(run, true, true);
    }
}
