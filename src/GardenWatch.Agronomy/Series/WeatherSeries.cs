using System.Collections.Immutable;
using System.Runtime.InteropServices;
using NodaTime;

namespace GardenWatch.Agronomy.Series;

/// <summary>How an hour of a series came to be known.</summary>
public enum SourceKind { Forecast, Archive, Reading, PastYears }

/// <summary>One origin of hours: what it is, who gave it, when it became known.</summary>
public sealed record HourSource(SourceKind Kind, string Name, Instant KnownAt);

/// <summary>
/// Hourly weather of one place on an unbroken grid of whole UTC hours. A value that is not known is
/// <see cref="double.NaN"/>; a variable that was never given is a column of nothing but NaN.
/// </summary>
public sealed class WeatherSeries
{
    private readonly ImmutableDictionary<WeatherVariable, ImmutableArray<double>> _columns;
    private readonly ImmutableArray<double> _unknown;
    private readonly ImmutableArray<short> _sourceOfHour;
    private readonly WeatherSeries? _madeOf;
    private readonly int _changedFrom;

    /// <param name="start">First stamp, a whole hour.</param>
    /// <param name="hours">Number of stamps.</param>
    /// <param name="columns">Each as long as <paramref name="hours"/>.</param>
    /// <param name="sources">The origins the hours refer to.</param>
    /// <param name="sourceOfHour">Index into <paramref name="sources"/> for each stamp; -1 where nothing is known.</param>
    public WeatherSeries(
        Instant start,
        int hours,
        ImmutableDictionary<WeatherVariable, ImmutableArray<double>> columns,
        ImmutableArray<HourSource> sources,
        ImmutableArray<short> sourceOfHour)
    {
        if (start.ToUnixTimeSeconds() % 3600 != 0)
            throw new ArgumentException($"A series starts at a whole hour; {start} is none.", nameof(start));
        foreach (var (variable, values) in columns)
            if (values.Length != hours)
                throw new ArgumentException($"{variable} has {values.Length} values for {hours} hours.", nameof(columns));
        if (sourceOfHour.Length != hours)
            throw new ArgumentException($"{sourceOfHour.Length} hours have a source, of {hours}.", nameof(sourceOfHour));

        Start = start;
        Hours = hours;
        Sources = sources;
        _columns = columns;
        _sourceOfHour = sourceOfHour;
        _unknown = [.. Enumerable.Repeat(double.NaN, hours)];
    }

    private WeatherSeries(
        WeatherSeries other, ImmutableDictionary<WeatherVariable, ImmutableArray<double>> columns,
        ImmutableArray<HourSource> sources, ImmutableArray<short> sourceOfHour, int changedFrom)
    {
        (_madeOf, _changedFrom) = (other, changedFrom);
        Start = other.Start;
        Hours = other.Hours;
        Sources = sources;
        _columns = columns;
        _sourceOfHour = sourceOfHour;
        _unknown = other._unknown;
    }

    public static WeatherSeries Empty { get; } =
        new(Instant.FromUnixTimeSeconds(0), 0, ImmutableDictionary<WeatherVariable, ImmutableArray<double>>.Empty, [], []);

    public Instant Start { get; }

    public int Hours { get; }

    /// <summary>The last stamp; before <see cref="Start"/> when the series is empty.</summary>
    public Instant LastStamp => StampOf(Hours - 1);

    public ImmutableArray<HourSource> Sources { get; }

    /// <summary>All values of a variable, one a stamp; NaN where not known.</summary>
    public ReadOnlySpan<double> this[WeatherVariable variable] =>
        _columns.TryGetValue(variable, out var values) ? values.AsSpan() : _unknown.AsSpan();

    /// <summary>The same hours with some columns changed; the others are shared, not copied.</summary>
    /// <param name="changed">Each as long as <see cref="Hours"/>, and as it was outside of the hours named.</param>
    /// <param name="source">Of the hours from <paramref name="from"/> to <paramref name="until"/> (excluded).</param>
    public WeatherSeries With(
        IReadOnlyDictionary<WeatherVariable, ImmutableArray<double>> changed, HourSource source, int from, int until)
    {
        var sourceOfHour = _sourceOfHour.AsSpan().ToArray();
        sourceOfHour.AsSpan(from, until - from).Fill((short)Sources.Length);
        foreach (var (variable, values) in changed)
            if (values.Length != Hours)
                throw new ArgumentException($"{variable} has {values.Length} values for {Hours} hours.", nameof(changed));
        return new(this, _columns.SetItems(changed), Sources.Add(source), ImmutableCollectionsMarshal.AsImmutableArray(sourceOfHour), from);
    }

    /// <summary>The same hours with one column in place of another, from the same sources.</summary>
    /// <param name="values">As long as <see cref="Hours"/>.</param>
    public WeatherSeries WithColumn(WeatherVariable variable, ImmutableArray<double> values) =>
        new(Start, Hours, _columns.SetItem(variable, values), Sources, _sourceOfHour);

    /// <summary>The first hour that may differ from the series of which this one was made by <see cref="With"/>; of any other series, 0.</summary>
    public int PartsFrom(WeatherSeries other) => ReferenceEquals(_madeOf, other) ? _changedFrom : 0;

    public Instant StampOf(int hour) => Start + Duration.FromHours(hour);

    /// <summary>The first stamp at or after an instant, as an index that may lie outside the series.</summary>
    public int FirstAtOrAfter(Instant instant) =>
        (int)Math.Clamp(Math.Ceiling((instant - Start).TotalHours), int.MinValue / 2, int.MaxValue / 2);

    /// <summary>The last stamp at or before an instant, as an index that may lie outside the series.</summary>
    public int LastAtOrBefore(Instant instant) =>
        (int)Math.Clamp(Math.Floor((instant - Start).TotalHours), int.MinValue / 2, int.MaxValue / 2);

    /// <summary>Where an hour is from; null when nothing is known of it.</summary>
    public HourSource? SourceOf(int hour) =>
        hour >= 0 && hour < Hours && _sourceOfHour[hour] >= 0 ? Sources[_sourceOfHour[hour]] : null;
}
