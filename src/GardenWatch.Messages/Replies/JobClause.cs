using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>What is said of jobs: "done 1 and 3", "2 tomorrow", "4 skip", "all done but 3". Each word must be understood, or nothing is.</summary>
internal ref struct JobClause(ReadOnlySpan<Lexeme> words, ImmutableArray<AskedJob> jobs, AskedJob? at, LocalDate today, Speech speech)
{
    private const int HighestNumber = 99;

    private readonly ReadOnlySpan<Lexeme> _words = words;
    private readonly List<int> _numbers = [];
    private readonly List<int> _excepted = [];
    private DayTold? _day;
    private bool _all, _both, _except, _not, _done, _later, _do, _skip, _it, _wordless;

    /// <summary>Null when it is no such clause.</summary>
    public ImmutableArray<Answer>? Read()
    {
        if (_words.IsEmpty)
            return null;
        for (int i = 0; i < _words.Length;)
        {
            int taken = Take(i);
            if (taken == 0)
                return null;
            i += taken;
        }
        return Meaning();
    }

    private int Take(int i)
    {
        var word = _words[i];
        // A verb's own meaning first: "not today" is one, "today" is a day.
        if (word.Means("later"))
            return Set(ref _later);
        if (word.Means("skip"))
            return Set(ref _skip);
        if (NumbersAt(i) is > 0 and var taken)
            return taken;
        if (DayTold.At(_words[i..], today) is { } told)
        {
            if (_day is not null)
                return 0;
            _day = told.Day;
            return told.Taken;
        }
        if (word.Means("not"))
            return Set(ref _not);
        if (word.Means("done"))
            return Set(ref _done);
        if (word.Means("do"))
            return Set(ref _do);
        if (word.Means("except") && _all && !_except)
            return Set(ref _except);
        // "Done 1", and then "but not 2".
        if (word.Means("except") && i == 0)
            return Set(ref _not);
        if (word.Means("all"))
            return Set(ref _all);
        if (word.Means("both"))
            return Set(ref _both);
        if (word.Means("it"))
            return Set(ref _it);
        return word.Means("filler") || word.Means("and") || word.Means("job") || word.Text is "-" or "–" or "—" or "…" ? 1 : 0;
    }

    private static int Set(ref bool flag)
    {
        flag = true;
        return 1;
    }

    /// <summary>Job numbers at a word, written in figures or as words; "1-3" and "1 to 3" are three of them.</summary>
    private int NumbersAt(int i)
    {
        if (NumberOf(_words[i]) is not { } first)
            return _words[i] is { IsNumber: true } && _words[i].Text.Contains(',', StringComparison.Ordinal) ? Listed(_words[i].Text) : 0;
        // "3 days" is a time; "2 hours" and "2 kg" are no jobs.
        if (i + 1 < _words.Length && IsUnit(_words[i + 1]))
            return 0;
        var into = _except ? _excepted : _numbers;
        into.Add(first);
        if (i + 2 < _words.Length && (_words[i + 1].Means("to") || _words[i + 1].Text is "-" or "–") && NumberOf(_words[i + 2]) is { } last && last > first
            && (_words[i + 1].Means("to") || _words[i + 1].Start == _words[i].End) && !(i + 3 < _words.Length && IsUnit(_words[i + 3])))
        {
            for (int number = first + 1; number <= last; number++)
                into.Add(number);
            return 3;
        }
        return 1;
    }

    /// <summary>"1,3" looks like a number with a comma.</summary>
    private int Listed(string text)
    {
        var into = _except ? _excepted : _numbers;
        foreach (string each in text.Split(','))
        {
            if (!int.TryParse(each, NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number is < 1 or > HighestNumber || each[0] == '0')
                return 0;
            into.Add(number);
        }
        return 1;
    }

    private static bool IsUnit(Lexeme word) =>
        (word.Means("day") || word.Means("week") || word.Means("hour") || word.Means("kilogram") || word.Means("gram") || word.Means("pound")
            || word.Means("ounce") || word.Means("millimetre") || word.Means("centimetre") || word.Count("month") is not null
            || word.Text is "th" or "st" or "nd" or "rd" or "%" or "°") && !word.Means("filler");

    internal static int? NumberOf(Lexeme word) =>
        word is { IsNumber: true, Number: { } number } && word.Text.All(char.IsAsciiDigit) && word.Text[0] != '0' && number <= HighestNumber ? (int)number
        : word.Number is null ? word.Count("number") ?? word.Count("ordinal") : null;

    private ImmutableArray<Answer>? Meaning()
    {
        int verbs = (_done ? 1 : 0) + (_later ? 1 : 0) + (_skip ? 1 : 0);
        // "did 2 later", "skip 3 done": two things at once.
        if (verbs > 1 || (_except && _excepted.Count == 0) || (_do && verbs > 0 && !_later))
            return null;
        _wordless = verbs == 0 && !_do && !_not;
        if (Jobs() is not { } asked)
            return null;
        if (_not)
            return verbs == 0 || _done ? Open(asked) : null;
        if (_done)
            return _day is { Past: null } ? null : asked is { Length: 0 } ? Which("done 1") : [new Answer.Done(asked, _day?.Past == today ? null : _day?.Past)];
        if (_skip)
            return _day is not null ? null : asked is { Length: 0 } ? Which("skip 1") : [new Answer.Skip(asked)];
        if (_later || _do || (_wordless && _day is not null))
        {
            // "do 2" asks for nothing, and "2 today" may be a deed or a plan.
            if ((_day is null && !_later) || (_day is { Coming: null }) || (_wordless && _day is { Past: not null } && _day.Value.Past == today))
                return null;
            if (asked is { Length: 0 })
                return _later ? Which("later 1") : null;
            return [new Answer.Later(asked, _day is { Past: { } past } && past == today ? null : _day?.Coming)];
        }
        return null;
    }

    /// <summary>The numbers meant; empty when none is named and it can't be told which; null when the words don't go together.</summary>
    private readonly ImmutableArray<string>? Jobs()
    {
        var jobsOfMessage = jobs;
        if (_all || _both)
        {
            if (_numbers.Count > 0 || _not)
                return null;
            // Those that wait are in the message as well, and nobody says of them that they are done.
            var today = jobsOfMessage.Where(job => job.Today != false).ToList();
            if (today.Count == 0 || (_both && today.Count != 2) || (today.Count > 1 && today.Any(job => job.Today is null)))
                return [];
            var excepted = _excepted;
            return excepted.All(number => today.Any(job => job.Number == number)) ? [.. today.Where(job => !excepted.Contains(job.Number)).Select(job => Text(job.Number))] : null;
        }
        if (_numbers.Count > 0)
            return [.. _numbers.Distinct().Select(Text)];
        if (at is not null)
            return [Text(at.Number)];
        return jobsOfMessage is [var only] ? [Text(only.Number)] : [];
    }

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    /// <summary>"2 not yet": nothing to record but the words.</summary>
    private readonly ImmutableArray<Answer>? Open(ImmutableArray<string> asked) =>
        _numbers.Count == 0 && at is null ? null : asked is [var one] ? [new Answer.Note(ReplyReader.Own, one)] : [new Answer.Note(ReplyReader.Own)];

    private readonly ImmutableArray<Answer> Which(string example) =>
        [new Answer.Unclear(ReplyReader.Own, speech.Say($"Which job is meant? Write its number, as in “{example}”."))];
}
