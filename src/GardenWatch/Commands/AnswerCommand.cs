using System.Globalization;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Tongues;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Done, skip, later: the gardener's answer to a job, into the journal.</summary>
internal static class AnswerCommand
{
    private const int TomorrowDays = 1;
    private const int LongestDays = 366;

    /// <param name="words">Job numbers of the last message, or whole job ids; for later also how long.</param>
    public static async Task<int> Run(Terminal terminal, EntryKind kind, string? gardenId, string[] words, CancellationToken ct)
    {
        if (Split(kind, words, out int days) is not { } asked)
            return ExitCode.Unusable;
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null || terminal.OpenGardens(household, store) is not { } files || Choose(files, gardenId, asked) is not { } file)
            return ExitCode.Unusable;

        using var house = Terminal.LookingHouse(household, store, terminal.RealClock);
        if (await house.Places.Settle(file.Plan!.Place, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false) is not PlaceOutcome.Settled settled)
        {
            Console.Error.WriteLine("The time zone of the garden is not known yet; run `gardenwatch today` once, or write a zone into `place:`.");
            return ExitCode.OutOfReach;
        }
        if (terminal.NowIn(settled.Place.Calendar.Zone) is not { } now)
            return ExitCode.Unusable;
        return Note(store, file, house, settled.Place, kind, asked, days, now);
    }

    private static int Note(
        GardenStore store, GardenFile file, House house, GardenPlace place, EntryKind kind, List<string> asked, int days, Instant now)
    {
        var plan = file.Plan!;
        var today = place.Calendar.DateOf(now);
        var agenda = house.Mornings.AgendaOf(plan, place, now);
        var numbers = NumbersOf(store, plan, agenda, now, out string origin);
        var entries = new List<(JournalEntry, string?)>();
        foreach (string word in asked)
        {
            string? id = int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out int number)
                ? numbers.GetValueOrDefault(number)
                : JobId.TryParse(word, out _) ? word : null;
            if (id is null || !JobId.TryParse(id, out var job))
            {
                Console.Error.WriteLine(numbers.Count == 0
                    ? $"There is no job {word}: {origin} has none."
                    : $"There is no job {word} in {origin}; it has {string.Join(", ", numbers.Keys.Order())}.");
                return ExitCode.Unusable;
            }
            var until = kind == EntryKind.Later ? today.PlusDays(days) : (LocalDate?)null;
            entries.Add((new(kind, today, now, id, job.Value.SubjectId, until, null), null));
            string name = agenda.Jobs.FirstOrDefault(open => open.Id == id) is { } known ? DigestRound.NameOf(known) : id;
            Console.Out.WriteLine(kind switch
            {
                EntryKind.Done => $"Done: {name}.",
                EntryKind.Skip => $"Skipped: {name}.",
                _ => $"Asked again from {Tongue.English.Day(until!.Value)}: {name}.",
            });
        }
        // The ids that the answer refers to are kept with it, so that a later rename loses nothing.
        if (file.Keep(store, now) is WriteOutcome.Failed kept)
        {
            Console.Error.WriteLine(kept.Sentence);
            return ExitCode.Unusable;
        }
        if (store.Journal.Add(plan.GardenId, entries) is WriteOutcome.Failed failed)
        {
            Console.Error.WriteLine(failed.Sentence);
            return ExitCode.Unusable;
        }
        return ExitCode.Fine;
    }

    /// <summary>The numbers of the message that was sent last; before any was, those of this morning's look.</summary>
    private static Dictionary<int, string> NumbersOf(GardenStore store, Plan plan, Agenda agenda, Instant now, out string origin)
    {
        var last = new[] { MessageKind.Digest, MessageKind.Warning }
            .Select(kind => store.Outbox.LastSent(plan.GardenId, kind, now))
            .OfType<OutboxRow>()
            .MaxBy(row => row.EndedAt);
        if (last is not null)
        {
            origin = $"the last message, \"{last.Subject}\"";
            return last.Jobs.Split('\n', StringSplitOptions.RemoveEmptyEntries)
                .Select(line => line.Split('=', 2))
                .ToDictionary(parts => int.Parse(parts[0], CultureInfo.InvariantCulture), parts => parts[1].Split('\t')[0]);
        }
        origin = "this morning's list (no message was sent yet)";
        return Messages.Digests.Digest.Of(agenda, [], new("", plan.Units), Messages.Digests.DigestOccasion.OnTime)
            .Numbers.ToDictionary(number => number.Number, number => number.JobId);
    }

    private static GardenFile? Choose(IReadOnlyList<GardenFile> files, string? gardenId, List<string> asked)
    {
        gardenId ??= asked.Select(word => JobId.TryParse(word, out var id) ? id.Value.GardenId : null).FirstOrDefault(id => id is not null);
        if (gardenId is null && files.Count == 1)
            return files[0];
        if (files.FirstOrDefault(file => file.Plan!.GardenId == gardenId) is { } file)
            return file;
        Console.Error.WriteLine(gardenId is null
            ? $"There are several gardens; say which with --garden: {string.Join(", ", files.Select(each => each.Plan!.GardenId))}."
            : $"There is no garden `{gardenId}`; there are: {string.Join(", ", files.Select(each => each.Plan!.GardenId))}.");
        return null;
    }

    /// <summary>Jobs first, then for later how long: "2 3 days", "2 a week", "2" alone is till tomorrow.</summary>
    private static List<string>? Split(EntryKind kind, string[] words, out int days)
    {
        days = TomorrowDays;
        var jobs = words.SelectMany(word => word.Split(',', StringSplitOptions.RemoveEmptyEntries)).ToList();
        if (kind == EntryKind.Later && jobs.Count >= 2 && DaysOf(jobs[^1]) is { } each)
        {
            int count = jobs[^2].ToLowerInvariant() is "a" or "one" ? 1
                : int.TryParse(jobs[^2], NumberStyles.None, CultureInfo.InvariantCulture, out int written) ? written : 0;
            days = Math.Min(count, LongestDays + 1) * each;
            jobs.RemoveRange(jobs.Count - 2, 2);
        }
        if (jobs.Count == 0 || days is < 1 or > LongestDays)
        {
            Console.Error.WriteLine(kind == EntryKind.Later
                ? "Write the job's number and how long, as: gardenwatch later 2 3 days"
                : $"Write the job's number, as: gardenwatch {kind.ToString().ToLowerInvariant()} 1");
            return null;
        }
        return jobs;
    }

    private static int? DaysOf(string unit) => unit.ToLowerInvariant() switch
    {
        "day" or "days" => 1,
        "week" or "weeks" => 7,
        _ => null,
    };
}
