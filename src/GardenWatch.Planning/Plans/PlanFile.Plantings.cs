using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    /// <summary>By then an annual crop is over, and the same words may be meant for the new year.</summary>
    private const int LongPastDays = 300;

    /// <summary>No packet is older, so a year before is a slip.</summary>
    private const int OldestSeedYears = 40;

    private static readonly (string Key, Origin Origin)[] Beginnings =
    [
        ("sown", Origin.Sown), ("up", Origin.Growing), ("set out", Origin.SetOut), ("bought", Origin.Bought), ("growing", Origin.Growing),
    ];

    /// <summary>A planting as written: its date not yet counted from anything, what it follows not yet found.</summary>
    private sealed record WrittenPlanting(Planting Planting, string? Id, WrittenDate? Begun, string BegunText, YamlNode.Text? After, YamlEntries Entry);

    private ImmutableArray<Planting> PlantingsOf(YamlEntries top, ImmutableArray<Bed> beds)
    {
        var written = top.TakeMaps("plantings", "such as `- { crop: radish, bed: kitchen bed }`")
            .Select(entry => PlantingOf(entry, beds)).OfType<WrittenPlanting>().ToList();
        if (TooMany([.. written.Select(w => w.Entry)], top, "plantings"))
            return [];
        var ids = Recognised([.. written.Select(w => (Present(w), w.Entry))]);
        var plantings = written.Select((w, i) => w.Planting with
        {
            Id = ids[i].Id,
            OriginDate = w.Begun?.Resolve(ids[i].FirstSeen),
            FirstSeen = ids[i].FirstSeen,
        }).ToList();
        foreach (var (planting, w) in plantings.Zip(written))
        {
            if (planting.OriginDate is { } date && Period.DaysBetween(date.To, _today) > LongPastDays)
            {
                Remark(w.Entry.Spot, $"`{w.BegunText}` of the {planting.Crop.Plants} means {Tongue.English.Date(date.Middle)} {date.Middle.Year}, counted from when it was first read",
                    "take the planting out when it is over; for this year's write the date with its year");
            }
        }
        for (int i = 0; i < plantings.Count; i++)
        {
            if (written[i].After is { } after)
                plantings[i] = plantings[i] with { AfterPlantingId = Before(plantings, i, after, written[i].Entry) };
        }
        for (int i = 0; i < plantings.Count; i++)
        {
            if (FollowsItself(plantings, plantings[i]))
                written[i].Entry.Fault(written[i].Entry.Spot, "these plantings wait for each other in a circle", "take one `after` out");
        }
        RemarkOnBeds([.. plantings.Zip(written, (planting, w) => (planting, w.Entry))], beds);
        return [.. plantings];
    }

    private static PresentSubject Present(WrittenPlanting w) => new(
        SubjectKind.Planting, w.Id, $"{w.Planting.Crop.Name} {w.Planting.BedId}",
        [
            ("crop", w.Planting.Crop.Name), ("variety", w.Planting.Variety ?? ""), ("bed", w.Planting.BedId), ("begun", w.BegunText),
            ("sowings", w.Planting.Sowings is { } s ? string.Create(CultureInfo.InvariantCulture, $"{s.Batches} every {s.EveryDays}") : ""),
        ]);

    private WrittenPlanting? PlantingOf(YamlEntries entry, ImmutableArray<Bed> beds)
    {
        CropProfile? crop = null;
        if (entry.TakeText("crop", "such as `crop: tomato`") is { } cropText)
        {
            crop = _crops.Find(cropText.Value);
            if (crop is null)
            {
                entry.Fault(cropText.Spot, $"`{Cut(cropText.Value)}`: no such crop",
                    _crops.Nearest(cropText.Value) is { } near ? $"did you mean {near}?" : "describe it in a file of its own under `crops/`");
            }
        }
        else if (!entry.Has("crop"))
            entry.Fault(entry.Spot, "this planting names no crop", "such as `crop: tomato`");
        string? variety = entry.TakeString("variety", "the variety's name", 60);
        var bed = BedOfPlanting(entry, beds);
        var start = entry.TakeText("start", "the bed in which it is raised") is { } startText ? BedNamed(entry, startText, beds) : null;
        var after = entry.TakeText("after", "such as `after: radish`");
        var sowings = SowingsOf(entry, crop);
        var (origin, begun, begunText) = BeginningOf(entry);
        int? plants = entry.TakeCount("plants", 1, 100000);
        int? seedYear = entry.TakeCount("seed of", _today.Year - OldestSeedYears, _today.Year + 1);
        var tuning = TuningOf(entry, crop);
        string? id = ExplicitId(entry);
        entry.Close();
        if (crop is null || bed is null)
            return null;
        var planting = new Planting
        {
            Id = "",
            Crop = crop,
            Variety = variety,
            BedId = bed.Id,
            StartBedId = start?.Id,
            Sowings = sowings,
            Origin = origin,
            Plants = plants,
            SeedYear = seedYear,
            Tuning = tuning,
        };
        return new(planting, id, begun, begunText, after, entry);
    }

    private static Bed? BedOfPlanting(YamlEntries entry, ImmutableArray<Bed> beds)
    {
        if (entry.TakeText("bed", "the name of a bed") is { } text)
            return BedNamed(entry, text, beds);
        // With one bed there is nothing to ask.
        if (!entry.Has("bed") && beds.Length == 1)
            return beds[0];
        if (!entry.Has("bed"))
            entry.Fault(entry.Spot, "in which bed it grows, is not said", beds.IsEmpty ? "list a bed under `beds:` first" : $"one of: {string.Join(", ", beds.Select(b => b.Name))}");
        return null;
    }

    private static (Origin Origin, WrittenDate? Date, string Text) BeginningOf(YamlEntries entry)
    {
        var (origin, date, words) = (Origin.ToSow, (WrittenDate?)null, "");
        string? already = null;
        foreach (var (key, meant) in Beginnings)
        {
            if (entry.TakeText(key, "such as `mid May`") is not { } text)
                continue;
            string plain = WrittenNumber.Plain(text.Value);
            if (plain is "no" or "false" or "not yet")
                continue;
            if (already is not null)
            {
                entry.Fault(text.Spot, $"`{key}` and `{already}` are both said", "keep the later stage of the two");
                continue;
            }
            (already, origin, words) = (key, meant, $"{key} {plain}");
            if (plain is not ("yes" or "true"))
                date = DateOf(entry, text);
        }
        return (origin, date, words);
    }

    private static string? Before(List<Planting> plantings, int follower, YamlNode.Text after, YamlEntries entry)
    {
        string name = PlainName(after.Value);
        var inBed = plantings.Where((p, i) => i != follower && p.BedId == plantings[follower].BedId).ToList();
        if (plantings.Find(p => p.Id == name && p != plantings[follower]) is { } byId)
            return byId.Id;
        var meant = inBed.Where(p => new[] { p.Crop.Name, p.Crop.Plants }.Concat(p.Crop.AlsoCalled).Any(n => PlainName(n) == name)
            || p.Variety is { } variety && PlainName(variety) == name).ToList();
        switch (meant.Count)
        {
            case 1:
                return meant[0].Id;
            case 0:
                string crops = string.Join(", ", inBed.Select(p => p.Crop.Name).Distinct());
                entry.Fault(after.Spot, $"`{Cut(after.Value)}`: nothing of the kind grows in this bed before",
                    Spelling.Nearest(name, inBed.Select(p => p.Crop.Name)) is { } near ? $"did you mean {near}?" : crops.Length > 0 ? $"there are: {crops}" : "list it as a planting of the same bed");
                return null;
            default:
                entry.Fault(after.Spot, $"`{Cut(after.Value)}` can mean {meant.Count} plantings of this bed", $"say which by its id: {string.Join(" or ", meant.Select(p => $"`{p.Id}`"))}");
                return null;
        }
    }

    private static bool FollowsItself(List<Planting> plantings, Planting planting)
    {
        string? next = planting.AfterPlantingId;
        for (int steps = 0; next is not null && steps <= plantings.Count; steps++)
        {
            if (next == planting.Id)
                return true;
            next = plantings.Find(p => p.Id == next)?.AfterPlantingId;
        }
        return false;
    }
}
