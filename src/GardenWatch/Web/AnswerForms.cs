using GardenWatch.Planning.Journals;

namespace GardenWatch.Web;

/// <summary>What people send from their pages: answers to jobs, and notes.</summary>
internal sealed class AnswerForms(PageAnswers answers)
{
    public Task Answer(HttpContext context, GardenLook look, IFormCollection form)
    {
        string job = form["job"].ToString();
        // Of this garden: the form's job could name another.
        if (!job.StartsWith(look.Agenda.GardenId + "/", StringComparison.Ordinal) || PageAnswers.Of(form["answer"], job, Days(form), look) is not { } answer)
            return PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", "It is no answer to a job of this garden.");
        return Taken(context, answers.Take(look, answer), PagePaths.Of(look.Agenda.GardenId));
    }

    public Task Note(HttpContext context, GardenLook look, IFormCollection form)
    {
        string text = form["note"].ToString().Trim();
        if (text.Length is 0 or > PageAnswers.LongestNote)
            return PlainPage.Write(context, StatusCodes.Status400BadRequest, "This was not taken", text.Length == 0 ? "There is nothing in it. Go back and write what you saw." : $"A note may have {PageAnswers.LongestNote} letters.");
        return Taken(context, answers.Take(look, new Answer.Note(text)), PagePaths.Of(look.Agenda.GardenId, "journal"));
    }

    internal static string? Days(IFormCollection form) => form["days"].ToString() is { Length: > 0 } days ? days : null;

    /// <summary>Leads on to a page that is read, so that loading it again sends nothing twice.</summary>
    internal static Task Taken(HttpContext context, AnswerTaken taken, string then)
    {
        if (!taken.Ok)
            return PlainPage.Write(context, StatusCodes.Status409Conflict, "This was not written down", taken.Sentence);
        context.Response.StatusCode = StatusCodes.Status303SeeOther;
        context.Response.Headers.Location = then;
        return Task.CompletedTask;
    }
}
