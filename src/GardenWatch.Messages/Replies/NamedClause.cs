using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>A job told by its name: "sowed the radishes yesterday", "tomatoes covered", "skip the radishes". Each word must be the job's or say nothing.</summary>
internal static class NamedClause
{
    public static ImmutableArray<Answer>? Read(ReadOnlySpan<Lexeme> words, ImmutableArray<AskedJob> jobs, LocalDate today, Speech speech)
    {
        if (jobs.IsEmpty)
            return null;
        DayTold? day = null;
        bool done = false, ended = false, later = false, skip = false, deed = false;
        var named = new List<Lexeme>();
        for (int i = 0; i < words.Length;)
        {
            var word = words[i];
            if (!word.Means("later") && DayTold.At(words[i..], today) is { } told && !Names(jobs, word))
            {
                if (day is not null)
                    return null;
                day = told.Day;
                i += told.Taken;
                continue;
            }
            if (word.Means("later"))
                later = true;
            else if (word.Means("skip"))
                skip = true;
            else if (word.Verbs.Any())
                named.Add(word);
            else if (word.Means("filler") || word.Means("and"))
            {
                i++;
                continue;
            }
            else if (word.Means("done"))
                (done, ended) = (!word.Means("ended"), word.Means("ended"));
            else if (Names(jobs, word))
                named.Add(word);
            else
                return null;
            i++;
        }
        if (named.Count == 0 || (later ? 1 : 0) + (skip ? 1 : 0) + (done || ended ? 1 : 0) > 1)
            return null;
        deed = named.Any(IsDeed);
        // A bare "sow radishes" is a thing to do, and "radishes finished" may be the plants' end.
        bool tellsDone = done || (ended && named.Any(word => word.Verbs.Any())) || deed;
        if (!tellsDone && !later && !skip)
            return null;
        bool verbNeeded = !done && !later && !skip;
        var meant = jobs.Where(job => Fits(job, named, verbNeeded)).ToList();
        if (meant.Count > 1)
            return [new Answer.Unclear(ReplyReader.Own, speech.Say($"Which is meant: {string.Join(speech.Say(" or "), meant.Take(4).Select(job => $"{job.Number} ({job.Name})"))}? Write its number."))];
        if (meant is not [var one])
            return null;
        ImmutableArray<string> asked = [one.Number.ToString(CultureInfo.InvariantCulture)];
        if (skip)
            return day is null ? [new Answer.Skip(asked)] : null;
        if (later)
            return day is { Coming: null } ? null : [new Answer.Later(asked, day?.Coming)];
        return day is { Past: null } ? null : [new Answer.Done(asked, day?.Past == today ? null : day?.Past)];
    }

    /// <summary>"Sowed", and not "sow".</summary>
    private static bool IsDeed(Lexeme word) => word.Verbs.Any(verb => verb != word.Text && !word.Text.StartsWith(verb + " ", StringComparison.Ordinal));

    private static bool Names(ImmutableArray<AskedJob> jobs, Lexeme word) =>
        word.Text.Length > 1 && AskedJob.Stem(word.Text) is var stem && jobs.Any(job => job.Words.Contains(stem) || job.BedWords.Contains(stem));

    private static bool Fits(AskedJob job, List<Lexeme> named, bool verbNeeded)
    {
        bool verb = false, noun = false;
        foreach (var word in named)
        {
            string stem = AskedJob.Stem(word.Text);
            if (word.Verbs.Any(base_ => job.Words.Contains(base_)))
                verb = true;
            else if (word.Verbs.Any())
                return false;
            else if (job.Words.Contains(stem))
                noun = true;
            else if (!job.BedWords.Contains(stem))
                return false;
        }
        return noun && (verb || !verbNeeded);
    }
}
