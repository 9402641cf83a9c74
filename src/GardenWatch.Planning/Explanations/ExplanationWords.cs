using System.Globalization;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Explanations;

/// <summary>The sentences of an explanation: what a picture shows, said so that nobody needs the picture.</summary>
public static class ExplanationWords
{
    private const int MostRuns = 5;
    private const int MostDecimals = 3;

    /// <summary>How the job stands, how the two weeks past and the two to come are, and what stood in the way most.</summary>
    public static IEnumerable<string> Summary(Explanation explanation)
    {
        yield return StandingOf(explanation);
        if (explanation.HeldBack is { } heldBack)
            yield return heldBack;
        if (!explanation.Grounds.IsEmpty)
            yield break;
        if (explanation.Days.IsEmpty)
        {
            yield return "No weather is known yet, so nothing can be said of single days.";
            yield break;
        }
        var past = explanation.Days.Where(day => day.IsPast).ToList();
        var coming = explanation.Days.Where(day => !day.IsPast).ToList();
        string did = explanation.IsCalledFor ? "it was called for on" : "the weather left time for it on";
        string will = explanation.IsCalledFor ? "by the forecast it is called for on" : "the forecast leaves time for it on";
        yield return $"In the last {past.Count} days {did} {Counted(past, DayMark.Held, explanation)}{Rest(past, explanation)}.";
        yield return $"In the {coming.Count} days from today {will} {Counted(coming, DayMark.Held, explanation)}{Rest(coming, explanation)}.";
        if (InTheWay(explanation, past) is { } hindrance)
            yield return hindrance;
        if (explanation.Trial is { } trial)
            yield return TrialOf(explanation, trial);
    }

    public static string RoleOf(ExplainedCondition condition) => condition.Role switch
    {
        ConditionRole.When => "must hold",
        ConditionRole.Unless => "must not hold",
        _ => "ends the season",
    };

    /// <summary>"Held, by 3 °F", "Missed, by 0.2 in", "In the way", "Season over".</summary>
    public static string NowOf(ExplainedCondition condition, Speech speech)
    {
        string state = (condition.Role, condition.Allows) switch
        {
            (_, null) => "Can't be known",
            (ConditionRole.When, true) => "Held",
            (ConditionRole.When, false) => "Missed",
            (ConditionRole.Unless, true) => "Not in the way",
            (ConditionRole.Unless, false) => "In the way",
            (_, true) => "Season still open",
            (_, false) => "Season over",
        };
        return condition is { Margin: { } margin, Dimension: { } dimension }
            ? $"{state}, by {Margin(Math.Abs(margin), dimension, speech)}{speech.UnitOf(OfMargin(dimension))}"
            : state;
    }

    /// <summary>From what chance on it is advised, what stands against what, and the chance of now where it is known.</summary>
    public static string RuleOf(Explanation explanation)
    {
        string from = string.Create(CultureInfo.InvariantCulture, $"Advised from a chance of {explanation.Rule.LeastShare * 100:0.#}\u00A0% on: {explanation.Rule.Why}.");
        return explanation.Open?.Chance is { } chance
            ? string.Create(CultureInfo.InvariantCulture, $"{from} The chance now is {chance.Value * 100:0}\u00A0%, {SourceOf(chance.Source)}.")
            : $"{from} The chance of now is not known.";
    }

    /// <summary>Where a number comes from, with file and line where there are any.</summary>
    public static string SourceOf(NumberSource source)
    {
        string whose = source.Origin switch
        {
            NumberOrigin.Shipped => source.File is null ? "comes with this kind of job" : "shipped",
            NumberOrigin.CropFile => "your crop file",
            NumberOrigin.ChorePhrase => "the chore's own phrase",
            NumberOrigin.GardenKind => "the garden's tune for this kind of job",
            NumberOrigin.GardenCrop => "the garden's tune for this crop",
            NumberOrigin.Planting => "this planting's tune",
            NumberOrigin.Chore => "this chore's tune",
            _ => "tried out, in no file",
        };
        string place = source is { File: { } file, Line: { } line }
            ? string.Create(CultureInfo.InvariantCulture, $" ({file}, line {line})")
            : "";
        return whose + place;
    }

    /// <summary>A margin's number in the garden's units, with no more decimals than tell it from nothing.</summary>
    public static string Margin(double margin, Dimension dimension, Speech speech)
    {
        double own = speech.InUnits(margin, OfMargin(dimension));
        int usual = dimension switch
        {
            Dimension.Days or Dimension.Hours => 0,
            Dimension.WaterDepth or Dimension.RainRate when speech.Units == UnitSystem.Us => 2,
            _ => 1,
        };
        for (int decimals = usual; ; decimals++)
        {
            double rounded = Math.Round(own, decimals, MidpointRounding.AwayFromZero);
            if (rounded != 0 || decimals == MostDecimals)
                return (rounded == 0 ? 0 : rounded).ToString("0.###", CultureInfo.InvariantCulture);
        }
    }

    /// <summary>A margin between temperatures is a difference.</summary>
    public static Dimension OfMargin(Dimension dimension) =>
        dimension == Dimension.Temperature ? Dimension.TemperatureDifference : dimension;

