using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>What reading a plan gave.</summary>
/// <param name="Plan">Null when there is any fault.</param>
/// <param name="Remarks">What was assumed; the plan works all the same.</param>
/// <param name="Subjects">What is known from now on, for the host to keep; as it was given when there is any fault.</param>
public sealed record PlanReading(
    Plan? Plan, ImmutableArray<FileFault> Faults, ImmutableArray<FileFault> Remarks, ImmutableArray<KnownSubject> Subjects);

/// <summary>Reads a garden's file. All faults come at once, each with its place and what to write instead.</summary>
public sealed partial class PlanFile
{
    private const int MostOfAKind = 300;

    private static readonly Dictionary<string, UnitSystem> UnitSystems = new(StringComparer.Ordinal)
    {
        ["metric"] = UnitSystem.Metric, ["us"] = UnitSystem.Us,
    };

    private readonly CropShelf _crops;
    private readonly ImmutableArray<KnownSubject> _known;
    private readonly LocalDate _today;
    private readonly Func<string, ConditionReading> _readCondition;
    private readonly List<FileFault> _faults = [];
    private readonly List<FileFault> _remarks = [];
    private readonly List<KnownSubject> _present = [];

    private readonly ImmutableArray<string> _channels;

    private PlanFile(
        CropShelf crops, ImmutableArray<KnownSubject> known, LocalDate today, Func<string, ConditionReading> readCondition, ImmutableArray<string> channels) =>
        (_crops, _known, _today, _readCondition, _channels) = (crops, known, today, readCondition, channels);

    /// <param name="known">What earlier readings returned; empty the first time.</param>
    /// <param name="today">The garden's local date, from which dates without a year are first counted.</param>
    /// <param name="channels">Those of <see cref="ChannelWords"/> that are set up; null where that is not known.</param>
    public static PlanReading Read(
        string text, string fileName, CropShelf crops, ImmutableArray<KnownSubject> known, LocalDate today,
        Func<string, ConditionReading> readCondition, ImmutableArray<string>? channels = null)
    {
        var file = new PlanFile(crops, known, today, readCondition, channels ?? ChannelWords.All);
        Plan? plan = null;
        switch (YamlPage.Read(text, fileName, file._faults))
        {
            case YamlNode.Map map:
                plan = file.PlanOf(new(map, file._faults));
                break;
            case null when file._faults.Count == 0:
                file._faults.Add(new(fileName, 1, 1, "the file is empty", "begin with `garden: ` and its name"));
                break;
            case YamlNode other:
                file._faults.Add(new(fileName, other.Spot.Line, other.Spot.Column, "this is no plan", "begin with `garden: ` and its name; every line is `key: value`"));
                break;
        }
        bool good = file._faults.Count == 0;
        return new(
            good ? plan : null,
            [.. file._faults.Select(f => WithinFile(f, text)).OrderBy(f => f.Line).ThenBy(f => f.Column)],
            [.. file._remarks.Select(f => WithinFile(f, text)).OrderBy(f => f.Line).ThenBy(f => f.Column)],
            good ? file.KnownFromNowOn() : known);
    }

    /// <summary>The parser places what is missing at the end a line too far, and knows line ends that no editor shows.</summary>
    private static FileFault WithinFile(FileFault fault, string text) =>
        fault.Line <= text.AsSpan().Count('\n') + text.AsSpan().Count('\r') + 1
            ? fault
            : fault with { Line = text.Split('\n').Length, Column = text.Split('\n')[^1].Length + 1 };

