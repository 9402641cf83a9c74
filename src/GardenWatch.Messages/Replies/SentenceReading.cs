using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>Reads one sentence after the other: divides it at commas, "and" and the like, and takes the longest pieces that are understood wholly.</summary>
/// <param name="jobs">Of the message that is answered.</param>
/// <param name="at">The job under which the words were written; null when they were not.</param>
internal sealed class SentenceReading(ImmutableArray<AskedJob> jobs, AskedJob? at, LocalDate today, Speech speech)
{
    private const int MostPieces = 40;
    private const int WidestClause = 10;
    private const int LongestAbout = 3;
    private const int LongestSentence = 2000;

    /// <summary>Words from one lexeme to before another, and what they were found to mean; null for nothing.</summary>
    private readonly record struct Stretch(int From, int To, ImmutableArray<Answer>? Answers);

    public ImmutableArray<Answer> Read(Sentence sentence)
    {
        if (sentence.Text.Length > LongestSentence)
            return [new Answer.Note(sentence.Text)];
        ImmutableArray<Answer>? best = null;
        foreach (var tongue in ReplyTongue.All)
        {
            var read = In(tongue, sentence);
            if (best is null || Worth(read) > Worth(best.Value))
                best = read;
        }
        return best!.Value;
    }

    /// <summary>Nothing left over is best, something understood is next, then what can be asked back.</summary>
    private static int Worth(ImmutableArray<Answer> answers) =>
        answers.IsEmpty ? 3
        : answers.All(answer => answer is not (Answer.Note or Answer.Unclear)) ? 4
        : answers.Any(answer => answer is Answer.Unclear) ? 1
        : answers.Any(answer => answer is not Answer.Note) || answers.Any(answer => answer is Answer.Note { About: not null }) ? 2
        : 0;

    private ImmutableArray<Answer> In(ReplyTongue tongue, Sentence sentence)
    {
        var words = tongue.Lexemes(sentence.Text.TrimEnd('?', ' '));
        if (words.IsEmpty)
            return [];
        if (words[0].Means("note") && words.Length > 1)
            return [NoteFrom(sentence.Text, words)];
        var stretches = StretchesOf(words);
        var understood = stretches.Where(stretch => stretch.Answers is not null).SelectMany(stretch => stretch.Answers!.Value).ToImmutableArray();
        bool deeds = understood.Any(answer => answer is Answer.Done or Answer.Skip or Answer.Later);
        if (sentence.Asks)
            return deeds ? [Doubtful(sentence.Text)] : [new Answer.Note(sentence.Text)];
        if (stretches.All(stretch => stretch.Answers is not null))
            return [.. understood.Select(answer => InOwnWords(answer, sentence.Text))];
        if (understood.IsEmpty)
            return [Free(sentence.Text, words)];
        if (deeds && LeavesDoubt(words, stretches))
            return [Doubtful(sentence.Text)];
        var about = understood is [Answer.Done { Jobs: [var single] }] ? single : null;
        return
        [
            .. stretches.SelectMany(stretch => stretch.Answers is { } answers
                ? answers.Select(answer => InOwnWords(answer, sentence.Text))
                : Left(sentence.Text, words, stretch, about)),
        ];
    }

    private List<Stretch> StretchesOf(ImmutableArray<Lexeme> words)
    {
        var starts = new List<int> { 0 };
        for (int i = 1; i < words.Length && starts.Count < MostPieces; i++)
            if (Divides(words[i]) || Divides(words[i - 1]))
                starts.Add(i);
        starts.Add(words.Length);
        var found = new List<Stretch>();
        bool afterPicked = false;
        for (int i = 0; i < starts.Count - 1;)
        {
            int next = 0;
            ImmutableArray<Answer>? answers = null;
            for (int j = Math.Min(starts.Count - 1, i + WidestClause); j > i && answers is null; j--)
            {
                answers = Clause(words.AsSpan()[starts[i]..starts[j]], afterPicked);
                next = j;
            }
            if (answers is null)
            {
                if (found.Count > 0 && found[^1].Answers is null)
                    found[^1] = found[^1] with { To = starts[i + 1] };
                else
                    found.Add(new(starts[i], starts[i + 1], null));
                afterPicked &= Divides(words[starts[i]]);
                i++;
                continue;
            }
            afterPicked = answers.Value.Any(answer => answer is Answer.Picked) || (afterPicked && answers.Value.IsEmpty);
            found.Add(new(starts[i], starts[next], answers));
            i = next;
        }
        return found;
    }

    private static bool Divides(Lexeme word) =>
        word.Means("and") || word.Means("except") || word.Text is "," or ":" or "-" or "–" or "—" or "(" or ")" or "/" or "but" or "then" or "aber" or "..." or "…";

    /// <summary>Null when not every word is understood; empty for thanks and greetings.</summary>
    private ImmutableArray<Answer>? Clause(ReadOnlySpan<Lexeme> words, bool afterPicked)
    {
        // "But 3 later": the but says nothing more; "but not 3" does.
        while (words.Length > 1 && Divides(words[0]) && !words[0].Means("job") && (words[0].Text is "but" || !words[0].Means("except")))
            words = words[1..];
        while (words.Length > 1 && Divides(words[^1]) && !words[^1].Means("job"))
            words = words[..^1];
        if (words.Length == 1 && Divides(words[0]))
            return [];
        bool polite = true;
        foreach (var word in words)
            polite &= word.Means("courtesy") || Divides(word) || word.Text is "!";
        if (polite)
            return [];
        if (words.Length <= 3 && Alone(words, "undo"))
            return [new Answer.Undo()];
        return new JobClause(words, jobs, at, today, speech).Read()
            ?? MeasureClause.Read(words, speech, today)
            ?? PickedClause.Read(words, afterPicked, today)
            ?? NamedClause.Read(words, jobs, today, speech);
    }

