using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;

namespace GardenWatch.Planning.Tests.Crops;

/// <summary>Each row of the trade's table of jobs has a job or a look that serves it, or a reason why it has none.</summary>
public sealed class JobCatalogueTests(ITestOutputHelper output)
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);

    /// <summary>What raises jobs that belong to no crop's file is named as the code has it.</summary>
    private static readonly HashSet<string> InCode = [.. typeof(Agenda).Assembly.GetTypes().Select(type => type.Name)];

    private static List<string[]> Rows { get; } =
        [.. CsvRecords.Read(string.Join('\n', File.ReadLines(Path.Combine(AppContext.BaseDirectory, "Published", "jobs.csv")).Skip(2)), fields: 6).Select(record => record.Fields!)];

    [Fact]
    public void Every_row_of_the_table_is_served_or_left_out_for_a_reason()
    {
        Assert.Equal(221, Rows.Select(row => row[0]).Distinct().Count());
        foreach (string[] row in Rows)
        {
            var (id, served, reason) = (row[0], row[4], row[5]);
            Assert.True(served.Length > 0 ^ reason.Length > 0, $"{id}: either served or left out");
            Assert.True(row[3].Length > 0, $"{id} names no source");
            foreach (string by in served.Split("; ", StringSplitOptions.RemoveEmptyEntries))
                Assert.True(Exists(by), $"{id} is to be served by `{by}`, which is not there");
            if (reason.Length > 0)
                output.WriteLine($"{id,-26} {reason}");
        }
    }

    [Fact]
    public void The_committed_rows_are_those_of_the_gathered_table()
    {
        string? data = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        string table = Path.Combine(data ?? "", "reference", "jobs.csv");
        Assert.SkipUnless(File.Exists(table), "The gathered table is not at hand.");
        var ids = File.ReadLines(table).Skip(1).Where(line => line.Length > 0 && line[0] != '#').Select(line => line.Split(',')[0]);
        Assert.Equal(ids, Rows.Select(row => row[0]));
    }

    private static bool Exists(string by)
    {
        string rest = by[(by.IndexOf(' ', StringComparison.Ordinal) + 1)..];
        return by.Split(' ')[0] switch
        {
            "profile" => rest.Split(": ") is [var crop, var kind] && Shelf.Find(crop)?.Jobs.Any(job => job.Kind.Word() == kind) == true,
            "look" => Shelf.Crops.Any(crop => crop.Pests.Concat(crop.Diseases).Any(threat => threat.Name == rest && (threat.Weather is not null || threat.Appears is not null))),
            "chore" => JobKindWords.Of(rest) is not null,
            "code" => InCode.Contains(rest),
            _ => false,
        };
    }
}