    private Plan PlanOf(YamlEntries top)
    {
        string? name = top.TakeString("garden", "such as `garden: Home`");
        if (name is null && !top.Has("garden"))
            top.Fault(top.Spot, "the garden has no name", "begin with `garden: ` and its name");
        string id = GardenId(top, name ?? "garden");
        var place = PlaceOf(top);
        if (!top.Has("units"))
            Remark(top.Spot, "units are not said: messages speak metric", "`units: us` or `units: metric`");
        var units = top.TakeWord("units", UnitSystems) ?? UnitSystem.Metric;
        var tongue = TongueOf(top);
        var hours = HoursOf(top.TakeMap("in the garden", "such as `in the garden: { weekdays: 06:00-07:30, weekends: 08:00-19:00 }`"));
        var away = AwayOf(top);
        var beds = BedsOf(top);
        var digest = DigestOf(top, units, beds);
        var plantings = PlantingsOf(top, beds);
        var chores = ChoresOf(top, beds);
        (plantings, chores, var tuning) = WithGardenWords(GardenWords(top, chores), plantings, chores);
        top.Close();
        return new()
        {
            GardenId = id,
            Name = name ?? "",
            Place = place,
            Units = units,
            Tongue = tongue,
            InTheGarden = hours,
            Away = away,
            Digest = digest,
            Beds = beds,
            Plantings = plantings,
            Chores = chores,
            Tuning = tuning,
        };
    }

    private Tongue TongueOf(YamlEntries top)
    {
        if (top.TakeText("language", "such as `language: de`") is not { } text)
            return Tongue.English;
        if (_crops.Tongues.FirstOrDefault(tongue => tongue.Code.Equals(text.Value.Trim(), StringComparison.OrdinalIgnoreCase)) is { } found)
            return found;
        top.Fault(text.Spot, $"there is no file for the language `{text.Value}`",
            $"known are: {string.Join(", ", _crops.Tongues.Select(tongue => tongue.Code))}; another is a file in the folder `languages` beside this one");
        return Tongue.English;
    }

    private string GardenId(YamlEntries top, string name)
    {
        if (ExplicitId(top) is { } written)
            return written;
        string made = Subjects.Slug(name) is { Length: > 0 } slug ? slug : "garden";
        if (!top.Has("id"))
            Remark(top.Spot, "the garden has no id: a new name would be a new garden without history", $"write `id: {made}` and leave it so");
        return made;
    }

    /// <summary>An id of the gardener's own; null when there is none or it is faulty, the latter told.</summary>
    private static string? ExplicitId(YamlEntries entries)
    {
        if (entries.TakeText("id", "such as `low-bed`") is not { } text)
            return null;
        if (Id().IsMatch(text.Value))
            return text.Value;
        string slug = Subjects.Slug(text.Value);
        entries.Fault(text.Spot, $"`{Cut(text.Value)}` can't be an id", $"small letters, digits and hyphens: `{(slug.Length > 0 ? slug : "low-bed")}`");
        return null;
    }

    private static PlanPlace PlaceOf(YamlEntries top)
    {
        const string example = "such as `place: { town: …, latitude: 38.03, longitude: -84.50 }`";
        if (top.TakeMap("place", example) is not { } place)
        {
            if (!top.Has("place"))
                top.Fault(top.Spot, "where the garden is, is not said", example);
            return new(null, null, null, null, null);
        }
        string? town = place.TakeString("town", "the town's name");
        double? latitude = Degrees(place, "latitude", 90, 'n', 's');
        double? longitude = Degrees(place, "longitude", 180, 'e', 'w');
        bool half = place.Has("latitude") != place.Has("longitude");
        if (half)
            place.Fault(place.Spot, "latitude and longitude go together", "give both, or the town alone");
        else if (town is null && !place.Has("town") && !place.Has("latitude"))
            place.Fault(place.Spot, "where the garden is, is not said", example);
        double? elevation = null;
        if (place.TakeText("elevation", "such as `295 m`") is { } height)
        {
            // Some good soil lies below the sea.
            string plain = WrittenNumber.Plain(height.Value);
            bool below = plain.StartsWith('-');
            elevation = place.Quantity(below ? height with { Value = plain[1..] } : height, Dimension.Length)?.Value * (below ? -1 : 1);
            if (elevation is < -500 or > 6000)
                place.Fault(height.Spot, $"no garden lies at `{height.Value}`", "look at the number and its unit");
        }
        string? zone = null;
        if (place.TakeText("zone", "such as `America/New_York`") is { } zoneText)
        {
            zone = zoneText.Value.Trim();
            if (DateTimeZoneProviders.Tzdb.Ids.All(id => id != zone))
            {
                place.Fault(zoneText.Spot, $"`{Cut(zone)}` is no time zone",
                    Spelling.Nearest(zone, DateTimeZoneProviders.Tzdb.Ids) is { } near ? $"did you mean {near}?" : "such as `America/New_York`; or leave it out, it is found");
            }
        }
        place.Close();
        return new(town, latitude, longitude, elevation, zone);
    }

