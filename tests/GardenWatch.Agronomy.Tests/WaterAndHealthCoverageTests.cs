using GardenWatch.Agronomy.Tests.Diseases;
using GardenWatch.Agronomy.Tests.Pests;
using GardenWatch.Agronomy.Tests.RainTiming;
using GardenWatch.Agronomy.Tests.Water;

namespace GardenWatch.Agronomy.Tests;

/// <summary>That no row of a published table on water, rain, diseases or pests is left without a test.</summary>
public class WaterAndHealthCoverageTests
{
    // Rules and tables of disease-rules.csv that DiseaseRuleTests and LeafWetnessTests ask by id, or name beside a case.
    private static readonly string[] Rules =
    [
        "D001", "D008", "D041", "D042", "D047", "D048", "D049", "D050", "D051", "D052", "D053", "D054", "D055", "D056",
        "D076", "D077", "D078", "D079", "D099", "D100", "D101", "D113", "D114", "D115", "D116", "D119", "D120", "D121", "D122", "D123",
        "D124", "D125", "D126", "D127", "D128", "D129", "D132", "D133", "D134", "D135", "D143", "D151", "D153", "D154", "D155",
        "D156", "D157", "D160",
    ];

    [Fact]
    public void Every_published_row_is_tested_or_named_with_the_reason()
    {
        Covered("fao56-water-balance.csv", "case_id", Ids(WaterBalanceTests.Published));
        Covered("fao56-figure18.csv", "case_id", Ids(EvapotranspirationGapsTests.Published));
        Covered("effective-rain.csv", "case_id", Ids(RainTests.Published));
        Covered("rain-rules-printed.csv", "id", Ids(RainRuleTests.Printed));
        Covered("early-blight.csv", "case_id", Ids(EarlyBlightTests.Published));
        Covered("late-blight.csv", "case_id",
            [.. Ids(LateBlightTests.Periods), .. Ids(LateBlightTests.Severities), .. Ids(LateBlightTests.Favourable), .. Ids(LateBlightTests.Wetness)]);
        Covered("severity-tables.csv", "id", Ids(SeverityTableTests.Published));
        Covered("disease-rules.csv", "id", Rules,
            "D136", "D138", "D140", "D142", // four cells of a leaf spot table that was not at hand: they do not say the others
            "D152"); // how well a tuned limit does, no computation: told in LeafWetness
        Covered("pest-degree-days.csv", "row_id", Ids(PestTests.Published),
            "P004", "P073", // limits without a total
            "P074", "P075", "P076", "P077", // no published total; a sign starts the looking (PestSigns)
            "P078"); // arithmetic of a day, by name in PestTests
    }

    private static void Covered(string file, string idColumn, string[] tested, params string[] apart)
    {
        string[] all = [.. PublishedTable.Rows(file).Select(row => row[idColumn]).Order()];
        Assert.Equal<IEnumerable<string>>(all, tested.Concat(apart).Order());
        TestContext.Current.TestOutputHelper?.WriteLine($"{file}: {tested.Length} of {all.Length} rows reproduced, {apart.Length} apart");
    }

    private static string[] Ids(TheoryData<string> rows) => [.. rows.Select(row => row.Data)];
}
