using System.Globalization;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>Says what is and what is needed, as a gardener would, from the wording in <see cref="ConditionLanguage"/>.</summary>
internal static class ConditionSentence
{
    private const string PastMoment = "{v} past {moment}", UntilMoment = "{v} until {moment}";
    private const string ByMethod = "{noun} by {method}";
    private const string Measured = "{v} of {noun}", None = "no {noun}";
    private const string InThe = "in the ", OfThe = "of the ";

    /// <summary>All that is looked up here by other words than stand in a call, for the list of phrases.</summary>
    public static IEnumerable<string> Patterns =>
    [
        PastMoment, UntilMoment, ByMethod,
        .. ConditionLanguage.Sayings.Select(saying => saying.Said).Concat(ConditionLanguage.Statistics.Select(row => row.Said))
            .SelectMany(said => new[] { said, said.Replace(Measured, None, StringComparison.Ordinal) }),
        .. ConditionLanguage.Measures.Select(row => row.Noun),
        .. ConditionLanguage.Milestones.Select(row => row.Clause),
        .. ConditionLanguage.WarmthMethods.Select(row => row.Words),
        .. ConditionLanguage.Windows.Where(row => !row.Counted && !row.Words.Contains('{', StringComparison.Ordinal)).Select(row => row.Words),
    ];

    /// <summary>The same of counted stretches, by their plural.</summary>
    public static IEnumerable<string> CountedPatterns => ConditionLanguage.Windows.Where(row => row.Counted)
        .SelectMany(row => new[] { InThe, OfThe }.Select(opening => opening + row.Words.Replace("{n}", "{0}", StringComparison.Ordinal)));

    /// <param name="bare">Only what is, not what is needed.</param>
    public static string Of(Prepared prepared, long second, Speech speech, bool blocks = false, bool bare = false) => prepared switch
    {
        PreparedPhrase phrase => OfPhrase(phrase, second, speech, blocks, bare),
        PreparedChance chance => OfChance(chance, second, speech, blocks),
        PreparedTurn turn => speech.Say($"{Of(turn.First, second, speech, blocks)}, then from {speech.Hour(Instant.FromUnixTimeSeconds(turn.TurnAt(second)))} {Of(turn.Then, turn.TurnAt(second), speech, blocks)}"),
        PreparedParts parts => OfParts(parts, second, speech, blocks, bare),
        _ => "",
    };

    /// <summary>The parts that decide: those that fail, or all when all is well.</summary>
    private static string OfParts(PreparedParts parts, long second, Speech speech, bool blocks, bool bare)
    {
        if (parts.Parts.Count == 0)
            return parts.Join == Join.Any ? speech.Say("nothing is asked that could hold") : speech.Say("nothing is asked");
        bool partBlocks = parts.Join == Join.None ? !blocks : blocks;
        var truth = parts.At(second);
        var telling = (parts.Join, truth) switch
        {
            (Join.Any, Truth.Yes) or (Join.None, Truth.No) => Where(Truth.Yes),
            (Join.All, Truth.No) => Where(Truth.No),
            (_, Truth.Unknown) => Where(Truth.Unknown),
            _ => parts.Parts,
        };
        return string.Join("; ", telling.Select(part => Of(part, second, speech, partBlocks, bare)));

        IEnumerable<Prepared> Where(Truth wanted) => parts.Parts.Where(part => part.At(second) == wanted);
    }

    private static string OfChance(PreparedChance chance, long second, Speech speech, bool blocks)
    {
        string runs = chance.ShareAt(second) is { } share ? speech.Say($"{speech.Chance(share)} have it") : speech.Say("they don't tell");
        return speech.Say($"{Of(chance.Shown, second, speech, blocks)}; {speech.Chance(chance.Least)} forecast runs wanted, {runs}");
    }

