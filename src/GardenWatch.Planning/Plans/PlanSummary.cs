using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Planning.Plans;

/// <summary>A plan in plain words, so that the gardener sees what was understood and what will be asked.</summary>
public static partial class PlanSummary
{
    public static string Of(Plan plan, Speech speech)
    {
        var text = new StringBuilder();
        void Line(string line) => text.Append(line).Append('\n');

        Line($"{plan.Name} ({plan.GardenId}), {Place(plan.Place, speech)}. Messages speak {(plan.Units == UnitSystem.Us ? "US units" : "metric")}.");
        Line(plan.Digest.To.IsEmpty
            ? "Nobody gets the digest by mail."
            : $"The digest goes to {Addressees(plan, speech)}.{SecondChannels(plan.Digest)}{Quiet(plan.Digest, speech)}");
        Line($"There on weekdays {Slots(plan.InTheGarden.Weekdays, speech)}; at weekends {Slots(plan.InTheGarden.Weekends, speech)}"
            + string.Concat(plan.InTheGarden.OwnHours.OrderBy(d => d.Key).Select(d => $"; {d.Key} {Slots(d.Value, speech)}")) + ".");
        foreach (var absence in plan.Away)
            Line($"Away {Dates(new(absence.From, absence.To))}{(absence.Sitter is { } sitter ? $"; {sitter} gets the digest" : "")}.");
        Section(text, "BEDS", plan.Beds.Select(bed => BedLine(bed, speech)));
        Section(text, "PLANTINGS", plan.Plantings.Select(planting => PlantingLine(plan, planting, speech)));
        Section(text, "CHORES", plan.Chores.Select(chore => ChoreLine(plan, chore, speech)));
        return text.ToString();
    }

    /// <summary>"pat@example.org at 6 am; sam@example.org at 7:30 am in metric, for the low bed".</summary>
    private static string Addressees(Plan plan, Speech speech)
    {
        if (plan.Digest.To.All(to => to == new Addressee(to.Address, plan.Units) { BedIds = to.BedIds } && to.BedIds.IsEmpty))
            return $"{string.Join(" and ", plan.Digest.To.Select(to => to.Address))} at {speech.Hour(plan.Digest.At)}";
        return string.Join("; ", plan.Digest.To.Select(to =>
            $"{to.Address} at {speech.Hour(to.At ?? plan.Digest.At)}"
            + (to.Units == plan.Units ? "" : to.Units == UnitSystem.Us ? " in US units" : " in metric")
            + (to.BedIds.IsEmpty ? "" : $", for {string.Join(" and ", to.BedIds.Select(id => plan.BedOf(id).Name))}")));
    }

    private static string SecondChannels(DigestSettings digest) => digest.UrgentToo.IsEmpty ? ""
        : $" What is urgent and not taken goes by {string.Join(" and ", digest.UrgentToo)} after 20 minutes.";

    private static string Quiet(DigestSettings digest, Speech speech) => digest.Quiet is { } quiet
        ? $" No push from {speech.Hour(quiet.From)} to {speech.Hour(quiet.To)}{(digest.FrostMayWake ? ", but for frost" : "")}."
        : "";

    private static void Section(StringBuilder text, string head, IEnumerable<string> lines)
    {
        bool any = false;
        foreach (string line in lines)
        {
            text.Append(any ? "" : head + "\n").Append("  ").Append(line).Append('\n');
            any = true;
        }
    }

    private static string Place(PlanPlace place, Speech speech)
    {
        var parts = new List<string>();
        if (place.Town is { } town)
            parts.Add(town);
        if (place is { LatitudeDegrees: { } latitude, LongitudeDegrees: { } longitude })
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(latitude):0.##}° {(latitude < 0 ? "south" : "north")} {Math.Abs(longitude):0.##}° {(longitude < 0 ? "west" : "east")}"));
        if (place.ElevationMetres is { } elevation)
            parts.Add($"{Height(Math.Abs(elevation), speech)} {(elevation < 0 ? "below" : "above")} the sea");
        if (place.ZoneId is { } zone)
            parts.Add($"time of {zone}");
        return string.Join(", ", parts);
    }

