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
        Assert.Equal((int)row.Number("expected"), EarlyBlight.Severity(In("wet_hours"), In("mean_temp_wet_hours_C")));
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
    }

    [Fact]
    public void What_cant_be_is_an_error_that_names_value_and_range()
    {
        var error = Assert.Throws<ArgumentOutOfRangeException>(() => EarlyBlight.Severity(30, 20));
        Assert.Contains("from 0 to 25 hours", error.Message, StringComparison.Ordinal);
        Assert.Equal(30.0, error.ActualValue);
    }
}
