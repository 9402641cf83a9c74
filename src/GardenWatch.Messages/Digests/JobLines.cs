using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>Jobs as numbered rows. Numbers run through the message in reading order.</summary>
/// <param name="kept">Numbers that jobs have already; null for none.</param>
/// <param name="silent">Nothing was answered for weeks: what was asked for in vain is not told again.</param>
internal sealed class JobLines(Words words, ImmutableDictionary<string, int>? kept = null, bool silent = false)
{
    private const int NamedAtMost = 8;
    // Advice shorter than that is not worth a look up the page.
    private const int WorthSparing = 40;

    private readonly ImmutableArray<(int Number, string JobId)>.Builder _numbers =
        ImmutableArray.CreateBuilder<(int, string)>();
    private readonly Dictionary<string, int> _advised = new(StringComparer.Ordinal);
    private int _last = kept is null || kept.IsEmpty ? 0 : kept.Values.Max();

    public ImmutableArray<(int Number, string JobId)> Numbers => _numbers.ToImmutable();

    /// <summary>"Cover the tomatoes".</summary>
    public static string Deed(Job job) => Words.FirstUpper(Plain.OneLine(job.Name, Plain.NameLength));

    /// <summary>"by 7:30 pm" where an hour presses, else the best hours, else the likely dates.</summary>
    public string? When(Job job) => job switch
    {
        { ActBy: { } hour } => words.By(hour),
        { Best: { } best } => words.DuringDay(best, job.Windows),
        { Windows: [var first, ..] } => words.During(first),
        { Standing: Standing.Now } => words.AnyHour,
        _ => job.Likely is { } dates ? words.Likely(dates) : null,
    };

    /// <summary>A job with all it has to say; advice that the message has given already is named by the number it stands under.</summary>
    public JobRow Whole(Job job)
    {
        int? saidUnder = null;
        var advice = new List<string>();
        var paragraphs = ImmutableArray.CreateBuilder<Paragraph>();
        Add(Voice.Evidence, job.Standing == Standing.Waiting ? Needs(job) : Evidence(job));
        string how = words.HowTo(job.How, job.Minutes) ?? "";
        if (job.UndoAt is { } undo && !job.Reasons.Any(reason => reason.Code == "undo"))
            Add(Voice.Evidence, $"{how} {words.Undone(job.Kind, undo)}".TrimStart());
        else if (job.How is null)
            Add(Voice.Advice, how);
        else
            Advise(how);
        Advise(Words.Sentences(job.Cautions));
        if (!string.IsNullOrWhiteSpace(job.Otherwise))
            Advise(words.InsteadOf(job.Protects, job.Otherwise));
        if (saidUnder is { } number)
            Add(Voice.Advice, words.Speech.Say($"The rest as for {number}."));
        var row = Row(job, paragraphs.ToImmutable());
        foreach (string said in advice)
            _advised.TryAdd(said, row.Number);
        return row;

        void Add(Voice voice, string text)
        {
            if (text.Length > 0)
                paragraphs.Add(new(voice, text));
        }

        void Advise(string text)
        {
            if (text.Length == 0)
                return;
            // A page shows its jobs one by one.
            if (text.Length >= WorthSparing && kept is null && _advised.TryGetValue(text, out int under))
                saidUnder = Math.Min(saidUnder ?? under, under);
            else
                Add(Voice.Advice, text);
            advice.Add(text);
        }
    }

    /// <summary>Only named, as it was asked for often enough; at weekends there is time to say it whole once more.</summary>
    public bool StepsBehind(Job job) => job.Sinks && (silent || words.Today.DayOfWeek is not (IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday));

    /// <summary>A job in a line or two, for a quiet morning or one that waits. How old the forecast is, the opening has said.</summary>
    public JobRow Brief(Job job)
    {
        string why = job.Standing == Standing.Waiting
            ? Needs(job)
            : Words.Sentences(job.Reasons.OrderBy(reason => reason.Code == Reason.StaleWeather).Take(1).Select(reason => reason.Text));
        string instead = job.Standing == Standing.Waiting && !string.IsNullOrWhiteSpace(job.Otherwise) ? words.InsteadOf(job.Protects, job.Otherwise) : "";
        return Row(job, [.. why.Length > 0 ? [new Paragraph(Voice.Evidence, why)] : (Paragraph[])[], .. instead.Length > 0 ? [new Paragraph(Voice.Advice, instead)] : (Paragraph[])[]]);
    }

    /// <summary>The first in full; the rest in one line: "Fit for today as well: 7 weed the low bed, 8 feed the tomatoes."</summary>
    public ImmutableArray<Row> Rows(IReadOnlyList<Job> jobs, int most, string opening) =>
        [.. jobs.Take(most).Select(Whole).ToArray(), .. InOneLine([.. jobs.Skip(most)], opening)];

