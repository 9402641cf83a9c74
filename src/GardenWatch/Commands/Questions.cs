namespace GardenWatch.Commands;

/// <summary>What is asked of an answer: taken, or what is wrong with it.</summary>
internal readonly record struct Reading<T>(T? Value, string? Fault) where T : class
{
    public static implicit operator Reading<T>(T value) => new(value, null);

    public static Reading<T> Wrong(string fault) => new(null, fault);
}

/// <summary>No more answers come, and those that came are not enough; what is wrong was told.</summary>
internal sealed class AnswersEndedException(int code) : Exception
{
    public int Code => code;
}

/// <summary>Asks at the terminal, one line an answer: Enter takes what is usual, a question mark explains.</summary>
/// <param name="takesUsual">Nobody is asked: what was not given is as usual.</param>
/// <param name="hidden">Reads a line that is not shown.</param>
internal sealed class Questions(TextReader answers, TextWriter told, bool takesUsual, Func<string, string?> hidden)
{
    // A program that hands over answers without end must not be asked without end.
    private const int MostTries = 20;

    public bool TakesUsual => takesUsual;

    public void Tell(string sentence) => told.WriteLine(sentence);

    /// <param name="usual">Null where nothing is.</param>
    /// <param name="given">Answered beforehand, by an option; null to ask.</param>
    public async Task<T> Ask<T>(string question, string? usual, string explanation, string? given, Func<string, Task<Reading<T>>> read, CancellationToken ct) where T : class
    {
        for (int tries = 0; tries < MostTries; tries++)
        {
            string answer = given ?? await Line(question, usual, ct).ConfigureAwait(false);
            if (answer.Trim() == "?")
            {
                told.WriteLine(Wrapped(explanation));
                continue;
            }
            var reading = await read(answer).ConfigureAwait(false);
            if (reading.Value is { } value)
                return value;
            told.WriteLine($"  {Capital(reading.Fault!)}");
            if (takesUsual)
                break;
            given = null;
        }
        throw new AnswersEndedException(ExitCode.Unusable);
    }

    public Task<T> Ask<T>(string question, string? usual, string explanation, string? given, Func<string, Reading<T>> read, CancellationToken ct) where T : class =>
        Ask(question, usual, explanation, given, answer => Task.FromResult(read(answer)), ct);

    /// <summary>No where nobody can be asked.</summary>
    public async Task<bool> Agreed(string question, CancellationToken ct)
    {
        if (takesUsual)
            return false;
        told.Write($"{question} [yes]: ");
        string? answer = await Next(ct).ConfigureAwait(false);
        return answer?.Trim().ToLowerInvariant() is "" or "y" or "yes" or "ok";
    }

    /// <summary>Empty when nothing was typed.</summary>
    public Task<string> Secret(string question, CancellationToken ct) => takesUsual
        ? Task.FromResult("")
        : Aside(() => hidden(question + ": ") ?? throw new AnswersEndedException(ExitCode.Unusable), ct);

    private async Task<string> Line(string question, string? usual, CancellationToken ct)
    {
        if (takesUsual)
            return usual ?? throw new AnswersEndedException(ExitCode.Unusable);
        told.Write(usual is null ? $"{question}: " : $"{question} [{usual}]: ");
        string line = await Next(ct).ConfigureAwait(false) ?? throw new AnswersEndedException(ExitCode.Unusable);
        return line.Trim().Length == 0 && usual is not null ? usual : line;
    }

    private Task<string?> Next(CancellationToken ct) => Aside(answers.ReadLine, ct);

    /// <summary>Reading a terminal can't be called off: whoever ends the program does not wait for it.</summary>
    private static Task<T> Aside<T>(Func<T> read, CancellationToken ct) => Task.Run(read, CancellationToken.None).WaitAsync(ct);

    private static string Capital(string sentence) => sentence.Length > 0 ? char.ToUpperInvariant(sentence[0]) + sentence[1..] : sentence;

    private static string Wrapped(string explanation)
    {
        var lines = new List<string> { "  " };
        foreach (string word in explanation.Split(' '))
        {
            if (lines[^1].Length + word.Length > 88)
                lines.Add("  ");
            lines[^1] += lines[^1].Length == 2 ? word : " " + word;
        }
        return string.Join('\n', lines);
    }
}