    private static string StandingOf(Explanation explanation)
    {
        string name = explanation.Job.FullName;
        return explanation.Open switch
        {
            null => explanation is { HeldBack: null, IsOfTheNight: true } ? $"{name}: no cold night is in sight."
                : explanation is { HeldBack: null, IsOfTheDay: true } ? $"{name}: no such weather is in sight."
                : $"{name}: not asked for today.",
            { Standing: Standing.Now } job => job.ActBy is { } by
                ? $"{name}: asked for today, by {explanation.Speech.Hour(by)}."
                : $"{name}: asked for today.",
            { Standing: Standing.Soon } job => job.Best is { } best
                ? $"{name}: on the way, {Tongue.English.DayFrom(explanation.Today, best.From.InZone(explanation.Speech.Zone).Date)}."
                : $"{name}: on the way.",
            { Standing: Standing.Waiting } => $"{name}: waiting.",
            { Standing: Standing.Missed } => $"{name}: the season for it is over.",
            _ => $"{name}: not asked for today.",
        };
    }

    private static string Counted(List<ExplainedDay> days, DayMark mark, Explanation explanation)
    {
        var which = days.Where(day => day.Whole == mark).Select(day => day.Date).ToList();
        string unit = explanation.IsOfTheNight ? "night" : "day";
        return which.Count == 0 ? "none" : $"{Tongue.English.Counted(which.Count, unit)} ({Runs(which)})";
    }

    private static string Rest(List<ExplainedDay> days, Explanation explanation)
    {
        int unknown = days.Count(day => day.Whole == DayMark.Unknown);
        int alone = days.Count(day => day.Whole == DayMark.NobodyThere);
        string text = unknown > 0 ? $"; {Tongue.English.Counted(unknown, explanation.IsOfTheNight ? "night" : "day")} can't be known" : "";
        return alone > 0 ? $"{text}; on {Tongue.English.Counted(alone, "day")} nobody is there" : text;
    }

    private static string? InTheWay(Explanation explanation, List<ExplainedDay> past)
    {
        var missed = past.Where(day => day.Whole == DayMark.Missed).ToList();
        if (explanation.IsCalledFor || missed.Count == 0 || explanation.Conditions.Length < 2)
            return null;
        var worst = explanation.Conditions
            .Select((condition, i) => (Name: $"{i + 1} {condition.Label}", Days: missed.Count(day => day.Conditions[i].Mark == DayMark.Missed)))
            .MaxBy(each => each.Days);
        return worst.Days == 0 ? null : $"On the {Tongue.English.Counted(missed.Count, "past day")} without time for it, condition {worst.Name} was missed most: {Tongue.English.Counted(worst.Days, "day")}.";
    }

    private static string TrialOf(Explanation explanation, Trial trial)
    {
        var speech = explanation.Speech;
        string changes = string.Join(", ", trial.Changed.OrderBy(change => change.Key, StringComparer.Ordinal).Select(change =>
        {
            var layers = explanation.Numbers.First(number => number.Name == change.Key).Layers;
            return $"{change.Key} {speech.Quantity(change.Value)} instead of {speech.Quantity(layers[^2].Value)}";
        }));
        var gained = Differing(explanation, trial, DayMark.Held);
        var lost = Differing(explanation, trial, DayMark.Missed);
        string said = (gained.Count, lost.Count) switch
        {
            (0, 0) => "no day is different",
            (_, 0) => $"{Runs(gained)} would suit as well",
            (0, _) => $"{Runs(lost)} would not suit any more",
            _ => $"{Runs(gained)} would suit as well, {Runs(lost)} not any more",
        };
        bool chanceOnly = trial.Changed.Keys.All(name => name == DecisionRule.NumberName);
        return chanceOnly
            ? $"Tried out: {changes}. The chance decides each morning by the forecast of that morning; past days can't show it."
            : $"Tried out: {changes}: {said}.";
    }

    /// <summary>Days that the tried numbers turn to a mark, or away from having held.</summary>
    private static List<LocalDate> Differing(Explanation explanation, Trial trial, DayMark to) =>
        [.. explanation.Days.Zip(trial.Days)
            .Where(day => day.First.Whole != day.Second.Whole && (to == DayMark.Held ? day.First.Whole == to : day.Second.Whole == DayMark.Held))
            .Select(day => day.First.Date)];

    /// <summary>"12 to 14 April, 19 April".</summary>
    private static string Runs(List<LocalDate> dates)
    {
        var runs = new List<(LocalDate From, LocalDate To)>();
        foreach (var date in dates)
        {
            if (runs.Count > 0 && runs[^1].To.PlusDays(1) == date)
                runs[^1] = (runs[^1].From, date);
            else
                runs.Add((date, date));
        }
        string said = string.Join(", ", runs.Take(MostRuns).Select(run => Tongue.English.Dates(run.From, run.To)));
        return runs.Count > MostRuns ? $"{said} and others" : said;
    }

    private static string SourceOf(ChanceSource source) => source switch
    {
        ChanceSource.Members => "by the forecast's runs",
        ChanceSource.Forecast => "by the forecast and how it has erred",
        _ => "by past years",
    };
}
