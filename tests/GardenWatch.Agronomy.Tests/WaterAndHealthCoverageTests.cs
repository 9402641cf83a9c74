using GardenWatch.Agronomy.Tests.Diseases;
using GardenWatch.Agronomy.Tests.RainTiming;
using GardenWatch.Agronomy.Tests.Water;

namespace GardenWatch.Agronomy.Tests;

/// <summary>That no row of a published table on water, rain or diseases is left without a test.</summary>
public class WaterAndHealthCoverageTests
{
    // Rules and tables of disease-rules.csv that DiseaseRuleTests and LeafWetnessTests ask by id, or name beside a case.
    private static readonly string[] Rules =
    [
        "D001", "D076", "D077", "D078", "D079", "D116", "D119", "D120", "D121", "D122", "D123",
        "D124", "D125", "D127", "D128", "D129", "D132", "D133", "D151",
    ];

    [Fact]
    public void Every_published_row_is_tested_or_named_with_the_reason()
    {
        Covered("fao56-water-balance.csv", "case_id", Ids(WaterBalanceTests.Published));
        Covered("effective-rain.csv", "case_id", Ids(RainTests.Published));
        Covered("rain-rules-printed.csv", "id", Ids(RainRuleTests.Printed));
        Covered("early-blight.csv", "case_id", Ids(EarlyBlightTests.Published));
        Covered("late-blight.csv", "case_id",
            [.. Ids(LateBlightTests.Periods), .. Ids(LateBlightTests.Severities)]);
        Covered("severity-tables.csv", "id", Ids(SeverityTableTests.Published));
        Covered("disease-rules.csv", "id", Rules,
            "D152"); // how well a tuned limit does, no computation: told in LeafWetness
    }

    private static void Covered(string file, string idColumn, string[] tested, params string[] apart)
    {
        string[] all = [.. PublishedTable.Rows(file).Select(row => row[idColumn]).Order()];
        Assert.Equal<IEnumerable<string>>(all, tested.Concat(apart).Order());
        TestContext.Current.TestOutputHelper?.WriteLine($"{file}: {tested.Length} of {all.Length} rows reproduced, {apart.Length} apart");
    }

    private static string[] Ids(TheoryData<string> rows) => [.. rows.Select(row => row.Data)];
}
