using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pages;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tongues;
using GardenWatch.Store;

namespace GardenWatch.Web;

/// <summary>A job with the ways to answer it.</summary>
/// <param name="Action">Where its answer is sent; null when it can't be answered here.</param>
/// <param name="Why">Where its conditions are told; null where there are none to tell.</param>
public sealed record JobSheet(JobRow Row, string JobId, string? Action, string? Why, string Token)
{
    public string Anchor => $"job-{Row.Number}";
}

/// <summary>A job answered today.</summary>
/// <param name="When">"done 6:38 am".</param>
/// <param name="Action">Where another time for it is sent; null unless it was put off.</param>
public sealed record SettledJob(string When, string Name, string? Note, string JobId, string? Action, bool IsDone);

public sealed record TodaySheet(
    PageFrame Frame, GardenSheet Sheet, ImmutableArray<JobSheet> Pressing, ImmutableArray<JobSheet> Suits, ImmutableArray<JobSheet> Soon,
    ImmutableArray<JobSheet> Waiting, ImmutableArray<WeekDay> Week, ImmutableArray<SettledJob> Settled, string? UndoAction);

public sealed record BedsSheet(PageFrame Frame, GardenSheet Sheet);

public sealed record SowingsSheet(PageFrame Frame, ImmutableArray<(string Id, SayingRow Said, string Bed)> Sowings);

public sealed record OneSowingSheet(PageFrame Frame, SowingSheet Sowing);

/// <param name="Months">Newest first, each with its days.</param>
public sealed record JournalSheet(
    PageFrame Frame, ImmutableArray<(string Month, ImmutableArray<JournalLine> Lines)> Months, QuoteRow? YearAgo, string? UndoAction);

/// <param name="When">"Tue 21, 6:38 am".</param>
/// <param name="Person">Who said it; null when nobody was named.</param>
/// <param name="Pictures">Their addresses.</param>
public sealed record JournalLine(string When, string Words, string? Person, ImmutableArray<string> Pictures);

/// <summary>Today, beds, sowings and journal, to read.</summary>
internal sealed class GardenPages(PageDoor door, GardenStore store)
{
    private const int EntriesShown = 300;

    public Task Today(HttpContext context, Visitor visitor, GardenLook look)
    {
        var frame = door.Frame(visitor, look, "Today", "");
        var sheet = look.Sheet;
        return context.Send(Slices.Today.Create(new(
            frame, sheet, Jobs(sheet.Pressing), Jobs(sheet.Suits), Jobs(sheet.OnTheWay), Jobs(sheet.Waiting),
            [.. sheet.OnTheWay?.Rows.OfType<WeekRow>().SelectMany(week => week.Days) ?? []],
            Settled(look), UndoOf(look))));

        ImmutableArray<JobSheet> Jobs(Section? section) => [.. section?.Rows.OfType<JobRow>().Select(row => JobOf(row, look, frame.Token)) ?? []];
    }

    public static JobSheet JobOf(JobRow row, GardenLook look, string token, string? action = null)
    {
        var job = look.Sheet.Jobs[row.Number];
        string gardenId = look.Agenda.GardenId;
        return new(row, job.Id, action ?? PagePaths.Of(gardenId, "answer"), ConditionPages.AddressOf(look, job), token);
    }

    /// <summary>The last word of each job that was answered today, in the order in which they came.</summary>
    private static ImmutableArray<SettledJob> Settled(GardenLook look)
    {
        var jobs = AskedJob.AllOf(look.Garden.Plan);
        return [.. look.Journal.Entries
            .Where(entry => entry.JobId is not null && look.Garden.Place.Calendar.DateOf(entry.RecordedAt) == look.Agenda.Date)
            .GroupBy(entry => entry.JobId!)
            .Select(group => group.Last())
            .Select(entry => new SettledJob(
                $"{WordOf(entry.Kind)} {look.Speech.Hour(entry.RecordedAt)}", NameOf(entry.JobId!, jobs),
                entry.Until is { } until ? $"Asked again from {Tongue.English.DayFrom(look.Agenda.Date, until)}." : null,
                entry.JobId!, entry.Kind == EntryKind.Later ? PagePaths.Of(look.Agenda.GardenId, "answer") : null, entry.Kind == EntryKind.Done))];
    }

