using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>What became of a change.</summary>
public abstract record PlanEditing
{
    private PlanEditing() { }

    /// <param name="Text">The whole new text; what was not touched is byte for byte as before.</param>
    /// <param name="Reading">What it reads to.</param>
    /// <param name="Remarks">Those that were not there before.</param>
    public sealed record Done(string Text, PlanReading Reading, ImmutableArray<string> Remarks) : PlanEditing;

    /// <param name="Reasons">Sentences: what is wrong and what to write instead.</param>
    public sealed record Refused(ImmutableArray<string> Reasons) : PlanEditing;
}

/// <summary>
/// Makes one change in a plan's text and keeps everything else of it: remarks, blank lines, order, quotation marks, line ends.
/// What it gives reads back to exactly the changed plan; a text for which that can't be had is refused, with the line to
/// change by hand.
/// </summary>
public static class PlanEdit
{
    private const int LongestField = 200;

    private static readonly string[] Beginnings = ["sown", "up", "set out", "bought", "growing"];

    /// <param name="read">Reads a text of this plan, with what is known of its subjects.</param>
    public static PlanEditing Of(string text, PlanChange change, Func<string, PlanReading> read)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(read);
        var before = read(text);
        if (before.Plan is not { } plan)
            return new PlanEditing.Refused([
                "The file has faults already, which come first; put them right by hand.", .. before.Faults.Select(Sentence)]);
        if (Fields(change).FirstOrDefault(field => field.Length > LongestField || field.Any(char.IsControl)) is { } odd)
            return new PlanEditing.Refused([$"`{odd[..Math.Min(odd.Length, 40)].ReplaceLineEndings(" ")}` is too long, or holds letters that can’t be printed."]);
        var edited = Edited(text, plan, change, read, ownId: false);
        // What is known again by its id alone gets that written down, so that its records stay with it.
        return edited is PlanEditing.Done done && !KeepsIds(plan, done.Reading.Plan!) ? Edited(text, plan, change, read, ownId: true) : edited;
    }

    private static PlanEditing Edited(string text, Plan plan, PlanChange change, Func<string, PlanReading> read, bool ownId)
    {
        string changed;
        try
        {
            var page = new PlanText(text);
            Make(page, plan, change, ownId);
            changed = page.Changed();
        }
        catch (ByHandException byHand)
        {
            return new PlanEditing.Refused([$"Line {byHand.Line} of the file has to be changed by hand: {byHand.Message}. Nothing was written."]);
        }
        var (before, after) = (read(text), read(changed));
        if (after.Plan is null)
            return new PlanEditing.Refused([.. after.Faults.Select(Sentence)]);
        var remarks = after.Remarks.Select(Sentence).Except(before.Remarks.Select(Sentence));
        return new PlanEditing.Done(changed, after, [.. remarks]);
    }

    /// <summary>Those of before are there still, in their places.</summary>
    private static bool KeepsIds(Plan before, Plan after) =>
        before.Beds.Select(bed => bed.Id).SequenceEqual(after.Beds.Take(before.Beds.Length).Select(bed => bed.Id))
        && before.Plantings.Select(planting => planting.Id).SequenceEqual(after.Plantings.Take(before.Plantings.Length).Select(planting => planting.Id))
        && before.Chores.Select(chore => chore.Id).SequenceEqual(after.Chores.Take(before.Chores.Length).Select(chore => chore.Id));

    private static string Sentence(FileFault fault)
    {
        string said = fault.Instead is { } instead ? $"{fault.Problem}; {instead}" : fault.Problem;
        return $"{char.ToUpperInvariant(said[0])}{said[1..]}{(said[^1] is '.' or '?' ? "" : ".")}";
    }

    private static IEnumerable<string> Fields(PlanChange change) => (change switch
    {
        PlanChange.AddPlanting add => (string?[])[add.Crop, add.Bed, add.When, add.StartBed, add.Plants, add.Variety],
        PlanChange.ChangePlanting planting => [planting.When, planting.Bed],
        PlanChange.AddBed add => [add.Name, add.Size, add.Over],
        PlanChange.ChangeBed bed => [bed.Name, bed.Size],
        PlanChange.AddChore chore => [chore.Name, chore.Bed, chore.Every, chore.Minutes, .. chore.When],
        PlanChange.AddAbsence away => [away.From, away.To, away.Sitter],
        PlanChange.ChangeHour hour => [hour.Address, hour.At],
        _ => throw new ArgumentOutOfRangeException(nameof(change)),
    }).OfType<string>();

    private static void Make(PlanText page, Plan plan, PlanChange change, bool ownId)
    {
        switch (change)
        {
            case PlanChange.AddPlanting add:
                page.Append("plantings", FieldsOf(add), inLines: false);
                break;
            case PlanChange.ChangePlanting planting:
                Make(page, plan, planting, ownId);
                break;
            case PlanChange.AddBed add:
                page.Append("beds", Given(("bed", add.Name), ("size", add.Size), ("over", add.Over)), inLines: false);
                break;
            case PlanChange.ChangeBed bed:
                Make(page, plan, bed);
                break;
            case PlanChange.AddChore chore:
                var fields = Given(("chore", chore.Name), ("bed", chore.Bed), ("every", chore.Every), ("minutes", chore.Minutes));
                if (!chore.When.IsEmpty)
                    fields.Add(("when", chore.When));
                page.Append("chores", fields, inLines: !chore.When.IsEmpty);
                break;
            case PlanChange.AddAbsence away:
                page.Append("away", Given(("from", away.From), ("to", away.To), ("sitter", away.Sitter)), inLines: false);
                break;
            case PlanChange.ChangeHour hour:
                Make(page, hour);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(change));
        }
    }

    private static List<(string, object)> Given(params ReadOnlySpan<(string Key, string? Value)> fields)
    {
        var given = new List<(string, object)>();
        foreach (var (key, value) in fields)
            if (value is not null)
                given.Add((key, value));
        return given;
    }

    private static List<(string, object)> FieldsOf(PlanChange.AddPlanting add) => Given(
        ("crop", add.Crop), ("variety", add.Variety), ("bed", add.Bed),
        ("start", add.How == Raising.Indoors ? add.StartBed : null),
        (add.How == Raising.Bought ? "bought" : "sown", add.When ?? (add.How == Raising.Bought ? "yes" : null)),
        ("plants", add.Plants));

    private static void Make(PlanText page, Plan plan, PlanChange.ChangePlanting change, bool ownId)
    {
        var entry = PlanText.Entry(page.Top, "plantings", IndexOf(plan.Plantings, planting => planting.Id == change.PlantingId));
        if (change.When is { } when)
            page.Set(entry, Beginnings.FirstOrDefault(key => entry[key] is { } value && value is not MarkedText { IsEmpty: true } && value is not MarkedText { Value: "no" or "false" or "not yet" }) ?? "sown", when);
        if (change.Bed is { } bed)
            page.Set(entry, "bed", bed);
        if (ownId)
            page.Set(entry, "id", change.PlantingId);
    }

    private static void Make(PlanText page, Plan plan, PlanChange.ChangeBed change)
    {
        int index = IndexOf(plan.Beds, bed => bed.Id == change.BedId);
        var entry = PlanText.Entry(page.Top, "beds", index);
        if (change.Size is { } size)
            page.Set(entry, "size", size);
        if (change.Name is not { } name)
            return;
        string old = plan.Beds[index].Name;
        page.Set(entry, "bed", name);
        if (entry["id"] is null or MarkedText { IsEmpty: true })
            page.Set(entry, "id", change.BedId);
        foreach (var planting in Maps(page.Top["plantings"]))
            Rename(page, planting, old, name, "bed", "start");
        foreach (var chore in Maps(page.Top["chores"]))
            Rename(page, chore, old, name, "bed", "beds");
        if (page.Top["digest"] is MarkedMap digest)
            foreach (var addressee in Maps(digest["to"]))
                Rename(page, addressee, old, name, "bed", "beds");
    }

    private static IEnumerable<MarkedMap> Maps(MarkedNode? node) => node switch
    {
        MarkedList list => list.Items.OfType<MarkedMap>(),
        MarkedMap one => [one],
        _ => [],
    };

    /// <summary>Wherever the old name stands under one of some keys.</summary>
    private static void Rename(PlanText page, MarkedMap entry, string old, string name, params ReadOnlySpan<string> keys)
    {
        foreach (string key in keys)
        {
            switch (entry[key])
            {
                case MarkedText text when Plainly(text) == WrittenNumber.Plain(old):
                    page.Set(PlanText.Reached(entry), key, name);
                    break;
                case MarkedList list:
                    for (int i = 0; i < list.Items.Count; i++)
                        if (list.Items[i] is MarkedText item && Plainly(item) == WrittenNumber.Plain(old))
                            list.Items[i] = page.Replaced(item, name, PlanText.Reached(list).IsFlow);
                    break;
            }
        }
    }

    private static string Plainly(MarkedText text) => WrittenNumber.Plain(text.Value);

    private static void Make(PlanText page, PlanChange.ChangeHour change)
    {
        if (page.Top["digest"] is not { } written)
            throw new ByHandException(1, "there is no `digest:` in it yet");
        var digest = PlanText.Map(written);
        if (change.Address is not { } address)
        {
            page.Set(digest, "at", change.At);
            return;
        }
        bool Is(MarkedNode? node) => node is MarkedText text && text.Value.Trim().Equals(address, StringComparison.OrdinalIgnoreCase);
        var to = digest["to"] is MarkedList list ? PlanText.Reached(list).Items : [];
        int at = to.FindIndex(node => Is(node) || node is MarkedMap map && Is(map["who"]));
        if (at >= 0 && to[at] is MarkedMap entry)
            page.Set(PlanText.Reached(entry), "at", change.At);
        else if (at >= 0)
            page.ReplaceByEntry(to, at, ("who", address), ("at", change.At));
        else if (digest["to"] is { } one)
            throw new ByHandException(one.Line, $"`to` names {address} without a list; write it as `to: [{address}]`");
        else
            throw new ByHandException(digest.Line, $"nobody is told there, and so not {address}");
    }

    private static int IndexOf<T>(ImmutableArray<T> among, Func<T, bool> isIt) => among.IndexOf(among.FirstOrDefault(isIt) ?? throw new ByHandException(1, "the plan has it no more"));
}
