using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Journals;
using GardenWatch.Rounds;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>What became of an answer: null when it was written down, else why not.</summary>
internal readonly record struct AnswerTaken(string? Refused);

/// <summary>Reads the page's forms into answers and has them written down. The one place where the page writes.</summary>
internal sealed class PageAnswers(Answering answering, GardenLooks looks, IClock clock)
{
    public const int LongestNote = 500;
    private const int LongestWaitDays = 366;

    /// <summary>The answer to one job that a form means; null when it means none.</summary>
    /// <param name="days">For later: after how many days to ask again; null is tomorrow.</param>
    public static Answer? Of(string? answer, string jobId, string? days, GardenLook look)
    {
        ImmutableArray<string> jobs = [jobId];
        return answer switch
        {
            "done" => new Answer.Done(jobs),
            "skip" => new Answer.Skip(jobs),
            "later" when days is null => new Answer.Later(jobs, null),
            "later" when int.TryParse(days, NumberStyles.None, CultureInfo.InvariantCulture, out int count) && count is >= 1 and <= LongestWaitDays =>
                new Answer.Later(jobs, look.Agenda.Date.PlusDays(count)),
            _ => null,
        };
    }

    /// <param name="person">Who is signed in; null where nobody is.</param>
    public AnswerTaken Take(GardenLook look, string? person, Answer answer, params ImmutableArray<IncomingPicture> pictures)
    {
        var (plan, place) = (look.Garden.Plan, look.Garden.Place);
        var taken = answering.Take(plan, place, new(AnswerOrigin.Page, [answer]) { Person = person, Pictures = pictures }, clock.GetCurrentInstant());
        looks.Forget(plan.GardenId);
        return new(taken.NotWritten ?? (taken.Asked.IsEmpty ? null : string.Join(' ', taken.Asked)));
    }
}