    private static string Height(double metres, Speech speech) => speech.Units == UnitSystem.Us
        ? string.Create(CultureInfo.InvariantCulture, $"{metres / 0.3048:0} ft")
        : string.Create(CultureInfo.InvariantCulture, $"{metres:0} m");

    private static string Slots(ImmutableArray<DaySlot> slots, Speech speech) =>
        slots.IsEmpty ? "never" : string.Join(" and ", slots.Select(slot =>
            slot.From == slot.To ? "all day" : $"{speech.Hour(slot.From)} to {speech.Hour(slot.To)}"));

    private static string BedLine(Bed bed, Speech speech)
    {
        var parts = new List<string>();
        if (bed.Over != Overhead.Open)
            parts.Add(Words(bed.Over.ToString()));
        if (bed.Size is var (width, length))
            parts.Add($"{speech.Length(width)} by {speech.Length(length)}");
        if (bed.ContainerLitres is { } litres)
            parts.Add($"a container of {speech.Volume(litres)}");
        if (bed.Soil is { } soil)
            parts.Add(Words(soil.ToString()));
        if (bed.Mulch != Mulch.None)
            parts.Add($"{Words(bed.Mulch.ToString())} on it");
        if (bed.FrostPocket.Kelvins > 0)
            parts.Add($"{speech.Difference(bed.FrostPocket.Kelvins)} colder on still clear nights");
        if (bed.Cover is { } cover)
            parts.Add(cover == CoverAtHand.None ? "no cover at hand" : $"{Words(cover.ToString())} at hand");
        return $"{Capital(bed.Name)}{(parts.Count > 0 ? ": " + string.Join(", ", parts) : "")}.";
    }

    private static string PlantingLine(Plan plan, Planting planting, Speech speech)
    {
        string who = Capital(planting.Crop.Name) + (planting.Variety is { } variety ? $" ({variety})" : "");
        string many = planting.Plants is { } plants ? $", {Tongue.English.Counted(plants, "plant")}" : "";
        string date = planting.OriginDate is { } when ? " " + Dates(when) : "";
        string begun = planting.Origin switch
        {
            Origin.Sown => $", sown{date}",
            Origin.Bought => $", bought{(date.Length > 0 ? " about" + date : "")}",
            Origin.SetOut => $", set out{date}",
            Origin.Growing => $", growing{(date.Length > 0 ? " since" + date : "")}",
            _ => planting.StartBedId is { } start ? $", started in {plan.BedOf(start).Name}" : "",
        };
        string after = planting.AfterPlantingId is { } id && plan.Plantings.FirstOrDefault(p => p.Id == id) is { } earlier ? $", after the {earlier.Crop.Plants}" : "";
        string batches = planting.Sowings is { } s
            ? $", {(s.Batches is { } n ? $"{n} sowings, one" : "a sowing")} every {Tongue.English.Counted(s.EveryDays, "day")}{(s.UntilTooWarm ? " until it is too warm" : "")}"
            : "";
        var asked = Asked(planting).Select(kind => planting.Crop.Jobs.FirstOrDefault(job => job.Kind == kind)).OfType<JobTemplate>()
            .Select(job => $"{job.Kind.Word()} when {Phrases(job.Conditions.When, JobNumbers.InForce(JobNumbers.Of(planting, job)), speech)}{FromChance(planting.Tuning, job.Kind)}").ToList();
        return $"{who}{many} in {plan.BedOf(planting.BedId).Name}{begun}{after}{batches}{(asked.Count > 0 ? ": " + string.Join("; ", asked) : "")}.";
    }

    /// <summary>The jobs of the crop that are still ahead of such a planting.</summary>
    private static IEnumerable<JobKind> Asked(Planting planting)
    {
        if (planting.Origin == Origin.ToSow && planting.StartBedId is null)
            yield return JobKind.Sow;
        if (planting.Origin == Origin.Bought || planting.StartBedId is not null && planting.Origin is Origin.ToSow or Origin.Sown)
            yield return JobKind.SetOut;
        yield return JobKind.Cover;
    }

