using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>What goes with every answer at the terminal.</summary>
/// <param name="On">The day it is about, as written; null is today.</param>
/// <param name="By">Who says it; null for nobody by name.</param>
/// <param name="Pictures">Files that go along.</param>
internal sealed record AnswerOptions(string? GardenId, string? On, string? By, IReadOnlyList<string> Pictures);

/// <summary>The gardener's answers at the terminal, into the journal.</summary>
internal static class AnswerCommand
{
    private const int TomorrowDays = 1;
    private const int LongestDays = 366;

    /// <param name="words">Job numbers of the last message, or whole job ids; for later also how long.</param>
    public static Task<int> Jobs(Terminal terminal, EntryKind kind, AnswerOptions options, string[] words, CancellationToken ct)
    {
        if (Split(kind, words, out int days) is not { } jobs)
            return Task.FromResult(ExitCode.Unusable);
        string? garden = jobs.Select(word => JobId.TryParse(word, out var id) ? id.Value.GardenId : null).FirstOrDefault(id => id is not null);
        return Record(terminal, options with { GardenId = options.GardenId ?? garden }, (today, on) => kind switch
        {
            EntryKind.Done => new Answer.Done(jobs, on),
            EntryKind.Skip => new Answer.Skip(jobs, on),
            _ => new Answer.Later(jobs, today.PlusDays(days)),
        }, ct);
    }

    /// <param name="about">A bed, a crop, or a job's number.</param>
    public static Task<int> Note(Terminal terminal, AnswerOptions options, string[] words, string? about, CancellationToken ct) =>
        Record(terminal, options, (_, on) => new Answer.Note(string.Join(' ', words), about, on), ct);

    public static Task<int> Reading(Terminal terminal, AnswerOptions options, string[] words, string? bed, CancellationToken ct) =>
        Record(terminal, options, (_, on) => words is ["reset", .. var what]
            ? SpokenAnswer.Reset(string.Join(' ', what), bed)
            : SpokenAnswer.Reading(string.Join(' ', words), on, bed), ct);

    public static Task<int> Picked(Terminal terminal, AnswerOptions options, string[] words, CancellationToken ct) =>
        Record(terminal, options, (_, on) => SpokenAnswer.Picked(string.Join(' ', words), on), ct);

    public static Task<int> Undo(Terminal terminal, AnswerOptions options, CancellationToken ct) =>
        Record(terminal, options, (_, _) => new Answer.Undo(), ct);

    public static Task<int> Wish(Terminal terminal, string? gardenId, string address, bool stop, CancellationToken ct) =>
        Record(terminal, new(gardenId, null, address, []), (_, _) => stop ? new Answer.Stop() : new Answer.Start(), ct);

    private static async Task<int> Record(Terminal terminal, AnswerOptions options, Func<LocalDate, LocalDate?, Answer> answer, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null || terminal.OpenGardens(household, store) is not { } files || Choose(files, options.GardenId) is not { } file)
            return ExitCode.Unusable;

        using var house = Terminal.LookingHouse(household, store, terminal.RealClock);
        if (await house.Places.Settle(file.Plan!.Place, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false) is not PlaceOutcome.Settled settled)
        {
            Console.Error.WriteLine("The time zone of the garden is not known yet; run `gardenwatch today` once, or write a zone into `place:`.");
            return ExitCode.OutOfReach;
        }
        if (terminal.NowIn(settled.Place.Calendar.Zone) is not { } now)
            return ExitCode.Unusable;
        var today = settled.Place.Calendar.DateOf(now);
        string? wrong = null;
        var on = options.On is { } day ? SpokenAnswer.Day(day, today, out wrong) : null;
        if (wrong is not null)
        {
            Console.Error.WriteLine($"--on: {wrong}");
            return ExitCode.Unusable;
        }
        // The ids that the answer refers to are kept with it, so that a later rename loses nothing.
        if (file.Keep(store, now) is WriteOutcome.Failed kept)
        {
            Console.Error.WriteLine(kept.Sentence);
            return ExitCode.Unusable;
        }
        return Take(new Answering(store, house.Mornings), file, settled.Place, answer(today, on), options, now);
    }

    private static int Take(Answering answering, GardenFile file, GardenPlace place, Answer answer, AnswerOptions options, Instant now)
    {
        var pictures = new List<IncomingPicture>();
        try
        {
            foreach (string path in options.Pictures)
                pictures.Add(new(Path.GetFileName(path), File.OpenRead(path)));
            var taken = answering.Take(file.Plan!, place, new(AnswerOrigin.Command, [answer]) { Person = options.By, Pictures = [.. pictures] }, now);
            foreach (string sentence in taken.Understood)
                Console.Out.WriteLine(sentence.Replace('\u00A0', ' '));
            foreach (string sentence in taken.Asked)
                Console.Error.WriteLine(sentence.Replace('\u00A0', ' '));
            if (taken.NotWritten is { } reason)
            {
                Console.Error.WriteLine(reason);
                return ExitCode.Unusable;
            }
            return taken.Asked.IsEmpty ? ExitCode.Fine : taken.Understood.IsEmpty ? ExitCode.Unusable : ExitCode.Problems;
        }
        finally
        {
            pictures.ForEach(picture => picture.Content.Dispose());
        }
    }

    internal static GardenFile? Choose(IReadOnlyList<GardenFile> files, string? gardenId)
    {
        if (gardenId is null && files.Count == 1)
            return files[0];
        if (files.FirstOrDefault(file => file.Plan!.GardenId == gardenId) is { } file)
            return file;
        string known = string.Join(", ", files.Select(each => each.Plan!.GardenId));
        Console.Error.WriteLine(gardenId is null
            ? $"There are several gardens; say which with --garden: {known}."
            : $"There is no garden `{gardenId}`; there are: {known}.");
        return null;
    }

    /// <summary>Jobs first, then for later how long: "2 3 days", "2 a week", "2" alone is till tomorrow.</summary>
    private static ImmutableArray<string>? Split(EntryKind kind, string[] words, out int days)
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
                : $"Write the job's number, as: gardenwatch {EntryWords.Of(kind)} 1");
            return null;
        }
        return [.. jobs];
    }

    private static int? DaysOf(string unit) => unit.ToLowerInvariant() switch
    {
        "day" or "days" => 1,
        "week" or "weeks" => 7,
        _ => null,
    };
}
