using System.Collections.Immutable;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Water that was given to a bed, by the record or by what was advised.</summary>
/// <param name="Mm">Null when nobody told how much: as much as it took.</param>
/// <param name="IsAssumed">Advised and not answered: a bed that is kept is watered.</param>
internal sealed record WaterGiven(Instant At, double? Mm, bool IsAssumed);

/// <summary>
/// The waterings of one bed. A gardener who never answers waters all the same, or the advice would grow for ever: what was
/// advised on an earlier day, and neither skipped nor put off, counts as given.
/// </summary>
internal sealed partial class WateringRecord
{
    // Early is when it is advised; in the evening, what was advised has been done.
    private static readonly LocalTime ByHandAt = new(8, 0), AdvisedUntil = new(20, 0);

    private WateringRecord(ImmutableArray<WaterGiven> given, int time, bool isAnswered) => (Given, Time, IsAnswered) = (given, time, isAnswered);

    /// <summary>In order of time.</summary>
    public ImmutableArray<WaterGiven> Given { get; }

    /// <summary>The how-manieth watering the next one is.</summary>
    public int Time { get; }

    /// <summary>The gardener has watered today, or has just said that the bed needs none.</summary>
    public bool IsAnswered { get; }

    public static WateringRecord Of(Season season, Bed bed, double? squareMetres)
    {
        var (journal, calendar, today) = (season.Journal, season.Weather.Calendar, season.Today);
        var given = new List<WaterGiven>();
        var closed = new HashSet<int>();
        bool answered = journal.LastSkipped(bed.Id, JobKind.Water) >= today.PlusDays(-1);
        var told = season.LastSaid.Jobs
            .Select(said => (Id: JobId.TryParse(said.Key, out var id) ? id : null, Said: said.Value))
            .Where(said => said.Id is { Kind: JobKind.Water } id && id.SubjectId == bed.Id)
            .ToDictionary(said => said.Id!.Value.Time, said => said.Said);

        foreach (var entry in journal.Entries)
        {
            var id = entry.JobId is { } text && JobId.TryParse(text, out var read) ? read : null;
            bool ofBed = id is { Kind: JobKind.Water } && (id.Value.SubjectId == bed.Id || season.Plan.Chores.Any(chore => chore.Id == id.Value.SubjectId && (chore.BedId ?? bed.Id) == bed.Id));
            bool own = ofBed && id!.Value.SubjectId == bed.Id;
            if (own && entry.Kind is EntryKind.Done or EntryKind.Skip)
                closed.Add(id!.Value.Time);
            bool noted = entry.Kind == EntryKind.Note && entry.SubjectId == bed.Id && entry.Text is { } words && Watered().IsMatch(words);
            if (!(ofBed && entry.Kind == EntryKind.Done) && !noted)
                continue;
            double? mm = TextMm(entry.Text, squareMetres) ?? (own && told.TryGetValue(id!.Value.Time, out var advice) ? advice.Value : null);
            if (noted && mm is null)
                continue;
            var at = calendar.At(entry.Date, ByHandAt);
            given.Add(new(calendar.DateOf(entry.RecordedAt) == entry.Date ? Instant.Min(at, entry.RecordedAt) : at, mm, IsAssumed: false));
            answered |= own && entry.Date == today;
        }
        foreach (var (time, said) in told)
            if (said.Standing == Standing.Now && said.LastOn < today && !closed.Contains(time) && journal.PutOffUntil(bed.Id, JobKind.Water, time) is null)
            {
                closed.Add(time);
                given.Add(new(calendar.At(said.LastOn, AdvisedUntil), said.Value, IsAssumed: true));
            }
        return new([.. given.OrderBy(water => water.At)], 1 + closed.DefaultIfEmpty(0).Max(), answered);
    }

    /// <summary>"Watered 20 litres", "gave it half an inch": mm on the bed.</summary>
    private static double? TextMm(string? text, double? squareMetres)
    {
        if (text is null)
            return null;
        foreach (Match amount in Amount().Matches(text))
            if (QuantityText.Read(amount.Value, Dimension.Volume, Dimension.WaterDepth) is QuantityReading.Ok { Quantity: { Value: >= 0 and <= 100_000 } quantity })
            {
                if (quantity.Dimension == Dimension.WaterDepth && quantity.Value <= 200)
                    return quantity.Value;
                if (quantity.Dimension == Dimension.Volume && squareMetres is { } area && quantity.Value / area <= 2000)
                    return quantity.Value / area;
            }
        return null;
    }

    [GeneratedRegex(@"\b(water|gegossen|gewässert)", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Watered();

    [GeneratedRegex(@"\d+([.,]\d+)?\s*(litres?|liters?|l|gallons?|gal|mm|inch(es)?|in)\b", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Amount();
}
