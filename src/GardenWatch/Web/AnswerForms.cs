using System.Collections.Immutable;
using GardenWatch.Rounds;

namespace GardenWatch.Web;

/// <summary>What people send from their pages: answers to jobs, notes with pictures, and what they take back.</summary>
internal sealed class AnswerForms(PageAnswers answers)
{
    private const int MostPictures = 4;

    public Task Answer(HttpContext context, Visitor visitor, GardenLook look, IFormCollection form)
    {
        string job = form["job"].ToString();
        // Of this garden: the form's job could name another.
        if (!job.StartsWith(look.Agenda.GardenId + "/", StringComparison.Ordinal) || PageAnswers.Of(form["answer"], job, Days(form), look) is not { } answer)
            return PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", "It is no answer to a job of this garden.");
        return Taken(context, answers.Take(look, visitor.Person?.Name, answer), PagePaths.Of(look.Agenda.GardenId));
    }

    public async Task Note(HttpContext context, Visitor visitor, GardenLook look, IFormCollection form)
    {
        string text = form["note"].ToString().Trim();
        if (text.Length is 0 or > PageAnswers.LongestNote)
        {
            await PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", text.Length == 0 ? "There is nothing in it. Go back and write what you saw." : $"A note may have {PageAnswers.LongestNote} letters.").ConfigureAwait(false);
            return;
        }
        ImmutableArray<IncomingPicture> pictures = [.. form.Files.Where(file => file.Length > 0).Take(MostPictures).Select(file => new IncomingPicture(Path.GetFileName(file.FileName), file.OpenReadStream()))];
        try
        {
            await Taken(context, answers.Take(look, visitor.Person?.Name, new Planning.Journals.Answer.Note(text), pictures), PagePaths.Of(look.Agenda.GardenId, "journal")).ConfigureAwait(false);
        }
        finally
        {
            foreach (var picture in pictures)
                await picture.Content.DisposeAsync().ConfigureAwait(false);
        }
    }

    /// <summary>Takes back what this person recorded last.</summary>
    public Task Undo(HttpContext context, Visitor visitor, GardenLook look, IFormCollection form) =>
        Taken(context, answers.Take(look, visitor.Person?.Name, new Planning.Journals.Answer.Undo()), PagePaths.Of(look.Agenda.GardenId, form["then"] == "journal" ? "journal" : ""));

    internal static string? Days(IFormCollection form) => form["days"].ToString() is { Length: > 0 } days ? days : null;

    /// <summary>Leads on to a page that is read, so that loading it again sends nothing twice.</summary>
    internal static Task Taken(HttpContext context, AnswerTaken taken, string then)
    {
        if (taken.Refused is { } reason)
            return PlainPage.Write(context, StatusCodes.Status409Conflict, "Not all was written down", reason);
        context.Response.StatusCode = StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = then;
        return Task.CompletedTask;
    }
}