    private static bool Alone(ReadOnlySpan<Lexeme> words, string meaning)
    {
        bool found = false;
        foreach (var word in words)
        {
            if (word.Means(meaning))
                found = true;
            else if (!word.Means("filler") && !word.Means("courtesy"))
                return false;
        }
        return found;
    }

    /// <summary>Whether what is left over may take back what was understood: "done 1 but only half of it".</summary>
    private static bool LeavesDoubt(ImmutableArray<Lexeme> words, List<Stretch> stretches)
    {
        int first = stretches.FindIndex(stretch => stretch.Answers is { } answers && answers.Any(answer => answer is Answer.Done or Answer.Skip or Answer.Later));
        for (int s = 0; s < stretches.Count; s++)
        {
            if (stretches[s].Answers is not null)
                continue;
            for (int i = stretches[s].From; i < stretches[s].To; i++)
            {
                if ((words[i].Means("doubt") && words[i].Text is not "but") || (s < first && words[i].Number is not null) || JobClause.NumberOf(words[i]) is not null && IsVerb(words, stretches[s]))
                    return true;
            }
            // "I had 1 done": only after a comma and its like does an answer begin anew.
            if (s < first && !(words[stretches[s].To - 1].Text is "," or ":" or "-" or "–" or "—" || words[stretches[s].To].Text is "," or ":" or "-" or "–" or "—"))
                return true;
        }
        return false;
    }

    private static bool IsVerb(ImmutableArray<Lexeme> words, Stretch stretch)
    {
        for (int i = stretch.From; i < stretch.To; i++)
            if (words[i].Means("done") || words[i].Means("skip") || words[i].Means("later") || words[i].Means("not"))
                return true;
        return false;
    }

    /// <summary>Nothing of it was understood: a note, unless it has both a word for done and a number that may be a job's.</summary>
    private Answer Free(string text, ImmutableArray<Lexeme> words)
    {
        bool verb = false, number = false;
        for (int i = 0; i < words.Length; i++)
        {
            verb |= words[i].Means("done") || words[i].Means("skip") || words[i].Means("later");
            number |= words[i].IsNumber && JobClause.NumberOf(words[i]) is { } told && jobs.Any(job => job.Number == told)
                && !(i + 1 < words.Length && (words[i + 1].Means("hour") || words[i + 1].Means("day") || words[i + 1].Means("week") || words[i + 1].Means("kilogram") || words[i + 1].Means("millimetre")));
        }
        if (verb && number)
            return Doubtful(text);
        // "2: needs more water".
        if (words.Length > 2 && JobClause.NumberOf(words[0]) is { } about && words[0].IsNumber && words[1].Text is ":" or ")" or "." or "-" && jobs.Any(job => job.Number == about))
            return new Answer.Note(text[words[1].End..].Trim(), about.ToString(CultureInfo.InvariantCulture));
        return new Answer.Note(text, at?.Number.ToString(CultureInfo.InvariantCulture));
    }

    private static IEnumerable<Answer> Left(string text, ImmutableArray<Lexeme> words, Stretch stretch, string? about)
    {
        string left = text[words[stretch.From].Start..words[stretch.To - 1].End].Trim(',', ' ', '-', '–', '—', ':', '(', ')', '…');
        return left.Length > 0 ? [new Answer.Note(left, about)] : [];
    }

    /// <summary>"note 2: slugs", "note low bed: slugs", "note slugs".</summary>
    private Answer.Note NoteFrom(string text, ImmutableArray<Lexeme> words)
    {
        int colon = -1;
        for (int i = 1; i < words.Length && i <= LongestAbout + 1 && colon < 0; i++)
            if (words[i].Text == ":")
                colon = i;
        if (colon > 1 && colon < words.Length - 1)
            return new(text[words[colon].End..].Trim(), text[words[1].Start..words[colon - 1].End].TrimStart('#'));
        int from = colon == 1 ? 2 : 1;
        if (from < words.Length - 1 && JobClause.NumberOf(words[from]) is { } number && words[from].IsNumber && jobs.Any(job => job.Number == number))
            return new(text[words[from].End..].Trim(' ', ':', '-'), number.ToString(CultureInfo.InvariantCulture));
        return new(text[words[Math.Min(from, words.Length - 1)].Start..].Trim());
    }

    private Answer.Unclear Doubtful(string text) =>
        new(Plain.Cut(text, Plain.SentenceLength), speech.Say("It is not clear what is done. Write it as “done 1”, “later 2 3 days” or “skip 3”."));

    private static Answer InOwnWords(Answer answer, string text) => answer switch
    {
        Answer.Note note when note.Text == ReplyReader.Own => note with { Text = text },
        Answer.Unclear unclear when unclear.Text == ReplyReader.Own => unclear with { Text = text },
        _ => answer,
    };
}
