using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Readings;

/// <summary>
/// What the gardener's own readings add to the weather near the garden, learned slowly and within bounds. A function of the
/// readings alone: leave some out, take some back or reset, and it is what it would have been without them.
/// </summary>
public sealed class Corrections
{
    // Two readings of one gauge so close together are one, read again.
    private static readonly Duration SameFall = Duration.FromHours(3);
    private const double NoneToSpeakOf = 0.005;

    private readonly ImmutableArray<JournalEntry> _readings;
    private readonly ImmutableArray<JournalEntry> _resets;
    private readonly Instant _asOf;

    private Corrections(ImmutableArray<JournalEntry> readings, ImmutableArray<JournalEntry> resets, Instant asOf)
    {
        (_readings, _resets, _asOf) = (readings, resets, asOf);
        RainFactor = RainGauge.Factor(
            Counting(ReadingKind.Rain, bedId: null).Select(entry => new GaugeReading(At(entry), entry.Value!.Value, entry.Modelled ?? double.NaN)), asOf);
    }

    public static Corrections None { get; } = new([], [], Instant.MinValue);

    public static Corrections Of(Journal journal, Instant asOf) => new(
        [.. journal.Entries.Where(entry => entry is { Kind: EntryKind.Reading, Measure: not null, Value: not null } && entry.RecordedAt <= asOf)],
        [.. journal.Entries.Where(entry => entry is { Kind: EntryKind.Reset, Measure: not null } && entry.RecordedAt <= asOf)],
        asOf);

    /// <summary>To multiply the rain of all hours by that no gauge was read for.</summary>
    public double RainFactor { get; }

    /// <summary>To be added to the model of a bed's soil; null while nothing was learned. A bed without readings of its own has those of the garden.</summary>
    /// <param name="bedId">Null for the garden as a whole.</param>
    public TemperatureDifference? SoilOf(string? bedId) =>
        OwnOrGardens(ReadingKind.Soil, bedId) is { Count: > 0 } readings
            ? ProbeOffset.Learned(readings.Select(entry => new ProbeReading(At(entry), entry.Value!.Value, entry.Modelled ?? double.NaN)), _asOf)
            : null;

    /// <summary>
    /// How much colder than the place a bed is on a clear, calm night: the plan's word moved by what was read there, or else
    /// beside what was read in the garden. Null for the garden as a whole.
    /// </summary>
    public TemperatureDifference FrostPocketOf(Bed? bed)
    {
        if (bed is not null && bed.Over != Overhead.Open)
            return bed.FrostPocket;
        return bed is not null && Counting(ReadingKind.AirLow, bed.Id) is { Count: > 0 } own
            ? Pocket(own, bed.FrostPocket)
            : new((bed?.FrostPocket.Kelvins ?? 0) + Pocket(Counting(ReadingKind.AirLow, bedId: null), default).Kelvins);
    }

    /// <summary>Readings of a kind that still count, for a bed or, with null, for the garden; oldest first.</summary>
    public IReadOnlyList<JournalEntry> Counting(ReadingKind kind, string? bedId) =>
    [
        .. _readings.Where(entry => entry.Measure == kind && entry.BedId == bedId
            && !_resets.Any(reset => reset.Measure == kind && (reset.BedId is null || reset.BedId == bedId) && reset.RecordedAt >= entry.RecordedAt)),
    ];

    /// <summary>The plan with its frost pockets as they are learned.</summary>
    internal Plan Applied(Plan plan) => _readings.Any(entry => entry.Measure == ReadingKind.AirLow)
        ? plan with { Beds = [.. plan.Beds.Select(bed => bed with { FrostPocket = FrostPocketOf(bed) })] }
        : plan;

    /// <summary>The weather with the rain as the gauge had it, and by the factor where it was not read, in the runs of the ensemble too.</summary>
    internal KnownWeather Applied(KnownWeather known, LocalCalendar calendar)
    {
        var falls = Falls(calendar);
        if (falls.Count == 0 && Math.Abs(RainFactor - 1) < NoneToSpeakOf)
            return known;
        var series = known.Series;
        double[] rain = Scaled(series[WeatherVariable.Rain]);
        foreach (var (span, mm) in falls)
        {
            int first = Math.Max(0, series.FirstAtOrAfter(span.Start + Duration.Epsilon)), last = Math.Min(series.Hours - 1, series.LastAtOrBefore(span.End));
            // Of a fall that lies only partly in the series, nobody knows how much fell there.
            if (last >= first && last - first + 1 >= (int)span.Duration.TotalHours)
                RainGauge.BringTo(rain.AsSpan(first, last - first + 1), mm);
        }
        var source = new HourSource(SourceKind.Reading, "rain gauge", _asOf);
        var measured = series.With(ImmutableDictionary<WeatherVariable, ImmutableArray<double>>.Empty.Add(WeatherVariable.Rain, [.. rain]), source, 0, 0);
        return known with { Series = measured, Members = [.. known.Members.Select(member => InRun(member, series, measured))] };
    }

    /// <summary>The run beside the corrected series, sharing its past as before.</summary>
    private WeatherSeries InRun(WeatherSeries member, WeatherSeries series, WeatherSeries measured)
    {
        int from = member.PartsFrom(series);
        double[] rain = Scaled(member[WeatherVariable.Rain]);
        measured[WeatherVariable.Rain][..from].CopyTo(rain);
        var columns = Enum.GetValues<WeatherVariable>().ToImmutableDictionary(variable => variable, variable => ImmutableArray.Create(member[variable]));
        return measured.With(columns.SetItem(WeatherVariable.Rain, [.. rain]), member.Sources[^1], from, member.Hours);
    }

    private TemperatureDifference Pocket(IReadOnlyList<JournalEntry> readings, TemperatureDifference asPlanned) => LearnedPocket.Of(
        readings.Select(entry => new LowReading(At(entry), entry.Value!.Value, entry.Modelled ?? double.NaN, entry.ClearAndCalm ?? double.NaN)),
        asPlanned, _asOf);

    private double[] Scaled(ReadOnlySpan<double> rain)
    {
        double[] scaled = rain.ToArray();
        for (int hour = 0; hour < scaled.Length; hour++)
            scaled[hour] *= RainFactor;
        return scaled;
    }

    /// <summary>Each reading with the hours it is the sum of: those since the gauge was read before, a day at most.</summary>
    private List<(Interval Span, double Mm)> Falls(LocalCalendar calendar)
    {
        var falls = new List<(Interval Span, double Mm)>();
        foreach (var entry in Counting(ReadingKind.Rain, bedId: null).OrderBy(entry => SpanOf(entry).End))
        {
            var span = SpanOf(entry);
            if (falls.Count > 0 && span.End - falls[^1].Span.End < SameFall)
                falls.RemoveAt(falls.Count - 1);
            var before = falls.Count > 0 ? falls[^1].Span.End : Instant.MinValue;
            falls.Add((new(Instant.Max(before, span.Start), span.End), entry.Value!.Value));
        }
        return falls;

        Interval SpanOf(JournalEntry entry) => ReadingSpan.Of(ReadingKind.Rain, entry.Date, entry.RecordedAt, calendar);
    }

    private IReadOnlyList<JournalEntry> OwnOrGardens(ReadingKind kind, string? bedId) =>
        bedId is not null && Counting(kind, bedId) is { Count: > 0 } own ? own : Counting(kind, bedId: null);

    private static Instant At(JournalEntry entry) => Instant.Min(entry.RecordedAt, entry.Date.AtMidnight().InUtc().ToInstant() + Duration.FromHours(12));
}
