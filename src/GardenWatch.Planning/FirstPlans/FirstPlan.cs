using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>Where the garden is, as it was found.</summary>
/// <param name="Town">Null when latitude and longitude were typed.</param>
/// <param name="ElevationMetres">Null when nobody could tell, as the zone; the service looks both up later.</param>
public sealed record FirstPlace(string? Town, string? CountryCode, double LatitudeDegrees, double LongitudeDegrees, double? ElevationMetres, string? ZoneId);

/// <summary>The five answers of a new gardener, and the plan made of them.</summary>
public sealed record FirstPlan
{
    public const string UsualName = "Home garden";

    private const string SillName = "windowsill";

    /// <summary>As messages call the garden.</summary>
    public required string Name { get; init; }
    public required FirstPlace Place { get; init; }
    public required UnitSystem Units { get; init; }
    public required ImmutableArray<FirstBed> Beds { get; init; }
    public required ImmutableArray<FirstCrop> Crops { get; init; }
    /// <summary>Named, but of no crop that is known: kept as a remark.</summary>
    public ImmutableArray<string> LeftOut { get; init; } = [];
    /// <summary>A mail address or a channel's word; null when nothing is sent.</summary>
    public required string? To { get; init; }

    public string Id => IdOf(Name);

    public static string IdOf(string name) => Subjects.Slug(YamlValue.OnOneLine(name)) is { Length: > 0 } slug ? slug : "garden";

    /// <summary>What is grown where no answer is given. Sown in most gardens, and by most beginners.</summary>
    public const string UsualCrops = "lettuce, radishes, carrots, snap beans, tomatoes";

    public static string UsualBeds(UnitSystem units) => units == UnitSystem.Us ? "two 4 x 8 ft" : "two 1.2 x 3 m";

