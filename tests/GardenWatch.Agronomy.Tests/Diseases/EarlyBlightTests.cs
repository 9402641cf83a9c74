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
        Assert.Equal(double.NaN, EarlyBlight.PhysiologicalDays(20, 10));
        Assert.Equal(double.NaN, EarlyBlight.Response(double.NaN));
    }
}
