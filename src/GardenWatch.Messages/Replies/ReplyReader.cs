using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>
/// What a gardener's own words mean. A job counts as done only when every word about it is understood; what is likely meant as an
/// answer, but is not clear, is asked back, and all else is a note.
/// </summary>
public static class ReplyReader
{
    /// <summary>Stands for the clause's own words until its sentence is known.</summary>
    internal const string Own = "\u0001";

    private const int MostAnswers = 60;
    private const int LongestNote = 4000;
    private const int MostAbove = 6;

    /// <param name="today">The local date on which it was written.</param>
    /// <param name="speech">Its units are those in which bare numbers are meant, its language that in which is asked back.</param>
    /// <param name="jobs">Those of the message that is answered.</param>
    public static ImmutableArray<Answer> Read(ReplyText text, LocalDate today, Speech speech, ImmutableArray<AskedJob> jobs)
    {
        ArgumentNullException.ThrowIfNull(text);
        return Read(text.Words, today, speech, jobs);
    }

    /// <inheritdoc cref="Read(ReplyText, LocalDate, Speech, ImmutableArray{AskedJob})"/>
    public static ImmutableArray<Answer> Read(ImmutableArray<OwnWords> words, LocalDate today, Speech speech, ImmutableArray<AskedJob> jobs)
    {
        // Only when nothing else is said: "stop" among other words is the gardener's own "stop watering".
        if (words is [var only] && WishIn(only.Text) is { } wish)
            return [wish];
        var answers = new List<Answer>();
        foreach (var part in words)
        {
            var reading = new SentenceReading(jobs, JobAbove(part, jobs), today, speech);
            foreach (var sentence in Sentences.Of(part.Text))
                answers.AddRange(reading.Read(sentence));
        }
        return [.. Joined(answers).Take(MostAnswers)];
    }

    /// <summary>Whether a subject, or all that was written, asks for no more messages, or for messages again; null for neither.</summary>
    public static Answer? WishIn(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        string plain = Plain.OneLine(text, 60).Trim('.', '!', ' ').ToLowerInvariant();
        return ReplyTongue.All.Any(tongue => tongue.Table.WordsOf("stop").Contains(plain)) ? new Answer.Stop()
            : ReplyTongue.All.Any(tongue => tongue.Table.WordsOf("start").Contains(plain)) ? new Answer.Start()
            : null;
    }

    /// <summary>The job under which something was written between the lines; null when it is not clear which.</summary>
    private static AskedJob? JobAbove(OwnWords part, ImmutableArray<AskedJob> jobs)
    {
        var named = part.Above
            .Select((line, i) => (Job: jobs.FirstOrDefault(job => Heads(line, job)), FromEnd: part.Above.Length - i))
            .Where(found => found.Job is not null)
            .ToList();
        return named.Count > 0 && named[^1].FromEnd <= MostAbove && (named.Count == 1 || part.Between) ? named[^1].Job : null;
    }

    /// <summary>"2. Sow radish, batch 3 …", as the message has it.</summary>
    private static bool Heads(string line, AskedJob job)
    {
        string number = job.Number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        string first = job.Name.Split(' ', 2)[0];
        return first.Length > 0 && line.StartsWith(number, StringComparison.Ordinal)
            && line[number.Length..].TrimStart('.', ' ', ')').StartsWith(first, StringComparison.OrdinalIgnoreCase)
            && !char.IsAsciiDigit(line.ElementAtOrDefault(number.Length));
    }

    /// <summary>Sentences of one note stay together.</summary>
    private static IEnumerable<Answer> Joined(List<Answer> answers)
    {
        Answer.Note? open = null;
        foreach (var answer in answers)
        {
            if (answer is Answer.Note { About: null, On: null } note && open is { About: null, On: null })
            {
                open = open with { Text = open.Text + "\n" + note.Text };
                continue;
            }
            if (open is not null)
                yield return Cut(open);
            open = answer as Answer.Note;
            if (open is null)
                yield return answer;
        }
        if (open is not null)
            yield return Cut(open);
    }

    private static Answer.Note Cut(Answer.Note note) => note.Text.Length <= LongestNote ? note : note with { Text = Plain.Cut(note.Text, LongestNote) };
}
