using System.Globalization;
using System.Text;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime.Text;

namespace GardenWatch.Planning.Explanations;

/// <summary>An explanation as plain text, at most 100 columns wide. Every mark is also said in words.</summary>
public static class ExplanationText
{
    public const int Width = 100;
    private const int LabelWidth = 14;
    private const int DateWidth = 12;
    private const int HoursWidth = 31;
    private const int CellWidth = 13;
    private static readonly LocalDatePattern ShortDay = LocalDatePattern.CreateWithInvariantCulture("ddd d MMM");

    public static string Write(Explanation explanation)
    {
        var text = new StringBuilder();
        Paragraph(text, 0, $"{explanation.Job.FullName}, {explanation.GardenName}");
        Paragraph(text, 0, $"{explanation.Open?.Id ?? explanation.Job.Id}, as of {Tongue.English.Day(explanation.Today)} {explanation.Today.Year.ToString(CultureInfo.InvariantCulture)}, {explanation.Speech.Hour(explanation.AsOf)}. {AgeOf(explanation.Weather)}");
        text.Append('\n');
        Paragraph(text, 0, string.Join(' ', ExplanationWords.Summary(explanation)));
        if (explanation.Grounds.IsEmpty)
        {
            Conditions(text, explanation);
            Numbers(text, explanation);
            Head(text, "FROM WHAT CHANCE ON");
            Paragraph(text, 2, ExplanationWords.RuleOf(explanation));
        }
        else
        {
            Head(text, "WHAT IT GOES BY");
            foreach (string ground in explanation.Grounds)
                Paragraph(text, 4, ground, "  - ");
        }
        if (!explanation.Days.IsEmpty)
        {
            Picture(text, explanation);
            Table(text, explanation);
        }
        return text.ToString();
    }

    private static string AgeOf(WeatherNews news) => news switch
    {
        { State: WeatherState.Missing } => "No weather is known yet.",
        { Age: { } age } when age.TotalHours < 0.5 => "The forecast is less than an hour old.",
        { Age: { } age } => $"The forecast is {Tongue.English.Counted(Math.Round(age.TotalHours), "hour")} old.",
        _ => "",
    };

    private static void Conditions(StringBuilder text, Explanation explanation)
    {
        Head(text, "CONDITIONS");
        if (explanation.Conditions.IsEmpty)
            Paragraph(text, 2, "It asks nothing of the weather.");
        if (!explanation.Conditions.IsEmpty && explanation.JudgedAt != explanation.AsOf)
            Paragraph(text, 2, $"Judged at {explanation.Speech.Hour(explanation.JudgedAt)}, {(explanation.IsOfTheNight ? "when the night begins" : "when the night is over")}.");
        foreach (var (number, condition) in explanation.Conditions.Index())
        {
            string label = string.Create(CultureInfo.InvariantCulture, $"  {number + 1} ");
            Paragraph(text, 4, $"{ExplanationWords.RoleOf(condition)}: {condition.Phrase}", label);
            string change = condition.NextChange is { } next
                ? $" Changes about {Tongue.English.DayFrom(explanation.Today, next.InZone(explanation.Speech.Zone).Date)}, {explanation.Speech.Hour(next)}."
                : "";
            string now = condition.Allows is null
                ? char.ToUpperInvariant(condition.Sentence[0]) + condition.Sentence[1..]
                : $"{ExplanationWords.NowOf(condition, explanation.Speech)}: {condition.Sentence}";
            Paragraph(text, 4, $"{now}.{change}");
        }
    }

    private static void Numbers(StringBuilder text, Explanation explanation)
    {
        Head(text, "NUMBERS");
        int names = Math.Max(6, explanation.Numbers.Max(number => number.Name.Length) + 2);
        const int valueWidth = 12;
        int indent = 2 + names + 2 * valueWidth;
        text.Append("  ").Append("name".PadRight(names)).Append("in force".PadRight(valueWidth)).Append("unchanged".PadRight(valueWidth)).Append("from\n");
        foreach (var number in explanation.Numbers)
        {
            var speech = explanation.Speech;
            string unchanged = number.Layers.Length == 1 ? "the same" : speech.Quantity(number.Unchanged);
            Paragraph(text, indent, ExplanationWords.SourceOf(number.Source),
                $"  {number.Name.PadRight(names)}{speech.Quantity(number.InForce).PadRight(valueWidth)}{unchanged.PadRight(valueWidth)}");
            // What lies under it, nearest first.
            foreach (var layer in number.Layers.SkipLast(1).Reverse())
                Paragraph(text, indent, $"over {speech.Quantity(layer.Value)}, {ExplanationWords.SourceOf(layer.Source)}");
        }
        var resting = explanation.Numbers.Where(number => number.Name != DecisionRule.NumberName)
            .SelectMany(number => number.Layers.Where(layer => layer.Source.Published is not null).Select(layer => (number.Name, layer.Source.Published)))
            .GroupBy(each => each.Published, each => each.Name);
        foreach (var group in resting)
            Paragraph(text, 2, $"{string.Join(", ", group)} {(group.Count() == 1 ? "rests" : "rest")} on: {group.Key}");
    }

