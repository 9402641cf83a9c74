using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// When what a waiting job needs usually comes, from the place's past years: from the date before which it came in one year
/// in ten to the date after which it came in one in ten. Null for what no past year tells, such as a rain.
/// </summary>
/// <remarks>
/// Past years know open tended ground, so a bed under film or glass is ahead of them. The forecast is asked first: what
/// it shows within its days needs no range.
/// </remarks>
internal sealed class LikelyDates(ClimateSummary climate, LocalDate today)
{
    // How far the sum of a coming season's warmth strays from the normal one: about a week in spring, of 30 days or more to
    // go. Common practice.
    private const double WarmthStraysBy = 0.2;
    private const int LongestWaitDays = 366;
    private const int MildNightsCounted = 7;

    public DateInterval? Of(Condition condition, Scene scene) => condition switch
    {
        Condition.Phrase phrase => OfPhrase(phrase, scene),
        Condition.AllOf(var parts) => Latest([.. parts.Select(part => Of(part, scene))]),
        Condition.AnyOf(var parts) => parts.Select(part => Of(part, scene)).OfType<DateInterval>().MinBy(range => range.Start),
        _ => null,
    };

    /// <summary>The day on which the length of the day allows it again: known for good. Null where more than daylight is asked.</summary>
    public static DateInterval? ByDaylight(Condition condition, Scene scene, LocalDate today)
    {
        if (!Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure == Measure.Daylight))
            return null;
        for (int day = 1; day <= LongestWaitDays; day++)
            if (today.PlusDays(day) is var date && Evaluate.Holds(condition, scene.Weather.Calendar.DayOf(date).Start, scene) == Truth.Yes)
                return new(date, date);
        return null;
    }

    private DateInterval? OfPhrase(Condition.Phrase phrase, Scene scene)
    {
        bool rises = phrase.Comparison is Comparison.AtLeast or Comparison.Above or Comparison.Between;
        var limit = phrase.Limit.Name is { } name
            ? Evaluate.Numbers(phrase, scene.Numbers).First(number => number.Name == name).InForce
            : phrase.Limit.Default;
        if (limit is not { Value: var needed })
            return null;
        return phrase.Of.Measure switch
        {
            Measure.Soil when rises => SoilReaches(phrase, needed),
            Measure.Air when rises && phrase is { Statistic: Statistic.Low, Window.Kind: WindowKind.NextNights or WindowKind.PastNights } =>
                NightsReach(needed, phrase.Window.Kind == WindowKind.NextNights),
            Measure.Air when !rises && phrase.Statistic == Statistic.Low => ColdReaches(needed),
            Measure.Days => DaysReach(phrase, needed, scene),
            Measure.Warmth when rises => WarmthReaches(phrase, needed, scene),
            _ => null,
        };
    }

    private DateInterval? SoilReaches(Condition.Phrase phrase, double needed)
    {
        double depthCm = (phrase.Of.DepthMetres ?? ConditionLanguage.UsualSoilDepthMetres) * 100;
        var known = climate.Soils
            .Where(soil => soil.OfLow == (phrase.Statistic == Statistic.Low))
            .GroupBy(soil => soil.DepthCm)
            .MinBy(depth => Math.Abs(depth.Key - depthCm));
        return known is null ? null : Between(known.Select(soil => (soil.ThresholdC, soil.First)), needed, shift: 0);
    }

    private DateInterval? NightsReach(double needed, bool ahead) =>
        Between(climate.Nights.Select(nights => (nights.ThresholdC, nights.First)), needed, shift: ahead ? -MildNightsCounted : 0);

    /// <summary>The next autumn's first such cold; null in the season in which any night may bring it.</summary>
    private DateInterval? ColdReaches(double needed)
    {
        if (climate.Frosts.Where(frost => !frost.OfLeaf && frost.ThresholdC <= needed).MaxBy(frost => frost.ThresholdC) is not { LastOfSpring: var last, FirstOfAutumn: var first })
            return null;
        int season = first.SeasonOf(today);
        return last.DateIn(season, last.LateDay) < today && first.DateIn(season, first.EarlyDay) is { } early && early > today && first.DateIn(season, first.LateDay) is { } late
            ? new(early, late) : null;
    }

    private DateInterval? DaysReach(Condition.Phrase phrase, double needed, Scene scene)
    {
        bool ahead = phrase.Window.Kind == WindowKind.Until;
        bool comes = ahead ? phrase.Comparison is Comparison.AtMost or Comparison.Below : phrase.Comparison is Comparison.AtLeast or Comparison.Above;
        if (!comes || scene.Moments.DateOf(phrase.Window.Moment!, ahead, today, scene.Weather.Calendar) is not { } date)
            return null;
        var day = date.PlusDays((int)(ahead ? -Math.Floor(needed) : Math.Ceiling(needed)));
        return day < today ? null : new(day, day);
    }

    private DateInterval? WarmthReaches(Condition.Phrase phrase, double needed, Scene scene)
    {
        if (Evaluate.At(phrase, scene.Weather.Calendar.DayOf(today).Start, scene).Value is not { } gathered)
            return null;
        double left = needed - gathered;
        return After(left * (1 - WarmthStraysBy)) is { } from && After(left * (1 + WarmthStraysBy)) is { } until ? new(from, until) : null;

        LocalDate? After(double warmth)
        {
            double floor = phrase.Of.BaseCelsius ?? 0, ceiling = phrase.Of.CeilingCelsius ?? double.PositiveInfinity;
            for (int day = 0; day <= LongestWaitDays; day++)
            {
                if (warmth <= 0)
                    return today.PlusDays(day);
                var air = climate.AirOn(today.PlusDays(day));
                warmth -= Math.Max(0, (Math.Clamp(air.LowC, floor, ceiling) + Math.Clamp(air.HighC, floor, ceiling)) / 2 - floor);
            }
            return null;
        }
    }

    /// <summary>Days of the season between those of the thresholds on either side.</summary>
    private DateInterval? Between(IEnumerable<(double Threshold, UsualDate Date)> known, double needed, int shift)
    {
        var rows = known.OrderBy(row => row.Threshold).ToList();
        if (rows.FindLastIndex(row => row.Threshold <= needed) is var below && below < 0)
            return null;
        var (low, high) = (rows[below], rows[Math.Min(below + 1, rows.Count - 1)]);
        if (needed > high.Threshold)
            return null;
        double part = high.Threshold > low.Threshold ? (needed - low.Threshold) / (high.Threshold - low.Threshold) : 0;
        if (At(date => date.EarlyDay) is not { } early || At(date => date.LateDay) is not { } late)
            return null;
        var season = low.Date.SeasonOf(today);
        var (from, until) = (low.Date.DateIn(season, early)!.Value.PlusDays(shift), low.Date.DateIn(season, late)!.Value.PlusDays(shift));
        return until < today ? null : new(LocalDate.Max(from, today), until);

        int? At(Func<UsualDate, int?> day) => part switch
        {
            0 => day(low.Date),
            _ => day(low.Date) is { } a && day(high.Date) is { } b ? (int)Math.Round(a + part * (b - a)) : null,
        };
    }

    private static DateInterval? Latest(DateInterval?[] ranges) => ranges.Length == 0 || ranges.Any(range => range is null)
        ? null
        : new(ranges.Max(range => range!.Start), ranges.Max(range => range!.End));
}