    private static double? Degrees(YamlEntries place, string key, double most, char positive, char negative)
    {
        if (place.TakeText(key, "such as `38.03`") is not { } text)
            return null;
        var match = DegreesOfArc().Match(WrittenNumber.Plain(text.Value));
        string letter = match.Groups["side"].Value;
        if (match.Success && (letter.Length == 0 || letter[0] == positive || letter[0] == negative))
        {
            double value = double.Parse(match.Groups["number"].Value.Replace(',', '.'), CultureInfo.InvariantCulture);
            if (letter.Length > 0 && letter[0] == negative)
                value = -value;
            if (Math.Abs(value) <= most)
                return value;
        }
        place.Fault(text.Spot, $"`{Cut(text.Value)}` is no {key}", $"degrees from -{most} to {most}, such as `{(most > 90 ? "-84.50" : "38.03")}`");
        return null;
    }

    private static GardenHours HoursOf(YamlEntries? hours)
    {
        if (hours is null)
            return GardenHours.Usual;
        var weekdays = Slots(hours, "weekdays") ?? GardenHours.Usual.Weekdays;
        var weekends = Slots(hours, "weekends") ?? GardenHours.Usual.Weekends;
        var own = ImmutableDictionary.CreateBuilder<IsoDayOfWeek, ImmutableArray<DaySlot>>();
        for (var day = IsoDayOfWeek.Monday; day <= IsoDayOfWeek.Sunday; day++)
        {
            if (Slots(hours, day.ToString().ToLowerInvariant()) is { } slots)
                own[day] = slots;
        }
        int? minutes = hours.TakeMinutes("minutes"), onWeekends = hours.TakeMinutes("weekend minutes");
        hours.Close();
        return new(weekdays, weekends) { OwnHours = own.ToImmutable(), Minutes = minutes, WeekendMinutes = onWeekends };
    }

    private static ImmutableArray<DaySlot>? Slots(YamlEntries hours, string day)
    {
        if (hours.TakeText(day, "such as `06:00-07:30 and 17:30-20:30`") is not { } text)
            return null;
        var slots = HoursText.Slots(text.Value, out string problem, out string? instead);
        if (slots is null)
            hours.Fault(text.Spot, problem, instead);
        return slots;
    }

    private ImmutableArray<Absence> AwayOf(YamlEntries top)
    {
        var away = ImmutableArray.CreateBuilder<Absence>();
        foreach (var entry in top.TakeMaps("away", "such as `- { from: 12 July, to: 26 July }`"))
        {
            var from = DateOf(entry, "from");
            var to = DateOf(entry, "to");
            string? sitter = entry.TakeText("sitter", "an address") is { } address ? Address(entry, address) : null;
            if (!entry.Has("from") || !entry.Has("to"))
                entry.Fault(entry.Spot, "an absence wants `from` and `to`", "such as `{ from: 12 July, to: 26 July }`");
            entry.Close();
            if (from is null || to is null)
                continue;
            var first = from.Resolve(_today).From;
            var last = to.Resolve(first, Looking.Ahead).To;
            if (last < first)
                entry.Fault(entry.Spot, "the absence ends before it begins", null);
            else
                away.Add(new(first, last, sitter));
        }
        return away.ToImmutable();
    }

