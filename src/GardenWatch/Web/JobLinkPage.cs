using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tongues;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>The page of a link in a message.</summary>
/// <param name="Job">Null when it is not asked for any more.</param>
/// <param name="Answered">What was answered last; null when nothing was.</param>
public sealed record JobLinkSheet(PageFrame Frame, string Name, JobSheet? Job, string? Answered, string Action, string JobId);

/// <summary>
/// Shows one job by its signed link and takes its answer. Programs that look through mail open links: opening one writes
/// nothing, and only the form of the page it shows does.
/// </summary>
internal sealed class JobLinkPage(
    Visitors visitors, GardenStore store, GardenLooks looks, PageAnswers answers, IClock clock, Func<IEnumerable<GardenOnDuty>> onDuty)
{
    public Task Show(HttpContext context) => visitors.Of(context) is { } visitor
        ? Open(context, (link, look) => context.Send(Slices.Job.Create(SheetOf(context, visitor, link, look))))
        : PlainPage.Write(context, StatusCodes.Status503ServiceUnavailable, "The page is out of order", "Its records can’t be read or written.");

    public Task Answer(HttpContext context, Visitor visitor, IFormCollection form) => Open(context, (link, look) =>
        PageAnswers.Of(form["answer"], link.JobId, AnswerForms.Days(form), look) is { } answer
            ? AnswerForms.Taken(context, answers.Take(look, visitor.Person?.Name, answer), context.Request.Path)
            : PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", "It is no answer to this job."));

    /// <summary>Goes on only with a link that was made here, has not expired, and is of a garden that is looked after.</summary>
    private Task Open(HttpContext context, Func<JobLink, GardenLook, Task> go)
    {
        string token = (string)context.GetRouteValue("token")!;
        if (store.Secrets.JobLinkKey() is not { } key || !JobLink.TryRead(token, key, out var link))
            return PlainPage.Write(context, StatusCodes.Status404NotFound, "This link opens nothing", "It is not whole, or was not made here. Open it from the message again, or go to the page itself.");
        if (link.Expires <= clock.GetCurrentInstant())
            return PlainPage.Write(context, StatusCodes.Status410Gone, "This link is too old", $"Links in messages hold for {Tongue.English.Counted(JobLink.Lasts.TotalDays, "day")}. A newer message has a new one.");
        if (onDuty().FirstOrDefault(garden => garden.Plan.GardenId == link.GardenId) is not { } garden)
            return PlainPage.Write(context, StatusCodes.Status503ServiceUnavailable, "Not just now", "Its garden is not looked after at this moment. Try again in a minute.");
        return go(link, looks.Of(garden));
    }

    private JobLinkSheet SheetOf(HttpContext context, Visitor visitor, JobLink link, GardenLook look)
    {
        var sections = new[] { look.Sheet.Pressing, look.Sheet.Suits, look.Sheet.OnTheWay, look.Sheet.Waiting };
        var row = sections.OfType<Section>().SelectMany(section => section.Rows).OfType<JobRow>().FirstOrDefault(row => look.Sheet.Jobs[row.Number].Id == link.JobId);
        string action = context.Request.Path.Value!;
        var last = look.Journal.Entries.LastOrDefault(entry => entry.JobId == link.JobId);
        // The frame leads to no other page: who holds the link may see this job and nothing else.
        var frame = new PageFrame("A job") { GardenName = look.Sheet.GardenName, Token = visitors.FormToken(visitor), Foot = look.Sheet.Foot };
        return new(
            frame, GardenPages.NameOf(link.JobId, AskedJob.AllOf(look.Garden.Plan)),
            row is null ? null : GardenPages.JobOf(row, look, frame.Token, action) with { Why = null },
            last is null ? null : AnsweredOf(last, look), action, link.JobId);
    }

    private static string AnsweredOf(JournalEntry entry, GardenLook look)
    {
        string day = Tongue.English.DayFrom(look.Agenda.Date, look.Garden.Place.Calendar.DateOf(entry.RecordedAt)), hour = look.Speech.Hour(entry.RecordedAt);
        return entry.Kind switch
        {
            EntryKind.Done => $"Written down as done ({day}, {hour}).",
            EntryKind.Skip => $"Left out this time ({day}, {hour}).",
            EntryKind.Later when entry.Until is { } until => $"Asked again from {Tongue.English.DayFrom(look.Agenda.Date, until)} ({day}, {hour}).",
            _ => $"Answered {day}, {hour}.",
        };
    }
}
