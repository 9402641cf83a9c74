using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Web;

/// <summary>All jobs of a plan, each with the page of its conditions.</summary>
public sealed record ConditionsSheet(PageFrame Frame, ImmutableArray<(string Bed, ImmutableArray<(string Name, string Address)> Jobs)> Beds);

/// <summary>A number that can be tried out.</summary>
/// <param name="Field">Of the form.</param>
/// <param name="Shown">As it was typed, else as it holds.</param>
public sealed record NumberSheet(string Name, string Field, string Shown, string InForce, string From, string? Wrong);

/// <summary>One day of a job.</summary>
/// <param name="Marks">In words, in the order of the conditions.</param>
/// <param name="Own">How it is without the numbers tried out, where that differs.</param>
public sealed record DaySheet(string Day, bool IsToday, string Whole, string? Own, ImmutableArray<string> Marks);

/// <param name="Conditions">What it does, its phrase, how it stands.</param>
/// <param name="Grounds">What decides where no conditions do; empty where they do.</param>
/// <param name="Keep">What to write into the plan to keep the numbers tried out; null when none are.</param>
public sealed record OneConditionSheet(
    PageFrame Frame, string Heading, string Action, ImmutableArray<string> Summary, ImmutableArray<(string Role, string Phrase, string Stands)> Conditions,
    ImmutableArray<string> Grounds, ImmutableArray<NumberSheet> Numbers, string Rule, ImmutableArray<string> Columns, ImmutableArray<DaySheet> Days, string? Keep);

/// <summary>Why each job is asked for or not, and what other numbers would have meant in the last two weeks.</summary>
internal sealed class ConditionPages(PageDoor door)
{
    private const string FieldStart = "n-";

    public Task All(HttpContext context, Visitor visitor, GardenLook look) =>
        context.Send(Slices.Conditions.Create(new(
            door.Frame(visitor, look, "Conditions", "conditions"),
            [.. AskedJob.AllOf(look.Garden.Plan).GroupBy(job => job.BedName ?? "The garden")
                .Select(bed => (bed.Key, bed.Select(job => (job.Name, AddressOf(look, job))).ToImmutableArray()))])));

    /// <summary>Null for a job whose reasons say all there is.</summary>
    public static string? AddressOf(GardenLook look, Job job) =>
        AskedJob.AllOf(look.Garden.Plan).FirstOrDefault(asked => asked.SubjectId == job.SubjectId && asked.Kind == job.Kind) is { } found ? AddressOf(look, found) : null;

    private static string AddressOf(GardenLook look, AskedJob job) =>
        PagePaths.Of(look.Agenda.GardenId, $"conditions/{Uri.EscapeDataString(job.SubjectId)}/{job.Kind.Word().Replace(' ', '-')}");

    public Task One(HttpContext context, Visitor visitor, GardenLook look)
    {
        string subject = (string)context.GetRouteValue("subject")!, kind = (string)context.GetRouteValue("kind")!;
        if (AskedJob.AllOf(look.Garden.Plan).FirstOrDefault(asked => asked.SubjectId == subject && asked.Kind.Word().Replace(' ', '-') == kind) is not { } job)
            return PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such job", "The plan names it no more.");
        Explanation Explained(IReadOnlyDictionary<string, Quantity>? changed) => Explanation.Of(
            look.Garden.Plan, job, look.Garden.Place.Calendar, look.Journal, look.Known, look.LastSaid, look.Now, changed);
        var own = Explained(null);
        var (numbers, changed) = Tried(own, context.Request.Query, look.Speech);
        var shown = changed.Count > 0 ? Explained(changed) : own;
        return context.Send(Slices.Condition.Create(new(
            door.Frame(visitor, look, job.FullName, "conditions"), job.FullName, AddressOf(look, job),
            [.. ExplanationWords.Summary(shown)],
            [.. shown.Conditions.Select(condition => (ExplanationWords.RoleOf(condition), condition.Phrase, StandsOf(condition, look.Speech)))],
            shown.Grounds, shown.Grounds.IsEmpty ? numbers : [], ExplanationWords.RuleOf(shown),
            [.. shown.Conditions.Select(condition => condition.Label)],
            [.. shown.Days.Select((day, i) => DayOf(day, shown.Trial?.Days[i], shown))],
            KeepOf(look, job, changed))));
    }

