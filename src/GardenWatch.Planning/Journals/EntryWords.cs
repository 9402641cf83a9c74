namespace GardenWatch.Planning.Journals;

/// <summary>The words by which files of ours name what an entry is; they stay as they are for good.</summary>
public static class EntryWords
{
    private static readonly (EntryKind Kind, string Word)[] Kinds =
    [
        (EntryKind.Done, "done"), (EntryKind.Skip, "skip"), (EntryKind.Later, "later"), (EntryKind.Note, "note"), (EntryKind.Reading, "reading"),
        (EntryKind.Picked, "picked"), (EntryKind.Undo, "undo"), (EntryKind.Reset, "reset"),
    ];

    private static readonly (AnswerOrigin Origin, string Word)[] Origins =
    [
        (AnswerOrigin.Command, "command"), (AnswerOrigin.Mail, "mail"), (AnswerOrigin.Page, "page"), (AnswerOrigin.Import, "import"),
    ];

    private static readonly (ReadingKind Measure, string Word)[] Measures =
        [(ReadingKind.Soil, "soil"), (ReadingKind.AirLow, "air low"), (ReadingKind.Rain, "rain")];

    public static string Of(EntryKind kind) => Array.Find(Kinds, each => each.Kind == kind).Word;

    public static string Of(AnswerOrigin origin) => Array.Find(Origins, each => each.Origin == origin).Word;

    public static string Of(ReadingKind measure) => Array.Find(Measures, each => each.Measure == measure).Word;

    /// <summary>Null for a word that names none; so are the others.</summary>
    public static EntryKind? Kind(string word) => Kinds.Where(each => each.Word == word).Select(each => (EntryKind?)each.Kind).FirstOrDefault();

    public static AnswerOrigin? Origin(string word) => Origins.Where(each => each.Word == word).Select(each => (AnswerOrigin?)each.Origin).FirstOrDefault();

    public static ReadingKind? Measure(string word) => Measures.Where(each => each.Word == word).Select(each => (ReadingKind?)each.Measure).FirstOrDefault();
}
