using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>A field of a form.</summary>
/// <param name="Hint">Below it; empty for none.</param>
/// <param name="Choices">Value and word, to choose from; empty for a line to write in.</param>
/// <param name="Offers">What the browser offers to a line.</param>
public sealed record PlanField(
    string Name, string Label, string Value, string Hint, ImmutableArray<(string Value, string Word)> Choices, ImmutableArray<string> Offers)
{
    public bool IsNeeded { get; init; }

    public bool IsLong { get; init; }
}

/// <summary>The forms of a plan: which fields each has, and which change it means.</summary>
/// <param name="plan">As the file has it now.</param>
/// <param name="value">What was written into a field; empty for nothing.</param>
internal sealed class PlanForms(Plan plan, CropShelf crops, Func<string, string> value)
{
    public const string Sow = "sow", Planting = "planting", NewBed = "new-bed", Bed = "bed", Chore = "chore", Away = "away", Hour = "hour";

    private const int MostConditions = 4;

    private static readonly ImmutableArray<string> WaysOfSaying = ["mid April", "12 May", "late September", "in two weeks"];

    /// <summary>Heading, what it is for, fields; null for a form that there is not, or of something that the plan has no more.</summary>
    public (string Heading, string Lead, ImmutableArray<PlanField> Fields)? Of(string form, string id) => form switch
    {
        Sow => ("Sow or plant something", "A crop in a bed. Without a date it is asked for when soil and weather suit.",
        [
            Line("crop", "Crop", "", needed: true, offers: [.. crops.Crops.Select(crop => crop.Name).Order(StringComparer.Ordinal)]),
            Line("variety", "Variety", "If you want to tell it from others."),
            Choice("bed", "Bed", BedNames()),
            Choice("how", "How it comes there", [("in place", "sown in place"), ("indoors", "raised elsewhere, then set out"), ("bought", "bought as young plants")]),
            Choice("start", "Raised in", [("", "-"), .. BedNames()], "Only for what is raised elsewhere."),
            Line("when", "When", "Of sowing or buying, as you say it: mid April, 12 May. Leave it empty to go by the weather.", offers: WaysOfSaying),
            Line("plants", "How many plants", "Leave it empty where it does not matter."),
        ]),
        Planting when plan.Plantings.FirstOrDefault(each => each.Id == id) is { } planting => (NameOf(planting), "Another date or another bed. What the journal knows of it stays with it.",
        [
            Line("when", "New date", $"Now: {DateOf(planting)}. Leave it empty to keep that.", offers: WaysOfSaying),
            Choice("bed", "Bed", BedNames(), chosen: plan.BedOf(planting.BedId).Name),
        ]),
        NewBed => ("Add a bed", "Ground or a place for pots.",
        [
            Line("name", "Name", "As your messages shall call it.", needed: true),
            Line("size", "Size", "Such as 4 ft x 12 ft or 1.2 m x 3 m. Leave it empty when you do not know it."),
            Choice("over", "Over it", [("", "open sky"), ("frame", "a cold frame"), ("tunnel", "a tunnel"), ("greenhouse", "a greenhouse"), ("windowsill", "indoors, at a window")]),
        ]),
        Bed when plan.Beds.FirstOrDefault(each => each.Id == id) is { } bed => (bed.Name, "Another name or another size. Plantings and chores follow, and so does its history.",
        [
            Line("name", "Name", "", needed: true, written: bed.Name),
            Line("size", "New size", bed.Size is null ? "Such as 4 ft x 12 ft or 1.2 m x 3 m." : "Such as 4 ft x 12 ft or 1.2 m x 3 m. Leave it empty to keep the size it has."),
        ]),
        Chore => ("Add a chore", "A job that belongs to no crop.",
        [
            Line("name", "What is to be done", "Such as Turn the compost.", needed: true),
            Choice("bed", "Where", [("", "the whole garden"), .. BedNames()]),
            Line("every", "How often", "Such as 6 weeks. Leave it empty for once.", offers: ["10 days", "2 weeks", "6 weeks", "monthly"]),
            Line("minutes", "Minutes it takes", ""),
            Lines("when", "Only in such weather", $"A condition to a line, {MostConditions} at most; all must hold. Such as: rain total next 24 hours at most 2 mm."),
        ]),
        Away => ("Days away", "Before them you are told what to see to; who looks after the garden gets a short list instead of your message.",
        [
            Line("from", "From", "Such as 12 July.", needed: true),
            Line("to", "To", "The last day without you.", needed: true),
            Line("sitter", "Who looks after it", "A mail address. Leave it empty for nobody."),
        ]),
        Hour when !plan.Digest.To.IsEmpty => ("The hour of the message", "Before noon, and late enough that the night’s forecast is in it.",
        [
            Choice("who", "Whose", [("", "of all who have none of their own"), .. plan.Digest.To.Select(to => (to.Address, $"{to.Address} ({HourOf(to.At ?? plan.Digest.At)})"))]),
            Line("at", "New hour", $"Such as 6:30. Now, for all: {HourOf(plan.Digest.At)}.", needed: true),
        ]),
        _ => null,
    };

