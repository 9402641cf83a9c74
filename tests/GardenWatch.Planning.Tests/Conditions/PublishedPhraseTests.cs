using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class PublishedPhraseTests
{
    private static readonly Speech Us = new(UnitSystem.Us, DateTimeZone.Utc);

    public static IEnumerable<(string Row, string Column, string Phrase)> Rows =>
        File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "job_phrases.csv")).Skip(2)
            .Select(line => line.Split(','))
            .Select(cells => (cells[0], cells[1], cells[2]));

    [Fact]
    public void Every_phrase_of_the_table_of_jobs_is_understood_and_printed_back_the_same()
    {
        var wrong = new List<string>();
        int read = 0;
        foreach (var (row, column, phrase) in Rows)
        {
            if (ConditionText.Read(phrase) is not ConditionReading.Ok(var condition))
            {
                wrong.Add($"{row} {column}: {phrase}: {ConditionText.Read(phrase)}");
                continue;
            }
            read++;
            foreach (string printed in (string[])[ConditionText.Print(condition), ConditionText.Print(condition, Us)])
            {
                if (ConditionText.Read(printed) is not ConditionReading.Ok(var again) || again != condition)
                    wrong.Add($"{row} {column}: {phrase} was printed as {printed}");
            }
        }
        Assert.Empty(wrong);
        Assert.Equal(597, read);
    }

    [Fact]
    public void Every_example_of_the_definition_is_itself_a_phrase_of_its_measure() =>
        Assert.All(ConditionLanguage.Measures, row =>
        {
            var read = Assert.IsType<ConditionReading.Ok>(ConditionText.Read(row.Example));
            Assert.Equal(row.Measure, Assert.IsType<Condition.Phrase>(read.Condition).Of.Measure);
        });

    [Fact]
    public void The_definition_tables_stand_in_the_order_of_what_they_define()
    {
        Assert.Equal(Enum.GetValues<Measure>(), ConditionLanguage.Measures.Select(row => row.Measure));
        Assert.Equal(Enum.GetValues<Statistic>(), ConditionLanguage.Statistics.Select(row => row.Statistic));
        Assert.Equal(Enum.GetValues<WindowKind>(), ConditionLanguage.Windows.Select(row => row.Kind));
        Assert.Equal(Enum.GetValues<Comparison>(), ConditionLanguage.Comparisons.Select(row => row.Comparison));
        Assert.Equal(Enum.GetValues<WarmthMethod>(), ConditionLanguage.WarmthMethods.Select(row => row.Method));
        Assert.Equal(Enum.GetValues<Milestone>(), ConditionLanguage.Milestones.Select(row => row.Milestone));
    }
}