    private static string OfPhrase(PreparedPhrase phrase, long second, Speech speech, bool blocks, bool bare)
    {
        var words = phrase.Phrase;
        var row = ConditionLanguage.Row(words.Of.Measure);
        string noun = Noun(words.Of, speech);
        if ((phrase.Unbound ?? (phrase.Gauge.Unknowable(second) is { } moment ? MomentWords.WhyUnknown(moment, speech) : null)) is { } reason)
            return words.Of.Measure == Measure.Days ? reason : speech.Say($"{noun} can't be known: {reason}");
        var shown = phrase.Gauge.At(second);
        var truth = phrase.Judge(shown);
        if (double.IsInfinity(shown.Value))
            return speech.Say("no frost is usual here");
        string when = When(words.Window, speech);
        if (truth == Truth.Unknown)
        {
            bool counted = words.Window.Kind is WindowKind.PastHours or WindowKind.NextHours;
            string time = counted ? "" : " " + when;
            return words.Statistic is Statistic.MorningsAbove or Statistic.MorningsBelow
                ? speech.Many(shown.Missing, "{1} can't be known: {0} of {2} mornings is missing{3}", "{1} can't be known: {0} of {2} mornings are missing{3}", noun, Whole(shown.Asked), time)
                : speech.Many(shown.Missing, "{1} can't be known: {0} of {2} hours is missing{3}", "{1} can't be known: {0} of {2} hours are missing{3}", noun, Whole(shown.Asked), time);
        }

        string pattern = ConditionLanguage.Saying(words.Of.Measure, words.Statistic);
        var figures = new Figures(phrase, shown.Value, truth, speech);
        bool waiting = truth == Truth.No && !blocks && words.Comparison is Comparison.AtLeast or Comparison.Above && shown.Value > 0;
        // Where more than 62 is wanted, "62 of 62" would read as met.
        waiting &= figures.Value != figures.Limit;
        bool none = words.Statistic is Statistic.Total or Statistic.Hours && shown.Value == 0;
        if (words.Of.Measure == Measure.Days && shown.Value < 0)
            pattern = words.Window.Kind == WindowKind.Until ? PastMoment : UntilMoment;
        if (none)
            pattern = pattern.Replace(Measured, None, StringComparison.Ordinal);
        string sentence = speech.Word(pattern)
            .Replace("{v}", waiting ? figures.ValueOfLimit : words.Of.Measure == Measure.Days ? figures.Value.TrimStart('-') : figures.Value, StringComparison.Ordinal)
            .Replace("{moment}", words.Window.Moment is { } since ? MomentWords.Clause(since, speech) : "", StringComparison.Ordinal)
            .Replace("{noun}", noun, StringComparison.Ordinal)
            .Replace("{at}", words.Of.DepthMetres is { } depth ? speech.Length(depth) : "", StringComparison.Ordinal)
            .Replace("{level}", phrase.Level is { } level ? Figures.Plain(level, row.Dimension, speech) : "", StringComparison.Ordinal)
            .Replace("{of}", OfWhich(words.Window, speech), StringComparison.Ordinal)
            .Replace("{when}", when, StringComparison.Ordinal);
        if (!waiting && !bare)
            sentence += Need(words, figures, blocks, speech);
        if (!phrase.IsEnough(shown))
            sentence += speech.Say($", whatever the {shown.Missing} missing hours bring");
        if (words.Chance is { } chance)
            sentence += speech.Say($"; {speech.Chance(chance)} forecast runs wanted, this is one");
        return sentence;
    }

    private static string Need(Condition.Phrase words, Figures figures, bool blocks, Speech speech)
    {
        bool counts = words.Statistic is Statistic.Total or Statistic.Hours or Statistic.Run;
        string asked = words.Comparison switch
        {
            Comparison.AtMost when counts && figures.AsksNone => speech.Say("none"),
            Comparison.Above when counts && figures.AsksNone => speech.Say("any"),
            Comparison.AtLeast => blocks ? speech.Say($"{figures.Limit} or more") : figures.Limit,
            Comparison.AtMost => blocks || words.Statistic == Statistic.Low ? speech.Say($"{figures.Limit} or less") : speech.Say($"at most {figures.Limit}"),
            Comparison.Above => speech.Say($"above {figures.Limit}"),
            Comparison.Below => speech.Say($"below {figures.Limit}"),
            _ => figures.Range,
        };
        // A low asked to be low is a cold that calls for something, not one that is wanted.
        bool calls = words.Statistic == Statistic.Low && words.Comparison is Comparison.AtMost or Comparison.Below;
        return blocks ? speech.Say($", {asked} blocks it") : calls ? speech.Say($", {asked} counts") : speech.Say($", {asked} wanted");
    }