    private static string? Address(YamlEntries entries, YamlNode.Text text)
    {
        string address = text.Value;
        if (address.Any(c => char.IsControl(c) || char.IsWhiteSpace(c)))
            entries.Fault(text.Spot, "an address can't hold spaces or line breaks", "such as `me@example.org`");
        else if (!IsMailAddress(address))
            entries.Fault(text.Spot, $"`{Cut(address)}` is no mail address", "such as `me@example.org`");
        else
            return address;
        return null;
    }

    internal static bool IsMailAddress(string text) => text.Length <= 254 && MailAddress().IsMatch(text);

    private static WrittenDate? DateOf(YamlEntries entries, string key) =>
        entries.TakeText(key, "such as `12 July`") is { } text ? DateOf(entries, text) : null;

    private static WrittenDate? DateOf(YamlEntries entries, YamlNode.Text text)
    {
        switch (DateText.Read(text.Value))
        {
            case DateReading.Ok(var date):
                return date;
            case DateReading.Fault(var problem, var instead):
                entries.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    /// <summary>Ids for the subjects of one kind, in their order.</summary>
    private ImmutableArray<KnownSubject> Recognised(ImmutableArray<(PresentSubject Subject, YamlEntries Entry)> present)
    {
        var own = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (subject, entry) in present)
        {
            if (subject.ExplicitId is not { } id)
                continue;
            if (!own.Add(id) || _present.Any(p => p.Id == id))
                entry.Fault(entry.Spot, $"the id `{id}` is used twice", "each bed, planting and chore has its own");
            else if (_known.Any(k => k.Id == id && k.Kind != subject.Kind))
                entry.Fault(entry.Spot, $"the id `{id}` belonged to a {KindWord(_known.First(k => k.Id == id).Kind)}", "choose another");
        }
        // Ids of other kinds are taken too: a job's name is made of them.
        var others = _present.Where(p => _known.All(k => k.Id != p.Id));
        var found = Subjects.Recognise([.. present.Select(p => p.Subject)], [.. _known, .. others], _today);
        _present.AddRange(found);
        return found;
    }

    private static string KindWord(SubjectKind kind) => kind.ToString().ToLowerInvariant();

    private ImmutableArray<KnownSubject> KnownFromNowOn()
    {
        var present = _present.DistinctBy(p => p.Id).ToDictionary(p => p.Id, StringComparer.Ordinal);
        var kept = _known.Select(k => present.Remove(k.Id, out var now) ? now : k).ToList();
        return [.. kept, .. _present.Where(p => present.ContainsKey(p.Id))];
    }

    private static bool TooMany(IReadOnlyCollection<object> entries, YamlEntries top, string what)
    {
        if (entries.Count <= MostOfAKind)
            return false;
        top.Fault(top.Spot, $"there are more than {MostOfAKind} {what}", "split the garden into several files");
        return true;
    }

    private void Remark(Spot spot, string problem, string? instead) =>
        _remarks.Add(new(spot.File, spot.Line, spot.Column, problem, instead));

    private static string Cut(string text) => text.Length > 60 ? text[..60] + "…" : text;

    [GeneratedRegex(@"^[a-z0-9](?:[a-z0-9-]{0,58}[a-z0-9])?\z", RegexOptions.CultureInvariant)]
    private static partial Regex Id();

    [GeneratedRegex(@"^(?<number>[-+]?[0-9]{1,3}(?:[.,][0-9]{1,10})?) ?°? ?(?<side>[nsew])?$", RegexOptions.CultureInvariant)]
    private static partial Regex DegreesOfArc();

    [GeneratedRegex(@"^[A-Za-z0-9.!#$%&'*+/=?^_`{|}~-]{1,64}@(?:[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?\.)*[A-Za-z0-9](?:[A-Za-z0-9-]{0,61}[A-Za-z0-9])?\z", RegexOptions.CultureInvariant)]
    private static partial Regex MailAddress();
}