    /// <summary>The same in brief: what waits tells what for; how it is done, on its day.</summary>
    public ImmutableArray<Row> BriefRows(IReadOnlyList<Job> jobs, int most, string opening) =>
        [.. jobs.Take(most).Select(Brief).ToArray(), .. InOneLine([.. jobs.Skip(most)], opening)];

    /// <summary>Whether it is a bed's own watering, which tells how much.</summary>
    public static bool IsWatering(Job job) => job.Kind == JobKind.Water && job.Reasons.Any(reason => reason.Code == Reason.WaterToGive);

    /// <summary>
    /// Beds that want water on one line, each under its number, so that they leave room for what else is to be done: "Water before it
    /// is hot, slowly and at the roots: 3 low bed 40 litres, 4 big pot 3 litres." Why, the ground tells of each bed.
    /// </summary>
    public LineRow Waterings(IEnumerable<Job> waterings)
    {
        string beds = string.Join(", ", waterings.Select(job => $"{Number(job)}\u00A0{Plain.OneLine(job.BedName, Plain.NameLength)} {Amount(job)}"));
        return new(words.Speech.Say($"Water in the cool of the day, slowly and at the roots: {beds}."));
    }

    private string Amount(Job job)
    {
        var give = job.Reasons.First(reason => reason.Code == Reason.WaterToGive).Values;
        return give.TryGetValue("litres", out double litres) ? words.Speech.WaterToGive(litres) : words.Speech.WaterToGiveOn(give["giveMm"]);
    }

    /// <summary>By name alone: "Still open: 7 weed the low bed, 8 feed the tomatoes."</summary>
    public IEnumerable<Row> InOneLine(IReadOnlyList<Job> jobs, string opening)
    {
        if (jobs.Count == 0)
            return [];
        string named = string.Join(", ", jobs.Take(NamedAtMost).Select(job => $"{Number(job)}\u00A0{words.FirstLower(Deed(job))}{WhichBed(job, jobs)}"));
        string more = jobs.Count > NamedAtMost ? words.Speech.Many(jobs.Count - NamedAtMost, ", and one more, which comes up as these are done", ", and {1} more, which come up as these are done", words.Count(jobs.Count - NamedAtMost)) : "";
        return [new LineRow($"{opening}: {named}{more}.")];
    }

    /// <summary>Where the same is to be done in several beds.</summary>
    private static string WhichBed(Job job, IReadOnlyList<Job> jobs) =>
        BedToName(job) is { } bed && jobs.Count(other => Deed(other) == Deed(job)) > 1 ? $" ({bed})" : "";

    private JobRow Row(Job job, ImmutableArray<Paragraph> paragraphs) =>
        new(Number(job), Deed(job), BedToName(job), When(job), MarkOf(job), paragraphs);

    /// <summary>The bed, unless the deed has said which: "Shut the cold frame".</summary>
    public static string? BedToName(Job job) => Plain.OneLine(job.BedToTell, Plain.NameLength) is { Length: > 0 } bed ? bed : null;

    /// <summary>How its number is drawn: pressing, fit for now, or to come.</summary>
    public static Mark MarkOf(Job job) =>
        job.Standing != Standing.Now ? Mark.Waiting : job.ActBy is null ? Mark.Now : Mark.ByAnHour;

    private int Number(Job job)
    {
        int number = kept is not null && kept.TryGetValue(job.Id, out int known) ? known : ++_last;
        _numbers.Add((number, job.Id));
        return number;
    }

    private string Evidence(Job job)
    {
        string said = Words.Sentences(job.Reasons.Select(reason => reason.Text));
        bool odds = job.Chance is null || words.TellsOdds(said);
        return odds ? said : $"{said} {words.Sure(job.Chance!.Value)}".TrimStart();
    }

    private string Needs(Job job)
    {
        string wanting = Words.Sentences(Wanting(job).Select(need => need.Sentence));
        if (wanting.Length == 0)
            return Words.Sentences(job.Reasons.Select(reason => reason.Text));
        // Plants that stand ready are worth saying what their bed has already.
        string[] met = job.Kind == JobKind.SetOut ? [.. job.Needs.Where(need => need.Holds == true).Select(need => words.FirstLower(need.Sentence))] : [];
        return met.Length == 0 ? wanting : $"{wanting} {Words.Sentences([words.Speech.Say($"Met: {string.Join("; ", met)}")])}";
    }

    private static IEnumerable<Need> Wanting(Job job) => job.Needs.Where(need => need.Holds != true);
}
