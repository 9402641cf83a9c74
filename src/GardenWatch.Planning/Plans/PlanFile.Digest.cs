using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Planning.Plans;

public sealed partial class PlanFile
{
    private static readonly LocalTime UsualDigest = new(6, 0);
    private static readonly LocalTime EarliestSensibleDigest = new(4, 0);

    private static readonly Dictionary<string, bool> YesOrNo = new(StringComparer.Ordinal) { ["yes"] = true, ["no"] = false };

    private static readonly Dictionary<string, bool> WithCalendar = new(StringComparer.Ordinal) { ["attach"] = true, ["no"] = false };

    private DigestSettings DigestOf(YamlEntries top)
    {
        var settings = new DigestSettings(UsualDigest, []);
        if (top.TakeMap("digest", "such as `digest: { at: \"06:00\", to: [me@example.org] }`") is { } digest)
        {
            settings = new(HourOf(digest), Addressees(digest))
            {
                UrgentToo = SecondChannels(digest),
                Quiet = QuietOf(digest),
                FrostMayWake = digest.TakeWord("frost may wake", YesOrNo) ?? false,
                AttachCalendar = digest.TakeWord("calendar", WithCalendar) ?? false,
            };
            if (settings is { Quiet: not null, FrostMayWake: false, To: [ChannelWords.Push] })
                Remark(digest.Spot, "a warning of frost in the quiet hours reaches nobody: it waits until they end", "`frost may wake: yes`, or a mail address beside `push`");
            digest.Close();
        }
        if (settings.To.IsEmpty)
            Remark(top.Spot, "nobody gets the digest by mail", "`digest: { to: [you@example.org] }`");
        return settings;
    }

    private LocalTime HourOf(YamlEntries digest)
    {
        if (digest.TakeText("at", "such as `\"06:00\"`") is not { } text)
            return UsualDigest;
        if (HoursText.Time(text.Value) is not { } time)
            digest.Fault(text.Spot, $"`{Cut(text.Value)}` is no time of day", "write `06:00` or `6 am`");
        else if (time >= LocalTime.Noon)
            digest.Fault(text.Spot, "the digest is the morning's: after noon it would be skipped", "a time before `12:00`");
        else
        {
            if (time < EarliestSensibleDigest)
                Remark(text.Spot, "so early the night is not over and the new forecast not out", "`06:00`, if that is early enough");
            return time;
        }
        return UsualDigest;
    }

    private ImmutableArray<string> Addressees(YamlEntries digest)
    {
        var to = ImmutableArray.CreateBuilder<string>();
        foreach (var text in digest.TakeTexts("to"))
        {
            if ((text.Value.Contains('@', StringComparison.Ordinal) ? Address(digest, text) : Channel(digest, text, orAddress: true)) is { } addressee
                && !to.Contains(addressee))
                to.Add(addressee);
        }
        return to.ToImmutable();
    }

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
