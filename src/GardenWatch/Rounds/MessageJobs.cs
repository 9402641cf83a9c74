using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What the numbers of one message mean.</summary>
/// <param name="Called">The message as a sentence names it: "the message “Tue 21 April: ...”".</param>
/// <param name="Jobs">Id and name by number.</param>
internal sealed record MessageJobs(string Called, ImmutableSortedDictionary<int, (string Id, string Name)> Jobs)
{
    public static MessageJobs Of(OutboxRow row, Speech speech) => new(speech.Say($"the message “{row.Subject}”"), row.Jobs
        .Split('\n', StringSplitOptions.RemoveEmptyEntries)
        .Select(line => line.Split('=', 2))
        .ToImmutableSortedDictionary(
            parts => int.Parse(parts[0], CultureInfo.InvariantCulture),
            parts => parts[1].Split('\t') is [var id, { Length: > 0 } name, ..] ? (id, name) : (parts[1].Split('\t')[0], "")));

    /// <summary>Those of the last message that a person had, or anyone; before any was sent, those of this morning's look.</summary>
    public static MessageJobs Last(GardenStore store, Plan plan, string? person, Agenda agenda, Speech speech, Instant now)
    {
        var row = (person is null ? null : store.Outbox.LastSentTo(plan.GardenId, person, now))
            ?? new[] { MessageKind.Digest, MessageKind.Warning }
                .Select(kind => store.Outbox.LastSent(plan.GardenId, kind, now))
                .OfType<OutboxRow>()
                .MaxBy(each => each.EndedAt);
        if (row is not null)
            return Of(row, speech) with { Called = speech.Say($"the last message, “{row.Subject}”") };
        return new(speech.Say("this morning’s list (no message was sent yet)"),
            Messages.Digests.Digest.Of(agenda, [], new("", plan.Units), Messages.Digests.DigestOccasion.OnTime).Numbers
                .ToImmutableSortedDictionary(
                    number => number.Number,
                    number => (number.JobId, agenda.Jobs.FirstOrDefault(job => job.Id == number.JobId) is { } job ? job.NameWithBed : "")));
    }
}