    public PlanChange ChangeOf(string form, string id) => form switch
    {
        Sow => new PlanChange.AddPlanting(
            value("crop"), value("bed"), value("how") switch { "indoors" => Raising.Indoors, "bought" => Raising.Bought, _ => Raising.InPlace },
            Given("when"), Given("start"), Given("plants"), Given("variety")),
        Planting => new PlanChange.ChangePlanting(id, Given("when"), plan.Plantings.Any(each => each.Id == id && plan.BedOf(each.BedId).Name == value("bed")) ? null : Given("bed")),
        NewBed => new PlanChange.AddBed(value("name"), Given("size"), Given("over")),
        Bed => new PlanChange.ChangeBed(id, plan.Beds.Any(each => each.Id == id && each.Name == value("name")) ? null : Given("name"), Given("size")),
        Chore => new PlanChange.AddChore(value("name"), Given("bed"), Given("every"), Given("minutes"), [.. Conditions()]),
        Away => new PlanChange.AddAbsence(value("from"), value("to"), Given("sitter")),
        Hour => new PlanChange.ChangeHour(Given("who"), value("at")),
        _ => throw new ArgumentOutOfRangeException(nameof(form)),
    };

    /// <summary>What the file itself could not tell apart from something meant; null when all is there.</summary>
    public string? Missing(string form, string id)
    {
        if (Of(form, id) is not var (_, _, fields))
            return "The plan has it no more.";
        if (fields.FirstOrDefault(field => field.IsNeeded && Clean(value(field.Name)).Length == 0) is { } empty)
            return $"“{empty.Label}” is empty.";
        if (form == Sow && value("how") == "indoors" && Given("start") is null)
            return "In which bed is it raised? Choose one under “Raised in”.";
        if (form == Chore && Conditions().Count() > MostConditions)
            return $"More than {MostConditions} conditions are better written into the file itself.";
        return form is Planting or Bed && ChangeOf(form, id) is PlanChange.ChangePlanting(_, null, null) or PlanChange.ChangeBed(_, null, null) ? "Nothing is changed yet." : null;
    }

    public static string HourOf(LocalTime time) => $"{time.Hour}:{time.Minute:00}";

    public string NameOf(Planting planting)
    {
        string crop = planting.Crop.Plants;
        return $"{char.ToUpperInvariant(crop[0])}{crop[1..]}{(planting.Variety is { } variety ? $", {variety}" : "")}, {plan.BedOf(planting.BedId).Name}";
    }

    public static string DateOf(Planting planting)
    {
        string what = planting.Origin switch
        {
            Origin.Sown => "sown",
            Origin.Bought => "bought",
            Origin.SetOut => "set out",
            Origin.Growing => "growing",
            _ => "by the weather",
        };
        return planting.OriginDate is var (from, to)
            ? $"{what} {Planning.Tongues.Tongue.English.Date(from)}{(from == to ? "" : $" to {Planning.Tongues.Tongue.English.Date(to)}")}{(from.Year == to.Year ? $" {from.Year}" : "")}"
            : what;
    }

    private ImmutableArray<(string, string)> BedNames() => [.. plan.Beds.Select(bed => (bed.Name, bed.Name))];

    private IEnumerable<string> Conditions() => value("when").Split('\n').Select(Clean).Where(line => line.Length > 0);

    private string? Given(string name) => Clean(value(name)) is { Length: > 0 } given ? given : null;

    private static string Clean(string written) => written.Replace('\u00A0', ' ').Trim();

    private PlanField Line(string name, string label, string hint, bool needed = false, string written = "", ImmutableArray<string>? offers = null) =>
        new(name, label, value(name) is { Length: > 0 } own ? own : written, hint, [], offers ?? []) { IsNeeded = needed };

    private PlanField Lines(string name, string label, string hint) => new(name, label, value(name), hint, [], []) { IsLong = true };

    private PlanField Choice(string name, string label, ImmutableArray<(string, string)> choices, string hint = "", string chosen = "") =>
        new(name, label, value(name) is { Length: > 0 } own ? own : chosen, hint, choices, []);
}
