using System.Text;

namespace GardenWatch.Planning.Conditions;

/// <summary>The reference page of the condition language, written from the tables that the reader itself follows.</summary>
public static class ConditionReference
{
    public static string Markdown()
    {
        var page = new StringBuilder();
        page.AppendLine("""
            # Conditions

                <measure> [at <depth>] [<statistic>] <window> <comparison> <quantity> [with chance at least <percent>]

            A condition holds, does not hold, or can't be known; what can't be known never counts as met. Numbers can be
            named, so that a plan can tune them: `rain total next 24 hours at least {enough: 6 mm}`. Conditions go together
            as `all of (...; ...)`, `any of (...; ...)` and `none of (...; ...)`, and in turn: `dry next 2 hours, then rain
            total next 24 hours at least 6 mm` asks the second from the end of the first one's window. `dry` is rain of at
            most 0.2 mm, and `no thunder next 6 hours` is at most none of what is counted or falls. A chance asks for a share of the forecast runs; where there is one forecast only, that one decides
            and the sentence says so.

            ## Measures
            | measure | what it is | statistics | needs | example |
            |---|---|---|---|---|
            """);
        foreach (var row in ConditionLanguage.Measures)
            page.AppendLine($"| {row.Words[0]} | {row.Meaning}{(row.OfTheHour && row.Dimension is not (Quantities.Dimension.Days or Quantities.Dimension.Severity) ? "; of the hour that ends" : "")} | {Statistics(row)} | {row.Needs} | `{row.Example}` |");
        page.AppendLine("""

            Soil takes a depth: `soil at 10 cm`. Warmth takes a base and may take a ceiling and a method: `warmth base 10 °C
            ceiling 30 °C by single sine`. A sum agrees with its source only by the source's own method; the
            ceiling is the horizontal cut-off:

            | method | how a day's warmth is reckoned |
            |---|---|
            """);
        foreach (var row in ConditionLanguage.WarmthMethods)
            page.AppendLine($"| `by {row.Words}` | {row.Meaning}{(row.NeedsCeiling ? "; wants a ceiling" : "")} |");
        page.AppendLine("""

            ## Statistics
            | statistic | what it is |
            |---|---|
            """);
        foreach (var row in ConditionLanguage.Statistics.Where(row => !row.Words.IsEmpty))
            page.AppendLine($"| `{row.Words[0]}{(row.TakesLevel ? " <quantity>" : "")}` | {row.Meaning} |");
        page.AppendLine("""

            ## Windows
            Days are the place's own dates, of 23, 24 or 25 hours. An hour's rain belongs to the window in which the hour ends.

            | window | what it is |
            |---|---|
            """);
        foreach (var row in ConditionLanguage.Windows)
            page.AppendLine($"| `{row.Words.Replace("{n}", "N", StringComparison.Ordinal).Replace("{moment}", "<moment>", StringComparison.Ordinal)}` | {row.Meaning} |");
        page.AppendLine($"""

            Moments: {string.Join(", ", ConditionLanguage.Milestones.Select(row => row.Words[0]))}; or a date: 1 March, 1 March 2027, 2027-03-01.

            ## Comparisons
            | written | holds for |
            |---|---|
            """);
        foreach (var row in ConditionLanguage.Comparisons)
            page.AppendLine($"| {string.Join(", ", row.Words.Select(words => $"`{words}`"))} | {row.Meaning} |");
        page.AppendLine("""

            ## In a plan or a crop's file
            | list | what it is for |
            |---|---|
            | `when` | all of these must hold |
            | `unless` | any of these blocks the job |
            | `by` | any of these ends the season for it |
            | `wish` | never needed: of several windows the one is advised in which more of these hold |

            Each is one phrase or a list of them; in a list, `any: [...]`, `all: [...]` and `none: [...]` group them. A phrase with a named
            number needs quotes inside `[ ]`, and everywhere if an editor is to check the file by its schema.
            """);
        return page.ToString().ReplaceLineEndings("\n");
    }

    private static string Statistics(MeasureRow row)
    {
        var words = row.Statistics.Where(s => s != Statistic.Itself)
            .Select(s => ConditionLanguage.Row(s).Words[0] + (s == row.Usual && row.Statistics.Length > 1 ? " (unless said)" : ""));
        return string.Join(", ", words);
    }
}
