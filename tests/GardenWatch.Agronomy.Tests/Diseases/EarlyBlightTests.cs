using CsCheck;
using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

public class EarlyBlightTests
{
    private const string File = "early-blight.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void Early_blight_weather_agrees_with_worked_cases(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double In(string name) => row.Json("inputs_json", name);
        double? ours = row["model"] switch
        {
            "P-days temperature response" => EarlyBlight.Response(In("temp_C")),
            "P-days daily" => EarlyBlight.PhysiologicalDays(In("tmin_C"), In("tmax_C")),
            _ => EarlyBlight.Severity(In("wet_hours"), In("mean_temp_wet_hours_C")),
        };
        Assert.Equal(row.Number("expected"), Assert.NotNull(ours), 0.0006);
    }

    [Fact]
    public void Longer_wetness_is_never_less_severe() =>
        Gen.Select(Gen.Int[0, 23], Gen.Double[5, 32]).Sample((hours, air) =>
            Assert.True(EarlyBlight.Severity(hours + 1, air) >= EarlyBlight.Severity(hours, air)));

    [Fact]
    public void What_is_not_known_stays_unknown()
    {
        Assert.Null(EarlyBlight.Severity(double.NaN, 20));
        Assert.Null(EarlyBlight.Severity(8, double.NaN));
        Assert.Equal(0, EarlyBlight.Severity(0, double.NaN)); // no wet hours have no mean
        Assert.Equal(double.NaN, EarlyBlight.PhysiologicalDays(double.NaN, 20));
        Assert.Equal(double.NaN, EarlyBlight.Response(double.NaN));
        Assert.Null(EarlyBlight.SeverityAsPrinted(8, double.NaN));
    }

    [Fact]
    public void What_cant_be_is_an_error_that_names_value_and_range()
    {
        Assert.Throws<ArgumentException>(() => EarlyBlight.PhysiologicalDays(20, 10));
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => EarlyBlight.Severity(30, 20));
        Assert.Contains("from 0 to 25 hours", error.Message, StringComparison.Ordinal);
        Assert.Equal(30.0, error.ActualValue);
    }

    [Fact]
    public void The_printed_table_and_the_continuous_bands_differ_by_one_at_two_corners_only()
    {
        // On whole degrees inside the printed bands; 13 to 18, 18 to 21 and 21 to 26 °C meet at their ends.
        int[] inside = [13, 14, 15, 16, 17, 19, 20, 22, 23, 24, 25, 27, 28, 29];
        var differing = from air in inside
                        from hours in Enumerable.Range(0, 25)
                        where EarlyBlight.Severity(hours, air) != EarlyBlight.SeverityAsPrinted(hours, air)
                        select (air, hours, EarlyBlight.SeverityAsPrinted(hours, air) - EarlyBlight.Severity(hours, air));
        Assert.Equal([(13, 7, 1), (14, 7, 1), (15, 7, 1), (16, 7, 1), (17, 7, 1), (19, 4, 1), (20, 4, 1)], differing);
    }
}