    /// <summary>The chance from which on a job is advised, where the gardener set one.</summary>
    private static string FromChance(Tuning tuning, JobKind kind) =>
        tuning.Numbers.TryGetValue((kind, DecisionRule.NumberName), out var share)
            ? string.Create(CultureInfo.InvariantCulture, $", from a chance of {share.Value * 100:0.#} % on")
            : "";

    private static string ChoreLine(Plan plan, Chore chore, Speech speech)
    {
        var line = new StringBuilder(chore.Name);
        if (chore.BedId is { } bed)
            line.Append(CultureInfo.InvariantCulture, $" ({plan.BedOf(bed).Name})");
        if (chore.EveryDays is { } every)
            line.Append(CultureInfo.InvariantCulture, $", every {Tongue.English.Counted(every, "day")}");
        var numbers = JobNumbers.InForce(JobNumbers.Of(chore));
        if (!chore.Conditions.When.IsEmpty)
            line.Append(CultureInfo.InvariantCulture, $", when {Phrases(chore.Conditions.When, numbers, speech)}");
        if (!chore.Conditions.Unless.IsEmpty)
            line.Append(CultureInfo.InvariantCulture, $", unless {string.Join(" or ", chore.Conditions.Unless.Select(c => Phrase(c, numbers, speech)))}");
        line.Append(FromChance(chore.Tuning, chore.Kind));
        if (chore.Otherwise is { } otherwise)
            line.Append(CultureInfo.InvariantCulture, $"; after {Tongue.English.Counted(otherwise.AfterDays, "day")} of waiting: {otherwise.Text}");
        if (chore.Then is { } then)
            line.Append(CultureInfo.InvariantCulture, $"; {Tongue.English.Counted(then.AfterDays, "day")} later look for {then.LookFor}");
        return line.Append('.').ToString();
    }

    private static string Phrases(ImmutableArray<Condition> conditions, ImmutableDictionary<string, Quantity> tuned, Speech speech) =>
        string.Join(" and ", conditions.Select(condition => Phrase(condition, tuned, speech)));

    /// <summary>A phrase with its named numbers as they are in force, in the garden's units, without the braces.</summary>
    private static string Phrase(Condition condition, ImmutableDictionary<string, Quantity> tuned, Speech speech)
    {
        var numbers = Evaluate.Numbers(condition, tuned);
        string phrase = SoilDepth().Replace(ConditionText.Print(condition, speech), match =>
            QuantityText.Read(match.Value, Dimension.Length) is QuantityReading.Ok(var depth) ? speech.Length(depth.Value) : match.Value);
        return NamedNumber().Replace(phrase, match =>
            numbers.FirstOrDefault(n => n.Name.Equals(match.Groups["name"].Value.Trim(), StringComparison.OrdinalIgnoreCase))?.InForce is { } quantity
                ? Said(quantity, speech)
                : match.Groups["name"].Value);
    }

    private static string Said(Quantity quantity, Speech speech) => quantity.Dimension switch
    {
        Dimension.Temperature => speech.Temperature(quantity.Value),
        Dimension.Speed => speech.Speed(quantity.Value),
        _ => speech.Quantity(quantity),
    };

    private static string Dates(DateRange range) =>
        string.Create(CultureInfo.InvariantCulture, $"{Tongue.English.Dates(range.From, range.To)} {range.To.Year}");

    /// <summary>"SiltLoam" is said "silt loam".</summary>
    internal static string Words(string name) => WordStart().Replace(name, " $0").Trim().ToLowerInvariant();

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    [GeneratedRegex(@"\{(?<name>[^{}:]+)(?::[^{}]*)?\}", RegexOptions.CultureInvariant)]
    private static partial Regex NamedNumber();

    [GeneratedRegex(@"(?<=^soil at )[0-9.]+\s?(?:m|cm|in|ft)\b", RegexOptions.CultureInvariant)]
    private static partial Regex SoilDepth();

    [GeneratedRegex("[A-Z]", RegexOptions.CultureInvariant)]
    private static partial Regex WordStart();
}
