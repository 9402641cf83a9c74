using System.Buffers;
using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>A condition made ready for one scene, so that asking it costs no allocation. Used by one thread.</summary>
internal abstract class Prepared
{
    public abstract Truth At(long second);

    /// <summary>The truth at each whole hour from an instant on.</summary>
    public virtual void Fill(long from, Span<Truth> course)
    {
        for (int i = 0; i < course.Length; i++)
            course[i] = At(from + (long)i * LocalDays.SecondsAnHour);
    }

    public static Prepared For(Condition condition, Scene scene) => condition switch
    {
        Condition.Phrase { Chance: { } least } phrase when !scene.Members.IsEmpty =>
            new PreparedChance(phrase with { Chance = null }, least, scene),
        // One event, and so one chance: the greater that is asked for either half.
        Condition.InTurn(var first, var then) when !scene.Members.IsEmpty && (first.Chance ?? then.Chance) is not null =>
            new PreparedChance(
                new Condition.InTurn(first with { Chance = null }, then with { Chance = null }),
                Math.Max(first.Chance ?? 0, then.Chance ?? 0), scene),
        Condition.Phrase phrase => new PreparedPhrase(phrase, scene),
        Condition.InTurn(var first, var then) => new PreparedTurn(new(first, scene), new(then, scene)),
        Condition.AllOf(var parts) => new PreparedParts(Join.All, Each(parts, scene)),
        Condition.AnyOf(var parts) => new PreparedParts(Join.Any, Each(parts, scene)),
        Condition.NoneOf(var parts) => new PreparedParts(Join.None, Each(parts, scene)),
        _ => throw new ArgumentOutOfRangeException(nameof(condition)),
    };

    private static Prepared[] Each(ImmutableArray<Condition> parts, Scene scene) => [.. parts.Select(part => For(part, scene))];
}

internal sealed class PreparedPhrase : Prepared
{
    /// <summary>Far below what any instrument tells; keeps sums of tenths from missing a limit they equal.</summary>
    private const double Slack = 1e-6;

    private readonly double _least = double.NegativeInfinity;
    private readonly double _most = double.PositiveInfinity;
    private readonly double _shareNeeded;
    private readonly Statistic _statistic;
    private readonly bool _neverNegative;

    public PreparedPhrase(Condition.Phrase phrase, Scene scene)
    {
        if (phrase.Window.Moment is { } moment)
            phrase = phrase with { Window = phrase.Window with { Moment = scene.Moments.MeantBy(moment) } };
        Phrase = phrase;
        _statistic = phrase.Statistic;
        _shareNeeded = ConditionLanguage.Row(phrase.Statistic).ShareNeeded;
        _neverNegative = ConditionLanguage.Row(phrase.Of.Measure).NeverNegative;
        var measured = ConditionLanguage.Row(phrase.Of.Measure).Dimension;
        Dimension = ConditionLanguage.DimensionOf(phrase.Of.Measure, phrase.Statistic);
        Level = phrase.Level is { } level ? NumberOf(level, measured, scene) : null;
        Limit = NumberOf(phrase.Limit, Dimension, scene) ?? double.NaN;
        UpTo = phrase.UpTo is { } upTo ? NumberOf(upTo, Dimension, scene) ?? double.NaN : double.NaN;
        Gauge = Gauge.For(phrase, Level, scene);
        double give = scene.Lenient ? Flutter.Of(Dimension, Limit) : 0;
        double giveUp = scene.Lenient ? Flutter.Of(Dimension, UpTo) : 0;
        (_least, _most) = phrase.Comparison switch
        {
            Comparison.AtLeast => (Limit - Slack - give, _most),
            Comparison.Above => (Limit + Slack - give, _most),
            Comparison.AtMost => (_least, Limit + Slack + give),
            Comparison.Below => (_least, Limit - Slack + give),
            _ => (Limit - Slack - give, UpTo + Slack + giveUp),
        };
    }

    public Condition.Phrase Phrase { get; }

    public Dimension Dimension { get; }

    public double? Level { get; }

    public double Limit { get; }

    public double UpTo { get; }

    public Gauge Gauge { get; }

    /// <summary>A name that nothing binds, or binds to the wrong kind of quantity, makes the phrase unknowable.</summary>
    public string? Unbound { get; private set; }

    public override Truth At(long second) => Judge(Gauge.At(second));

    public override void Fill(long from, Span<Truth> course) => Gauge.Fill(from, course, this);

    /// <summary>Whether so much of the window is known that its value counts as it is.</summary>
    public bool IsEnough(in Shown shown) =>
        !double.IsNaN(shown.Value) && shown.Asked > 0 && shown.Known >= _shareNeeded * shown.Asked;

    public bool Holds(double value) => _least <= value && value <= _most;