    private static string WordOf(EntryKind kind) => kind switch
    {
        EntryKind.Done => "done",
        EntryKind.Skip => "skipped",
        EntryKind.Later => "later",
        EntryKind.Picked => "picked",
        EntryKind.Reading => "measured",
        _ => "noted",
    };

    /// <summary>As the plan calls it; its id when the plan has it no more.</summary>
    internal static string NameOf(string jobId, ImmutableArray<AskedJob> jobs)
    {
        int time = jobId.LastIndexOf('/');
        return jobs.FirstOrDefault(job => time > 0 && job.Id == jobId[..time])?.FullName ?? jobId;
    }

    public Task Beds(HttpContext context, Visitor visitor, GardenLook look) =>
        context.Send(Slices.Beds.Create(new(door.Frame(visitor, look, "Beds", "beds"), look.Sheet)));

    public Task Sowings(HttpContext context, Visitor visitor, GardenLook look) =>
        context.Send(Slices.Sowings.Create(new(
            door.Frame(visitor, look, "Sowings", "sowings"),
            [.. look.Agenda.Sowings.Select(sowing => (sowing.Id, GardenSheet.Said(sowing), sowing.BedName))])));

    public Task Sowing(HttpContext context, Visitor visitor, GardenLook look)
    {
        string id = (string)context.GetRouteValue("sowing")!;
        if (look.Agenda.Sowings.FirstOrDefault(sowing => sowing.Id == id) is not { } sowing)
            return PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such sowing", "It is over, or the plan names it no more.");
        var course = WarmthGathered.Of(look.Garden.Plan, id, look.Garden.Place.Calendar, look.Journal, look.Known, look.Now);
        return context.Send(Slices.Sowing.Create(new(
            door.Frame(visitor, look, sowing.Name, "sowings"), SowingSheet.Of(sowing, course, look.Speech, look.Agenda.Date))));
    }

    public Task Journal(HttpContext context, Visitor visitor, GardenLook look)
    {
        var jobs = AskedJob.AllOf(look.Garden.Plan);
        var months = look.Journal.Entries.Reverse().Take(EntriesShown)
            .GroupBy(entry => entry.Date.ToYearMonth())
            .Select(month => (month.Key.ToString("MMMM yyyy", System.Globalization.CultureInfo.InvariantCulture), month.Select(Line).ToImmutableArray()));
        return context.Send(Slices.Journal.Create(new(
            door.Frame(visitor, look, "Journal", "journal"), [.. months], look.Sheet.YearAgo?.Rows.OfType<QuoteRow>().FirstOrDefault(), UndoOf(look))));

        JournalLine Line(JournalEntry entry) => new(
            $"{Tongue.English.Day(entry.Date)}{(look.Garden.Place.Calendar.DateOf(entry.RecordedAt) == entry.Date ? $", {look.Speech.Hour(entry.RecordedAt)}" : "")}",
            JournalWords.Said(entry.About is null && entry.JobId is { } job ? entry with { About = NameOf(job, jobs) } : entry, look.Speech, entry.Date),
            entry.Person, [.. (entry.Pictures ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(name => PagePaths.Of(look.Agenda.GardenId, "pictures/" + name))]);
    }

    /// <summary>A picture that an entry of this garden names, and no other file.</summary>
    public async Task Picture(HttpContext context, Visitor visitor, GardenLook look)
    {
        string name = (string)context.GetRouteValue("picture")!;
        bool isTheirs = look.Journal.Entries.Any(entry => (entry.Pictures ?? "").Split(' ').Contains(name, StringComparer.Ordinal));
        if (!isTheirs || store.JournalPictures.PathOf(name) is not { } path)
        {
            await PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such picture", "No entry of this garden has it.").ConfigureAwait(false);
            return;
        }
        context.Response.ContentType = "image/jpeg";
        context.Response.Headers.CacheControl = "private, max-age=86400";
        if (HttpMethods.IsGet(context.Request.Method))
            await context.Response.SendFileAsync(path, context.RequestAborted).ConfigureAwait(false);
    }

    /// <summary>Where the last entry is taken back; null when there is none.</summary>
    private static string? UndoOf(GardenLook look) => look.Journal.Entries.IsEmpty ? null : PagePaths.Of(look.Agenda.GardenId, "undo");
}
