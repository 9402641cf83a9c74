using System.Globalization;
using static GardenWatch.Agronomy.Light.SolarRadiation;

namespace GardenWatch.Agronomy.Tests.Light;

public class DaylightHoursTests
{
    private const string File = "daylight.csv";

    public static TheoryData<string> Published =>
        PublishedTable.Ids(File, "id", row =>
            row["quantity"] is "daylength" or "sunset_hour_angle" && row["definition"].StartsWith("geometric", StringComparison.Ordinal));

    [Theory]
    [MemberData(nameof(Published))]
    public void Daylight_of_FAO_56_agrees_with_published_cases(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        int day = int.Parse(row["date"].Split(' ')[1], CultureInfo.InvariantCulture);
        double ours = row["quantity"] == "daylength" ? DaylightHours(row.Number("latitude"), day) : SunsetHourAngle(row.Number("latitude"), day);
        Assert.Equal(row.Number("expected"), ours, row.Number("tolerance"));
    }

    [Theory]
    [InlineData("DLM-46N-Jan", 46, 1, 31)]
    [InlineData("DLM-46N-Jun", 46, 152, 181)]
    [InlineData("DLM-46N-Sep", 46, 244, 273)]
    [InlineData("DLM-46N-Dec", 46, 335, 365)]
    [InlineData("DLM-20N-Jan", 20, 1, 31)]
    [InlineData("DLM-20N-Jun", 20, 152, 181)]
    public void A_months_daylight_has_the_printed_mean(string id, double latitude, int from, int until) =>
        Assert.Equal(
            PublishedTable.Case(File, "id", id).Number("expected"),
            Enumerable.Range(from, until - from + 1).Average(day => DaylightHours(latitude, day)), 0.05);
}