    /// <summary>The numbers of the form, each with its fault; and those that are to be tried.</summary>
    private static (ImmutableArray<NumberSheet> Shown, Dictionary<string, Quantity> Changed) Tried(Explanation own, IQueryCollection asked, Speech speech)
    {
        var shown = ImmutableArray.CreateBuilder<NumberSheet>();
        var changed = new Dictionary<string, Quantity>();
        foreach (var number in own.Numbers)
        {
            string inForce = speech.Quantity(number.InForce), field = FieldStart + number.Name.Replace(' ', '-'), written = asked[field].ToString().Trim();
            string? wrong = null;
            if (written.Length is > 0 and < 40 && Plainly(written) != Plainly(inForce))
            {
                switch (JobNumbers.Read(own.Numbers, number.Name, written))
                {
                    case QuantityReading.Ok(var quantity):
                        changed[number.Name] = quantity;
                        break;
                    case QuantityReading.Fault(var problem, var instead):
                        wrong = instead is null ? $"{problem}." : $"{problem}; {instead}";
                        break;
                }
            }
            shown.Add(new(number.Name, field, written.Length is > 0 and < 40 ? written : Plainly(inForce), inForce, ExplanationWords.SourceOf(number.Source), wrong));
        }
        return (shown.ToImmutable(), changed);
    }

    private static string Plainly(string text) => text.Replace('\u00A0', ' ');

    private static string StandsOf(ExplainedCondition condition, Speech speech) => condition.Allows is null
        ? $"{char.ToUpperInvariant(condition.Sentence[0])}{condition.Sentence[1..]}."
        : $"{ExplanationWords.NowOf(condition, speech)}: {condition.Sentence}.";

    private static DaySheet DayOf(ExplainedDay day, ExplainedDay? own, Explanation explanation) => new(
        Tongue.English.Day(day.Date), day.Date == explanation.Today, WholeOf(day, explanation),
        own is not null && own.Whole != day.Whole ? WholeOf(own, explanation) : null,
        [.. day.Conditions.Select((condition, i) => MarkOf(condition, explanation.Conditions[i].Dimension, explanation.Speech))]);

    private static string WholeOf(ExplainedDay day, Explanation explanation) => (day.Whole, explanation.IsCalledFor) switch
    {
        (DayMark.NobodyThere, _) => "nobody there",
        (DayMark.Unknown, _) => "can’t be known",
        (DayMark.Missed, true) => "not called for",
        (DayMark.Missed, false) => "no time for it",
        (_, true) => "called for",
        _ => string.Join(", ", day.Windows.Select(window => explanation.Speech.Hours(window.From, window.Until))),
    };

    private static string MarkOf(ConditionDay day, Dimension? dimension, Speech speech)
    {
        string word = day.Mark switch { DayMark.Held => "held", DayMark.Missed => "missed", DayMark.Unknown => "unknown", _ => "" };
        return day.Margin is { } margin && dimension is { } of
            ? $"{word} by {ExplanationWords.Margin(Math.Abs(margin), of, speech)}{speech.UnitOf(ExplanationWords.OfMargin(of))}"
            : word;
    }

    private static string? KeepOf(GardenLook look, AskedJob job, Dictionary<string, Quantity> changed)
    {
        if (changed.Count == 0)
            return null;
        string numbers = string.Join(", ", changed.OrderBy(number => number.Key, StringComparer.Ordinal).Select(number => $"{number.Key}: {Plainly(look.Speech.Quantity(number.Value))}"));
        return look.Garden.Plan.Chores.Any(chore => chore.Id == job.SubjectId)
            ? $"tune: {{ {numbers} }}"
            : $"tune: {{ {job.Kind.Word()}: {{ {numbers} }} }}";
    }
}
