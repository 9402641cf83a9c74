using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

/// <summary>The published severity table, each cell of it asked at every hour and tenth of a degree it covers.</summary>
public class SeverityTableTests
{
    private const string File = "severity-tables.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void Every_hour_and_temperature_of_a_cell_has_its_value(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        double from = row.Number("from_c"), until = row.Number("to_c");
        for (double air = from; air <= until + 1e-9; air += 0.1)
        {
            for (double hours = row.Number("from_hours"); hours <= row.Number("to_hours"); hours++)
            {
                Assert.Equal((int)row.Number("expected"), LateBlight.WallinSeverity(hours, Math.Min(air, until)));
            }
        }
    }
}
