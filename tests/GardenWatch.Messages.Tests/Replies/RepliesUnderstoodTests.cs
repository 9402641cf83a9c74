using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Tests.Replies;

/// <summary>Two hundred replies in the shapes of many mail programs: how many are understood, and that none is taken for a job done that is not.</summary>
public sealed class RepliesUnderstoodTests(ITestOutputHelper output)
{
    private sealed record Sample(int Line, string Shape, string Words, ImmutableArray<string> Expected);

    [Fact]
    public void Nearly_all_replies_are_understood_and_none_as_a_job_done_that_is_not()
    {
        var samples = Samples();
        Assert.True(samples.Count >= 200, $"only {samples.Count} replies");
        var missed = new List<string>();
        var wrongly = new List<string>();
        foreach (var sample in samples)
        {
            using var mail = ReplySamples.Mail(sample.Shape, sample.Words);
            var text = ReplyText.Of(mail, sample.Shape is "plain" or "us" ? null : ReplySamples.Asked);
            var answers = ReplyReader.Read(text, ReplySamples.Today, ReplySamples.English(sample.Shape == "us" ? UnitSystem.Us : UnitSystem.Metric), ReplySamples.Jobs);
            string[] read = [.. answers.Select(Words)];
            string told = $"line {sample.Line} ({sample.Shape}) \"{sample.Words.Replace("\n", "\\n", StringComparison.Ordinal)}\": {string.Join("; ", read)} instead of {string.Join("; ", sample.Expected)}";
            if (!AreSame(sample.Expected, read))
                missed.Add(told);
            if (DoneIn(read).Except(DoneIn([.. sample.Expected])).Any())
                wrongly.Add(told);
        }
        output.WriteLine($"{samples.Count - missed.Count} of {samples.Count} replies are understood; {wrongly.Count} as a job done that is not.");
        foreach (string line in missed)
            output.WriteLine(line);
        Assert.Empty(wrongly);
        Assert.True(missed.Count <= samples.Count * 0.05, string.Join('\n', missed));
    }

    [Fact]
    public void A_reply_means_the_same_without_the_text_that_it_answers()
    {
        foreach (var sample in Samples().Where(sample => sample.Shape is not ("plain" or "us")))
        {
            using var mail = ReplySamples.Mail(sample.Shape, sample.Words);
            var answers = ReplyReader.Read(ReplyText.Of(mail), ReplySamples.Today, ReplySamples.English(UnitSystem.Metric), ReplySamples.Jobs);
            Assert.Empty(DoneIn([.. answers.Select(Words)]).Except(DoneIn([.. sample.Expected])));
        }
    }

    private static List<Sample> Samples() =>
    [
        .. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Fixtures", "replies.txt"))
            .Select((line, i) => (Line: line, Number: i + 1))
            .Where(entry => entry.Line.Length > 0 && entry.Line[0] != '#')
            .Select(entry => (entry.Number, Fields: entry.Line.Split(" | ")))
            .Select(entry => new Sample(entry.Number, entry.Fields[0], entry.Fields[1].Replace("\\n", "\n", StringComparison.Ordinal),
                entry.Fields[2] == "nothing" ? [] : [.. entry.Fields[2].Split("; ")])),
    ];

    private static IEnumerable<string> DoneIn(IReadOnlyList<string> answers) => answers
        .Where(answer => answer.StartsWith("done ", StringComparison.Ordinal))
        .SelectMany(answer => answer[5..].Split(' ')[0].Split(','));

    private static bool AreSame(ImmutableArray<string> expected, string[] read) =>
        expected.Length == read.Length && expected.Zip(read).All(pair => IsSame(pair.First, pair.Second));

    private static bool IsSame(string expected, string read)
    {
        if (!expected.StartsWith("note ", StringComparison.Ordinal) || !read.StartsWith("note ", StringComparison.Ordinal))
            return expected == read;
        string[] parts = expected[5..].Split(": ", 2);
        return parts.Length == 2
            ? read.StartsWith($"note {parts[0]}: ", StringComparison.Ordinal) && read.Contains(parts[1], StringComparison.OrdinalIgnoreCase)
            : read.Contains(parts[0], StringComparison.OrdinalIgnoreCase);
    }

    private static string Words(Answer answer) => answer switch
    {
        Answer.Done done => $"done {string.Join(',', done.Jobs)}{On(done.On)}",
        Answer.Skip skip => $"skip {string.Join(',', skip.Jobs)}",
        Answer.Later later => $"later {string.Join(',', later.Jobs)} {(later.Until is { } until ? Date(until) : "next")}",
        Answer.Note note => $"note {(note.About is { } about ? about + ": " : "")}{note.Text.Replace('\n', ' ')}",
        Answer.Reading reading => string.Create(CultureInfo.InvariantCulture,
            $"reading {(reading.Kind == ReadingKind.AirLow ? "low" : reading.Kind.ToString().ToLowerInvariant())} {Math.Round(reading.Value, 2)}{(reading.DepthMetres is { } depth ? $" {depth}" : "")}{(reading.Bed is { } bed ? $" {bed}" : "")}{On(reading.On)}"),
        Answer.Picked picked => string.Create(CultureInfo.InvariantCulture,
            $"picked {picked.What}{(picked.Grams is { } grams ? $" {Math.Round(grams, 2)} g" : "")}{(picked.Pieces is { } pieces ? $" {pieces}" : "")}{On(picked.On)}"),
        Answer.Undo => "undo",
        Answer.Stop => "stop",
        Answer.Start => "start",
        Answer.Unclear => "unclear",
        _ => answer.ToString(),
    };

    private static string On(LocalDate? on) => on is { } date ? " @" + Date(date) : "";

    private static string Date(LocalDate date) => LocalDatePattern.Iso.Format(date);
}
