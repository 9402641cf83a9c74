using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    private static readonly LocalTime UsualDigest = new(6, 0);
    private static readonly LocalTime EarliestSensibleDigest = new(4, 0);

    private static readonly Dictionary<string, bool> YesOrNo = new(StringComparer.Ordinal) { ["yes"] = true, ["no"] = false };

    private static readonly Dictionary<string, bool> AtRest = new(StringComparer.Ordinal) { ["weekly"] = false, ["daily"] = true };

    private static readonly Dictionary<string, bool> WithCalendar = new(StringComparer.Ordinal) { ["attach"] = true, ["no"] = false };

    private DigestSettings DigestOf(YamlEntries top, UnitSystem units, ImmutableArray<Bed> beds)
    {
        var settings = new DigestSettings(UsualDigest, []);
        bool nobodyIsMeant = false;
        if (top.TakeMap("digest", "such as `digest: { at: \"06:00\", to: [me@example.org] }`") is { } digest)
        {
            settings = new(HourOf(digest) ?? UsualDigest, Addressees(digest, units, beds))
            {
                UrgentToo = SecondChannels(digest),
                Quiet = QuietOf(digest),
                FrostMayWake = digest.TakeWord("frost may wake", YesOrNo) ?? false,
                AttachCalendar = digest.TakeWord("calendar", WithCalendar) ?? false,
                DailyAtRest = digest.TakeWord("at rest", AtRest) ?? false,
            };
            if (settings is { Quiet: not null, FrostMayWake: false, To: [{ Address: ChannelWords.Push }] })
                Remark(digest.Spot, "a warning of frost in the quiet hours reaches nobody: it waits until they end", "`frost may wake: yes`, or a mail address beside `push`");
            // An empty list is said on purpose: the digest is read at the terminal or on the page.
            nobodyIsMeant = digest.Take("to") is YamlNode.List { Items.IsEmpty: true };
            digest.Close();
            var whole = settings.To.SelectMany(to => to.BedIds.IsEmpty ? beds.Select(bed => bed.Id) : to.BedIds).ToHashSet();
            if (!settings.To.IsEmpty && beds.FirstOrDefault(bed => !whole.Contains(bed.Id)) is { } nobodys)
                Remark(digest.Spot, $"nobody is told of the {nobodys.Name}", "one addressee without `beds:` is told of all");
        }
        if (settings.To.IsEmpty && !nobodyIsMeant)
            Remark(top.Spot, "nobody gets the digest by mail", "`digest: { to: [you@example.org] }`");
        return settings;
    }

    private LocalTime? HourOf(YamlEntries entries)
    {
        if (entries.TakeText("at", "such as `\"06:00\"`") is not { } text)
            return null;
        if (HoursText.Time(text.Value) is not { } time)
            entries.Fault(text.Spot, $"`{Cut(text.Value)}` is no time of day", "write `06:00` or `6 am`");
        else if (time >= LocalTime.Noon)
            entries.Fault(text.Spot, "the digest is the morning's: after noon it would be skipped", "a time before `12:00`");
        else
        {
            if (time < EarliestSensibleDigest)
                Remark(text.Spot, "so early the night is not over and the new forecast not out", "`06:00`, if that is early enough");
            return time;
        }
        return null;
    }

    private ImmutableArray<Addressee> Addressees(YamlEntries digest, UnitSystem units, ImmutableArray<Bed> beds)
    {
        var to = ImmutableArray.CreateBuilder<Addressee>();
        foreach (var node in digest.TakeAll("to"))
        {
            if (AddresseeOf(digest, node, units, beds) is not { } addressee)
                continue;
            if (!to.Any(other => string.Equals(other.Address, addressee.Address, StringComparison.OrdinalIgnoreCase)))
                to.Add(addressee);
            else if (node is YamlNode.Map)
                digest.Fault(node.Spot, $"`{addressee.Address}` is named twice", "one entry for each who is told");
        }
        return to.ToImmutable();
    }

    private Addressee? AddresseeOf(YamlEntries digest, YamlNode node, UnitSystem units, ImmutableArray<Bed> beds)
    {
        const string example = "such as `{ who: sam@example.org, at: \"7:30\", units: metric, beds: [low bed] }`";
        switch (node)
        {
            case YamlNode.Text text:
                return Who(digest, text) is { } alone ? new(alone, units) : null;
            case YamlNode.Map map:
                var entries = digest.Inside(map);
                string? who = entries.TakeText("who", "a mail address") is { } written ? Who(entries, written) : null;
                if (!entries.Has("who"))
                    entries.Fault(map.Spot, "this entry does not say who is told", example);
                var addressee = new Addressee(who ?? "", entries.TakeWord("units", UnitSystems) ?? units)
                {
                    At = HourOf(entries),
                    BedIds = [.. entries.TakeTexts("bed").Concat(entries.TakeTexts("beds")).Select(text => BedNamed(entries, text, beds)).OfType<Bed>().Select(bed => bed.Id).Distinct()],
                };
                entries.Close();
                return who is null ? null : addressee;
            default:
                digest.Fault(node.Spot, "each of `to` is a mail address or an entry in braces", example);
                return null;
        }
    }

    private string? Who(YamlEntries entries, YamlNode.Text text) =>
        text.Value.Contains('@', StringComparison.Ordinal) ? Address(entries, text) : Channel(entries, text, orAddress: true);

    private ImmutableArray<string> SecondChannels(YamlEntries digest) =>
        [.. digest.TakeTexts("urgent too").Select(text => Channel(digest, text, orAddress: false)).OfType<string>().Distinct()];

    private string? Channel(YamlEntries digest, YamlNode.Text text, bool orAddress)
    {
        string word = text.Value.Trim().ToLowerInvariant();
        if (_channels.Contains(word))
            return word;
        string mail = orAddress ? "a mail address, such as `me@example.org`" : "";
        string there = string.Join(", ", _channels.Select(channel => $"`{channel}`"));
        if (ChannelWords.IsOne(word))
            digest.Fault(text.Spot, $"`{word}` is not set up in gardenwatch.yaml", $"set it up there{(there.Length > 0 ? $"; there is {there}" : "")}");
        else if (there.Length == 0)
            digest.Fault(text.Spot, $"`{Cut(text.Value)}` is {(orAddress ? "no mail address" : "no channel")}", orAddress ? mail : "gardenwatch.yaml sets no channel up");
        else
            digest.Fault(text.Spot, $"`{Cut(text.Value)}` is no {(orAddress ? "mail address and no " : "")}channel", $"there is {there}{(orAddress ? $", or {mail}" : "")}");
        return null;
    }

    private static QuietHours? QuietOf(YamlEntries digest)
    {
        const string example = "such as `quiet: 22:00-06:00`";
        if (digest.TakeText("quiet", example) is not { } text)
            return null;
        string[] ends = text.Value.Split(['-', '–'], 2);
        if (ends.Length == 2 && HoursText.Time(ends[0].Trim()) is { } from && HoursText.Time(ends[1].Trim()) is { } to && from != to)
            return new(from, to);
        digest.Fault(text.Spot, $"`{Cut(text.Value)}` is no stretch of hours", example);
        return null;
    }
}