    private static string Noun(Measured of, Speech speech)
    {
        string noun = speech.Word(ConditionLanguage.Row(of.Measure).Noun);
        if (of.DepthMetres is { } depth)
            noun = noun.Replace("{at}", speech.Length(depth), StringComparison.Ordinal);
        if (of.BaseCelsius is { } floor)
            noun = noun.Replace("{base}", Figures.Plain(floor, Dimension.Temperature, speech), StringComparison.Ordinal);
        if (of.Method != WarmthMethod.Hours)
            noun = speech.Word(ByMethod).Replace("{noun}", noun, StringComparison.Ordinal).Replace("{method}", speech.Word(ConditionLanguage.Row(of.Method).Words), StringComparison.Ordinal);
        return noun;
    }

    /// <summary>"in the next 24 hours"; "{n}" is the hole of its number.</summary>
    private static string Stretch(string opening, TimeWindow window, Speech speech)
    {
        string many = opening + ConditionLanguage.Row(window.Kind).Words.Replace("{n}", "{0}", StringComparison.Ordinal);
        return speech.Tongue.Counted(window.Count, many.TrimEnd('s').Replace("{0} ", "", StringComparison.Ordinal), many, [Whole(window.Count)]);
    }

    private static string Whole(int number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>"in the next 24 hours", "tonight", "since it was set out".</summary>
    private static string When(TimeWindow window, Speech speech) => window switch
    {
        { Kind: WindowKind.Today or WindowKind.Tonight or WindowKind.Tomorrow } => speech.Word(ConditionPrinting.Written(window)),
        { Kind: WindowKind.Since, Moment: { } moment } => speech.Say($"since {MomentWords.Clause(moment, speech)}"),
        { Moment: { } moment } => speech.Say($"until {MomentWords.Clause(moment, speech)}"),
        _ => Stretch(InThe, window, speech),
    };

    /// <summary>"of the next 7 nights"; hours are not counted one by one, so "in the next 24 hours".</summary>
    private static string OfWhich(TimeWindow window, Speech speech) => window switch
    {
        { Kind: WindowKind.PastDays or WindowKind.NextDays or WindowKind.PastNights or WindowKind.NextNights, Count: > 1 } =>
            Stretch(OfThe, window, speech),
        _ => When(window, speech),
    };
}

/// <summary>What is and what is needed in the garden's units, with no more decimals than keep the sentence true.</summary>
internal readonly struct Figures
{
    private const int MostDecimals = 3;
    private readonly string _value;
    private readonly string _limit;
    private readonly string _upTo;
    private readonly string _unit;
    private readonly Dimension _dimension;
    private readonly Speech _speech;

    public Figures(PreparedPhrase phrase, double value, Truth truth, Speech speech)
    {
        _dimension = phrase.Dimension;
        _speech = speech;
        _unit = speech.UnitOf(_dimension);
        double v = speech.InUnits(value, _dimension);
        // "62 of 62 °F, waiting" would be untrue: decimals until what is printed gives the same answer.
        for (int more = 0; ; more++)
        {
            _value = Rounded(v, UsualDecimals(v, _dimension, speech) + more);
            _limit = AsAsked(phrase.Limit, _dimension, speech, more);
            _upTo = double.IsNaN(phrase.UpTo) ? "" : AsAsked(phrase.UpTo, _dimension, speech, more);
            if (PrintedTruth(_value, phrase.Phrase.Comparison) == truth)
                return;
            if (more == MostDecimals)
                break;
        }
        _value = NearestTrue(v, phrase.Phrase.Comparison, truth);
    }

    /// <summary>A hair's breadth from the limit, told as the least that can be printed, on the side where it is.</summary>
    private string NearestTrue(double value, Comparison comparison, Truth truth)
    {
        const double least = 0.001;
        string nearest = _value;
        double distance = double.PositiveInfinity;
        foreach (double limit in (ReadOnlySpan<double>)[Parsed(_limit), Parsed(_upTo)])
        {
            foreach (double side in (ReadOnlySpan<double>)[limit - least, limit, limit + least])
            {
                string written = double.IsNaN(side) ? "" : Rounded(side, MostDecimals);
                if (written.Length == 0 || PrintedTruth(written, comparison) != truth || Math.Abs(side - value) >= distance)
                    continue;
                (nearest, distance) = (written, Math.Abs(side - value));
            }
        }
        return nearest;
    }

    public string Value => Joined(_value);

    public bool AsksNone => _limit == "0";

    public string Limit => Joined(_limit);

    public string ValueOfLimit => _speech.Say($"{_speech.Tongue.Marked(_value)} of {Joined(_limit)}");

    public string Range => _speech.Say($"{_speech.Tongue.Marked(_limit)} to {Joined(_upTo)}");

    public static string Plain(double value, Dimension dimension, Speech speech) =>
        speech.Tongue.Marked(AsAsked(value, dimension, speech, 0)) + speech.UnitOf(dimension);

    private string Joined(string number) =>
        number == "1" ? number + _speech.UnitOfOne(_dimension) : _speech.Tongue.Marked(number) + _unit;

    private Truth PrintedTruth(string value, Comparison comparison)
    {
        double v = Parsed(value), limit = Parsed(_limit);
        bool holds = comparison switch
        {
            Comparison.AtLeast => v >= limit,
            Comparison.AtMost => v <= limit,
            Comparison.Above => v > limit,
            Comparison.Below => v < limit,
            _ => v >= limit && v <= Parsed(_upTo),
        };
        return holds ? Truth.Yes : Truth.No;
    }

    private static int UsualDecimals(double value, Dimension dimension, Speech speech) => dimension switch
    {
        Dimension.WaterDepth or Dimension.RainRate when speech.Units == UnitSystem.Us => Math.Abs(value) < 0.1 ? 2 : 1,
        Dimension.WaterDepth or Dimension.RainRate => Math.Abs(value) < 1 ? 1 : 0,
        _ => 0,
    };

    /// <summary>
    /// As it was typed: 15.6 °C stays so in Celsius; 4 °C, which nobody types as 39.2 °F, is 39 °F there. Phrases have
    /// wind in metres a second, which messages never say.
    /// </summary>
    private static string AsAsked(double value, Dimension dimension, Speech speech, int moreDecimals)
    {
        double own = speech.InUnits(value, dimension);
        var others = new Speech(speech.Units == UnitSystem.Us ? UnitSystem.Metric : UnitSystem.Us, speech.Zone);
        int typed = DecimalsOf(own);
        if (typed == 0 || (dimension != Dimension.Speed && typed <= DecimalsOf(others.InUnits(value, dimension))))
            return Rounded(own, typed);
        bool fine = dimension is Dimension.WaterDepth or Dimension.RainRate && speech.Units == UnitSystem.Us;
        return Rounded(own, (fine ? 2 : 0) + moreDecimals);
    }

    private static int DecimalsOf(double value)
    {
        int decimals = 0;
        while (decimals < MostDecimals && Math.Abs(Math.Round(value, decimals) - value) > 1e-6)
            decimals++;
        return decimals;
    }

    private static string Rounded(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return (rounded == 0 ? 0 : rounded).ToString("0.###", CultureInfo.InvariantCulture);
    }

    private static double Parsed(string number) =>
        number.Length == 0 ? double.NaN : double.Parse(number, CultureInfo.InvariantCulture);
}
