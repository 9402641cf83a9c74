using GardenWatch.Agronomy.Tests.Humidity;
using GardenWatch.Agronomy.Tests.Light;
using GardenWatch.Agronomy.Tests.Warmth;

namespace GardenWatch.Agronomy.Tests;

/// <summary>That no row of a published table on warmth, light or air is left without a test.</summary>
public class CoverageTests
{
    [Fact]
    public void Every_published_row_is_tested_or_named_with_the_reason()
    {
        Covered("degree-days.csv", "id", Ids(DegreeDaysTests.Published),
            "ZAL83-double_triangle-09-AS-PRINTED"); // misprint: the integral gives the row CORRECTED
        Covered("heat-index.csv", "case_id", [.. Ids(HeatIndexTests.Published), .. Ids(HeatIndexTests.WithoutAdjustment)]);
        Covered("daylight.csv", "id", [.. Ids(SunTests.Published), .. Ids(DaylightHoursTests.Published)],
            "SUN-GOLDEN-SPA-2015-08-02-set", "DL-GOLDEN-SPA-2015-08-02", // of the UTC date; tested apart in SunTests
            "DLM-LA-Jan", "DLM-LA-Mar", "DLM-LA-Jun", "DLM-LA-Dec", // means of months, by name in SunTests
            "DLM-46N-Jan", "DLM-46N-Jun", "DLM-46N-Sep", "DLM-46N-Dec", "DLM-20N-Jan", "DLM-20N-Jun"); // and in DaylightHoursTests
        Covered("fao56-terms.csv", "case_id", Ids(Fao56TermsTests.Published), "F098", "F265"); // by name in Fao56TermsTests
        Covered("humidity.csv", "id", Ids(HumidityTests.Published),
            "DEW-19"); // what not to do: a frost point above freezing
    }

    private static void Covered(string file, string idColumn, string[] tested, params string[] apart)
    {
        string[] all = [.. PublishedTable.Rows(file).Select(row => row[idColumn]).Order()];
        Assert.Equal<IEnumerable<string>>(all, tested.Concat(apart).Order());
        TestContext.Current.TestOutputHelper?.WriteLine($"{file}: {tested.Length} of {all.Length} rows reproduced, {apart.Length} apart");
    }

    private static string[] Ids(TheoryData<string> rows) => [.. rows.Select(row => row.Data)];
}