    /// <summary>One line a condition, one mark a day.</summary>
    private static void Picture(StringBuilder text, Explanation explanation)
    {
        Head(text, "PICTURE");
        Paragraph(text, 2, "# held, . missed, ? can't be known, - nobody there; a bar stands before today");
        Line("day", day => day.Date.Day.ToString("00", CultureInfo.InvariantCulture));
        foreach (var (i, condition) in explanation.Conditions.Index())
            Line(string.Create(CultureInfo.InvariantCulture, $"{i + 1} {condition.Label}"), day => MarkOf(day.Conditions[i].Mark));
        Line(explanation.IsCalledFor ? "called for" : "time for it", day => MarkOf(day.Whole));
        if (explanation.Trial is { } trial)
        {
            var without = trial.Days.ToDictionary(day => day.Date, day => MarkOf(day.Whole));
            Line("without trial", day => without[day.Date]);
        }

        void Line(string label, Func<ExplainedDay, string> mark)
        {
            var line = new StringBuilder(label.PadRight(LabelWidth));
            foreach (var day in explanation.Days)
                line.Append(day.Date == explanation.Today ? '|' : ' ').Append(mark(day).PadLeft(2));
            text.Append(line).Append('\n');
        }
    }

    private static string MarkOf(DayMark mark) => mark switch
    {
        DayMark.Held => "#",
        DayMark.Missed => ".",
        DayMark.Unknown => "?",
        _ => "-",
    };

    private static void Table(StringBuilder text, Explanation explanation)
    {
        Head(text, "DAY BY DAY");
        Paragraph(text, 2, explanation.IsOfTheNight
            ? "Each date is the night that begins on it. Plus: how much more than asked for. Past nights are judged by the weather as it came."
            : explanation.IsOfTheDay
            ? "At the hour that calls for it most. Plus: how much more than asked for. Past days are judged by the weather as it came."
            : "At the best of your hours: plus by how much it allowed the job, minus by how much not. Past days are judged by the weather as it came.");
        // The first block has room for the hours; what it can't hold follows in blocks of their own.
        int first = explanation.IsCalledFor ? 6 : 4;
        Block(text, explanation, 0, Math.Min(first, explanation.Conditions.Length), withHours: true);
        const int perBlock = (Width - DateWidth) / CellWidth;
        for (int from = first; from < explanation.Conditions.Length; from += perBlock)
        {
            text.Append('\n');
            Block(text, explanation, from, Math.Min(from + perBlock, explanation.Conditions.Length), withHours: false);
        }
    }

    private static void Block(StringBuilder text, Explanation explanation, int from, int to, bool withHours)
    {
        int hoursWidth = explanation.IsCalledFor ? CellWidth + 3 : HoursWidth;
        var head = new StringBuilder("date".PadRight(DateWidth));
        if (withHours)
            head.Append((explanation.IsCalledFor ? "called for" : "time for it").PadRight(hoursWidth));
        for (int i = from; i < to; i++)
        {
            var condition = explanation.Conditions[i];
            string unit = condition.Dimension is { } dimension and not Dimension.Days ? explanation.Speech.UnitOf(ExplanationWords.OfMargin(dimension)) : "";
            head.Append(string.Create(CultureInfo.InvariantCulture, $"{i + 1} {condition.Label}{unit}").PadRight(CellWidth));
        }
        text.Append(head.ToString().TrimEnd()).Append('\n');
        foreach (var day in explanation.Days)
        {
            var row = new StringBuilder(ShortDay.Format(day.Date).PadRight(DateWidth));
            if (withHours)
                row.Append(HoursOf(day, explanation).PadRight(hoursWidth));
            for (int i = from; i < to; i++)
                row.Append(CellOf(day.Conditions[i], explanation.Conditions[i].Dimension, explanation.Speech).PadRight(CellWidth));
            text.Append(row.ToString().TrimEnd()).Append(day.Date == explanation.Today ? " < today\n" : "\n");
        }
    }

    private static string HoursOf(ExplainedDay day, Explanation explanation)
    {
        switch (day.Whole)
        {
            case DayMark.NobodyThere:
                return "nobody there";
            case DayMark.Unknown:
                return "can't be known";
            case DayMark.Missed:
                return explanation.IsCalledFor ? "no" : "none";
        }
        if (explanation.IsCalledFor)
            return "yes";
        string all = string.Join(", ", day.Windows.Select(window => explanation.Speech.Hours(window.From, window.Until)));
        return all.Length < HoursWidth ? all : $"{explanation.Speech.Hours(day.Windows[0].From, day.Windows[0].Until)} and later";
    }

    private static string CellOf(ConditionDay day, Dimension? dimension, Speech speech)
    {
        string word = day.Mark switch
        {
            DayMark.Held => "held",
            DayMark.Missed => "missed",
            DayMark.Unknown => "unknown",
            _ => "",
        };
        if (day.Margin is not { } margin || dimension is not { } of)
            return word;
        string number = ExplanationWords.Margin(margin, of, speech);
        return $"{word} {(margin >= 0 ? "+" : "")}{number}";
    }

    private static void Head(StringBuilder text, string head) => text.Append('\n').Append(head).Append('\n');

    /// <summary>Broken at spaces; a label may stand in the first line's indent.</summary>
    private static void Paragraph(StringBuilder text, int indent, string words, string label = "")
    {
        var line = new StringBuilder(label.PadRight(indent));
        bool empty = true;
        foreach (string word in words.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            if (!empty && line.Length + 1 + word.Length > Width)
            {
                text.Append(line).Append('\n');
                line.Clear().Append(' ', indent);
                empty = true;
            }
            line.Append(empty ? "" : " ").Append(word);
            empty = false;
        }
        text.Append(line).Append('\n');
    }
}