    /// <summary>The plan's file, with a remark wherever something was assumed or is worth adding.</summary>
    /// <param name="today">The garden's date, which stands in its head.</param>
    public string Text(LocalDate today)
    {
        var beds = WithSill();
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"""
            # The plan of {YamlValue.OnOneLine(Name)}, begun on {Tongue.English.Date(today)} {today.Year} from five answers. It is yours: change what you like, and let
            # `gardenwatch check` read it. The running service takes up what you save within a minute. What stands behind a # is a remark.

            garden: {YamlValue.Of(Name)}
            # Fixed: the name above may change, the history stays with this.
            id: {Id}

            # Where the weather is asked for. The garden itself is better than the town: move the numbers there, if you know them.
            place: {PlaceEntry()}

            # How messages speak: metric or us. Sizes below may be written in either.
            units: {UnitsSaid.Word(Units)}

            # When somebody can be there. Jobs are cut to these hours, and what would be lost is told before them.
            in the garden: {HoursEntry()}

            # The morning's message: when, and to whom.{(To is null ? " Nobody yet: read it with `gardenwatch today` or on the page." : " More addresses go behind a comma.")}
            digest: {WhoEntry()}

            beds:
              # Worth adding when you know it, each behind a comma: soil: loam, mulch: straw, cover: light fleece (what is at hand against
              # frost), frost pocket: {(Units == UnitSystem.Us ? "2 °F" : "1 °C")} (colder than the place on still clear nights), at: 0 x 0 (where it lies, for the map).

            """);
        foreach (var bed in beds)
            Entry(text, BedEntry(bed), bed.Guess);
        text.Append('\n');
        AddCrops(text, beds);
        text.Append(CultureInfo.InvariantCulture, $"""

            # Chores that no crop asks for, done when the weather is right. Take the # away to use one:
            # chores:
            #   - {"{"} chore: Empty the rain barrel, when: 'air low tonight at most -2 °C' {"}"}
            #   - {"{"} chore: Turn the compost, every: 4 weeks {"}"}

            """);
        return text.ToString();
    }

    private void AddCrops(StringBuilder text, ImmutableArray<FirstBed> beds)
    {
        foreach (string left in LeftOut)
            text.Append(CultureInfo.InvariantCulture, $"# Left out, since no crop of that name is known: {YamlValue.OnOneLine(left)}. A crop of your own is a file in the folder crops/.\n");
        if (Crops.IsEmpty)
        {
            text.Append("# What grows, once something does:\n# plantings:\n#   - { crop: lettuce, bed: ").Append(YamlValue.Of(beds[0].Name)).Append(" }\n");
            return;
        }
        text.Append("plantings:\n");
        if (beds.Length > 1 && Crops.Any(crop => crop.BedName is null))
            text.Append("  # Which grows in which bed is a guess where you did not say it: write the right bed's name.\n");
        text.Append("  # growing: yes, or sown: mid April, up: and set out: tell what stands there already; without one of them it is still to come.\n");
        var where = BedChoice.Of(Crops, Beds);
        string sill = beds.FirstOrDefault(bed => bed.Over == Overhead.Windowsill)?.Name ?? SillName;
        for (int i = 0; i < Crops.Length; i++)
            Entry(text, CropEntry(Crops[i], where[i], StartsOnSill(Crops[i], where[i], beds) ? sill : null),
                Crops[i].IsAssumed ? "stays for years, so it is taken to stand there; take `growing` out if it is still to come" : null);
    }

    /// <summary>Raised at a window because it was said so, or because a window was named and the crop is begun there.</summary>
    private bool StartsOnSill(FirstCrop crop, string bed, ImmutableArray<FirstBed> beds) =>
        crop.OnSill || crop is { Key: null, Sowings: null, Crop.Start: StartedIn.Indoors }
            && beds.FirstOrDefault(each => each.Over == Overhead.Windowsill) is { } sill && sill.Name != bed && Beds.Contains(sill);

    private ImmutableArray<FirstBed> WithSill() =>
        Crops.Any(crop => crop.OnSill) && Beds.All(bed => bed.Over != Overhead.Windowsill)
            ? Beds.Add(new(SillName, Overhead.Windowsill, null, null, null))
            : Beds;

    private string PlaceEntry()
    {
        var parts = new List<string>();
        if (Place.Town is { } town)
            parts.Add($"town: {YamlValue.Of(town)}");
        parts.Add(string.Create(CultureInfo.InvariantCulture, $"latitude: {Place.LatitudeDegrees:0.####}, longitude: {Place.LongitudeDegrees:0.####}"));
        if (Place.ElevationMetres is { } metres && !double.IsNaN(metres))
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"elevation: {metres:0} m"));
        if (Place.ZoneId is { } zone)
            parts.Add($"zone: {YamlValue.Of(zone)}");
        return Braces(parts);
    }

    private static string HoursEntry() => Braces(
    [
        $"weekdays: {Slots(GardenHours.Usual.Weekdays)}", $"weekends: {Slots(GardenHours.Usual.Weekends)}",
    ]);

    private static string Slots(ImmutableArray<DaySlot> slots) =>
        string.Join(" and ", slots.Select(slot => string.Create(CultureInfo.InvariantCulture, $"{slot.From:HH':'mm}-{slot.To:HH':'mm}")));

    private string WhoEntry() => Braces(["at: \"06:00\"", $"to: [{(To is null ? "" : YamlValue.Of(To))}]"]);

    private string BedEntry(FirstBed bed)
    {
        var parts = new List<string> { $"bed: {YamlValue.Of(bed.Name)}" };
        if (bed.SizeMetres is var (width, length))
            parts.Add($"size: {Length(width)} x {Length(length)}");
        if (bed.ContainerLitres is { } litres)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"container: {litres:0.#} litres"));
        if (bed.Over != Overhead.Open)
            parts.Add($"over: {bed.Over.ToString().ToLowerInvariant()}");
        return Braces(parts);
    }

    private static string CropEntry(FirstCrop crop, string bed, string? sill)
    {
        var parts = new List<string> { $"crop: {YamlValue.Of(crop.Crop.Name)}" };
        if (crop.Variety is { } variety)
            parts.Add($"variety: {YamlValue.Of(variety)}");
        parts.Add($"bed: {YamlValue.Of(bed)}");
        if (sill is not null)
            parts.Add($"start: {YamlValue.Of(sill)}");
        if (crop.Key is { } key)
            parts.Add($"{key}: {YamlValue.Of(crop.When!)}");
        if (crop.Sowings is { } sowings)
            parts.Add($"sowings: {YamlValue.Of(sowings)}");
        if (crop.Plants is { } plants)
            parts.Add(string.Create(CultureInfo.InvariantCulture, $"plants: {plants}"));
        return Braces(parts);
    }

    private string Length(double metres) => Units == UnitSystem.Us
        ? string.Create(CultureInfo.InvariantCulture, $"{metres / 0.3048:0.##} ft")
        : string.Create(CultureInfo.InvariantCulture, $"{metres:0.##} m");

    private static void Entry(StringBuilder text, string entry, string? remark) =>
        text.Append("  - ").Append(entry).Append(remark is null ? "" : "   # " + YamlValue.OnOneLine(remark)).Append('\n');

    private static string Braces(IEnumerable<string> parts) => "{ " + string.Join(", ", parts) + " }";
}