    /// <summary>
    /// With too little known, the answer is what every value that is still possible would give: a low can only go lower, a
    /// high only higher, a total of rain only grow.
    /// </summary>
    public Truth Judge(in Shown shown)
    {
        if (Unbound is not null)
            return Truth.Unknown;
        if (IsEnough(shown))
            return _least <= shown.Value && shown.Value <= _most ? Truth.Yes : Truth.No;
        if (double.IsNaN(shown.Value))
            return Truth.Unknown;
        var (low, high) = _statistic switch
        {
            Statistic.Low => (double.NegativeInfinity, shown.Value),
            Statistic.High or Statistic.Peak => (shown.Value, double.PositiveInfinity),
            Statistic.Total when _neverNegative => (shown.Value, double.PositiveInfinity),
            Statistic.RunAbove or Statistic.RunBelow or Statistic.Run => (shown.Value, shown.Asked),
            Statistic.Hours or Statistic.HoursAbove or Statistic.HoursBelow or Statistic.MorningsAbove or Statistic.MorningsBelow =>
                (shown.Value, shown.Value + shown.Missing),
            _ => (double.NegativeInfinity, double.PositiveInfinity),
        };
        return _least <= low && high <= _most ? Truth.Yes
            : high < _least || low > _most ? Truth.No
            : Truth.Unknown;
    }

    private double? NumberOf(Operand operand, Dimension dimension, Scene scene)
    {
        if (operand.Name is { } name && scene.Numbers.TryGetValue(name, out var tuned))
        {
            if (tuned.Dimension == dimension)
                return tuned.Value;
            Unbound = $"`{name}` is set to another kind of quantity";
            return null;
        }
        if (operand.Default is { } written)
            return written.Value;
        Unbound = $"`{operand.Name}` has no number";
        return null;
    }
}

/// <summary>What wants a chance holds when it holds in so many of the runs in which it can be known.</summary>
internal sealed class PreparedChance : Prepared
{
    // Of fewer runs a share says little.
    private const double KnownShare = 0.5;

    private readonly Prepared[] _members;

    public PreparedChance(Condition condition, double least, Scene scene)
    {
        Least = least;
        Shown = For(condition, scene);
        _members = [.. scene.Members.Select(member => For(condition, scene with { Weather = member }))];
    }

    public double Least { get; }

    /// <summary>The phrase as the scene's own weather has it.</summary>
    public Prepared Shown { get; }

    public override Truth At(long second) =>
        ShareAt(second) is not { } share ? Truth.Unknown : share >= Least ? Truth.Yes : Truth.No;

    /// <summary>The share of the runs; null when it can be known in fewer than half of them.</summary>
    public double? ShareAt(long second)
    {
        int known = 0, met = 0;
        foreach (var member in _members)
        {
            var truth = member.At(second);
            known += truth == Truth.Unknown ? 0 : 1;
            met += truth == Truth.Yes ? 1 : 0;
        }
        return known < KnownShare * _members.Length ? null : (double)met / known;
    }
}

internal sealed class PreparedTurn(PreparedPhrase first, PreparedPhrase then) : Prepared
{
    public PreparedPhrase First => first;

    public PreparedPhrase Then => then;

    /// <summary>When the second one is asked.</summary>
    public long TurnAt(long second) => first.Gauge.EndAt(second);

    public override Truth At(long second)
    {
        var now = first.At(second);
        if (now == Truth.No)
            return Truth.No;
        var later = then.At(TurnAt(second));
        return later == Truth.No ? Truth.No : now == Truth.Yes && later == Truth.Yes ? Truth.Yes : Truth.Unknown;
    }
}

internal enum Join { All, Any, None }

/// <summary>Three-valued: what is unknown decides nothing that the others have not decided.</summary>
internal sealed class PreparedParts(Join join, Prepared[] parts) : Prepared
{
    public Join Join => join;

    public IReadOnlyList<Prepared> Parts => parts;

    /// <summary>Part by part, since a part fills many hours in little more time than it tells one.</summary>
    public override void Fill(long from, Span<Truth> course)
    {
        var (decides, otherwise) = join == Join.All ? (Truth.No, Truth.Yes) : (Truth.Yes, Truth.No);
        course.Fill(otherwise);
        var truths = ArrayPool<Truth>.Shared.Rent(course.Length);
        var ofPart = truths.AsSpan(0, course.Length);
        foreach (var part in parts)
        {
            part.Fill(from, ofPart);
            for (int i = 0; i < course.Length; i++)
                if (ofPart[i] == decides || ofPart[i] == Truth.Unknown && course[i] == otherwise)
                    course[i] = ofPart[i];
        }
        ArrayPool<Truth>.Shared.Return(truths);
        if (join != Join.None)
            return;
        for (int i = 0; i < course.Length; i++)
            course[i] = course[i] switch { Truth.Yes => Truth.No, Truth.No => Truth.Yes, _ => Truth.Unknown };
    }

    public override Truth At(long second)
    {
        var deciding = join == Join.All ? Truth.No : Truth.Yes;
        bool unknown = false;
        foreach (var part in parts)
        {
            var truth = part.At(second);
            if (truth == deciding)
                return join == Join.Any ? Truth.Yes : Truth.No;
            unknown |= truth == Truth.Unknown;
        }
        return unknown ? Truth.Unknown : join == Join.Any ? Truth.No : Truth.Yes;
    }
}
