using System.Collections.Immutable;
using System.Text;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>The standing in sentences.</summary>
/// <param name="Faults">What is wrong, each with what to do.</param>
/// <param name="Messages">The last ones: when they were written, and what became of them.</param>
/// <param name="Replies">Who wants no more, and what came back.</param>
public sealed record StatusLines(
    string Opening, ImmutableArray<string> Faults, ImmutableArray<(string Name, ImmutableArray<string> Told)> Gardens, string Waiting,
    ImmutableArray<(string When, string What)> Messages, ImmutableArray<string> Replies, string Backup);

/// <summary>The standing in plain words, what is wrong first.</summary>
public static class StatusText
{
    private const int ReplyLength = 60;

    /// <param name="zone">Of the first garden, for what belongs to none.</param>
    public static string Of(HouseStanding standing, DateTimeZone zone)
    {
        var lines = LinesOf(standing, zone);
        var text = new StringBuilder();
        void Line(string line) => text.Append(line.Replace('\u00A0', ' ')).Append('\n');

        Line(lines.Opening);
        if (!standing.Faults.IsEmpty)
        {
            Line("\nWRONG");
            foreach (string fault in standing.Faults)
                Line("  " + fault);
        }
        foreach (var (name, told) in lines.Gardens)
        {
            Line($"\n{name.ToUpperInvariant()}");
            foreach (string said in told)
                Line("  " + said);
        }
        Line("\nMESSAGES");
        Line("  " + lines.Waiting);
        foreach (var (when, what) in lines.Messages)
            Line($"  {when}: {what}");
        foreach (string said in lines.Replies)
            Line("  " + said);
        Line("\nRECORDS");
        Line("  " + lines.Backup);
        return text.ToString();
    }

    public static StatusLines LinesOf(HouseStanding standing, DateTimeZone zone)
    {
        ArgumentNullException.ThrowIfNull(standing);
        var house = new Hours(new(UnitsOf(standing), zone), standing.Now);
        return new(
            $"{Tongue.English.Day(house.Today)}, {house.Speech.Hour(standing.Now)}. {(standing.Runs ? "The service runs." : "The service does not run.")}",
            standing.Faults,
            [.. standing.Gardens.Select(garden =>
            {
                var hours = new Hours(new(garden.Plan.Units, garden.Place?.Calendar.Zone ?? zone), standing.Now);
                return (garden.Plan.Name, (ImmutableArray<string>)[Weather(garden, hours), Digests(garden, hours), .. ReadingsText.Of(garden, hours.Speech, hours.Today)]);
            })],
            standing.Outbox.Waiting == 0 ? "Nothing waits." : $"{Tongue.English.Counted(standing.Outbox.Waiting, "message")} to be sent, the oldest since {house.Said(standing.Outbox.WaitingSince!.Value)}.",
            [
                .. standing.Recent.Select(row => (house.Said(row.CreatedAt), $"{row.Key.Kind} to {row.Key.Addressee}, {Fate(row, house)}")),
                .. standing.Bounces.Select(bounce => (house.Said(bounce.At),
                    $"mail to {bounce.Addressee} {(bounce.ForGood ? "came back" : "is held up on its way")}{(bounce.Reason.Length > 0 ? $" ({bounce.Reason})" : "")}")),
            ],
            [.. Replies(standing)],
            standing.LastBackup is { } made ? $"Last backup: {Tongue.English.DayFrom(house.Today, made)}." : "No backup yet; the first comes in the night.");
    }

    private static IEnumerable<string> Replies(HouseStanding standing)
    {
        foreach (var (garden, addressee) in standing.Stopped)
            yield return $"{addressee} asked for no more messages of {garden}; `gardenwatch start {addressee}` sends them again.";
        if (standing.ReplyFates.Count > 0)
            yield return $"Replies in {HouseStanding.RepliesCountedDays} days: {string.Join(", ", standing.ReplyFates.OrderBy(fate => fate.Key, StringComparer.Ordinal).Select(fate => $"{fate.Value} {fate.Key}"))}.";
    }

    private static string Weather(GardenStanding garden, Hours hours)
    {
        if (garden.ForecastFetchedAt is not { } fetched)
            return "No weather yet.";
        string chances = garden.MembersFetchedAt is { } members ? $"chances by the runs of {hours.Said(members)}" : "no forecast runs yet, so no chances";
        string usual = garden.PastYears == 0 ? "no past years yet" : $"what is usual by {Tongue.English.Counted(garden.PastYears, "past year")}";
        return $"Weather of {hours.Said(fetched)}; {chances}; {usual}.";
    }

    private static string Digests(GardenStanding garden, Hours hours)
    {
        string last = garden.LastDigest is { } row
            ? $"Last digest: {Tongue.English.DayFrom(hours.Today, StoreText.ToDate(row.Key.Occasion))}, taken at {hours.Said(row.EndedAt!.Value)}."
            : "No digest was sent yet.";
        return garden.NextDigestAt is not { } next ? last
            : next <= hours.Now ? $"{last} One is due now."
            : $"{last} Next: {hours.Said(next)}.";
    }

    /// <summary>What became of a message, with the other side's words where they matter.</summary>
    private static string Fate(OutboxRow row, Hours hours) => row.State switch
    {
        OutboxState.Sent => $"taken at {hours.Said(row.EndedAt!.Value)}",
        OutboxState.Pending when row.Tries == 0 => row.NextTryAt > hours.Now ? $"held back until {hours.Said(row.NextTryAt.Value)}" : "about to be sent",
        OutboxState.Pending => $"tried {Tongue.English.Counted(row.Tries, "time")}, again at {hours.Said(row.NextTryAt!.Value)}{Reply(row)}",
        OutboxState.Sending => "being sent",
        OutboxState.Refused => $"refused{Reply(row)}",
        OutboxState.InDoubt => $"may have arrived{(row.NextTryAt is { } again ? $", offered again at {hours.Said(again)}" : "")}{Reply(row)}",
        OutboxState.Expired => $"not sent in time{Reply(row)}",
        OutboxState.Skipped => "not needed, the first way out took it",
        _ => "set aside: stamped by a clock that ran ahead",
    };

    private static string Reply(OutboxRow row)
    {
        if (row.LastReply is not { Length: > 0 } reply)
            return "";
        string line = reply.ReplaceLineEndings(" ").Trim();
        return $" ({(line.Length > ReplyLength ? line[..ReplyLength] + "…" : line)})";
    }

    private static UnitSystem UnitsOf(HouseStanding standing) =>
        standing.Gardens.IsEmpty ? UnitSystem.Metric : standing.Gardens[0].Plan.Units;

    /// <summary>Says an instant as one would at another.</summary>
    private sealed record Hours(Speech Speech, Instant Now)
    {
        public LocalDate Today => Now.InZone(Speech.Zone).Date;

        public string Said(Instant instant)
        {
            var date = instant.InZone(Speech.Zone).Date;
            return date == Today ? Speech.Hour(instant) : $"{Tongue.English.DayFrom(Today, date)}, {Speech.Hour(instant)}";
        }
    }
}
