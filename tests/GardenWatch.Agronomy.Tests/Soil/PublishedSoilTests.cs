using CsCheck;

namespace GardenWatch.Agronomy.Tests.Soil;

public class PublishedSoilTests
{
    private const string File = "soil-temperature.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void Waves_of_warmth_agree_with_published_cases(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        double In(string name) => row.Input("inputs", name);
        double ours = row["topic"] switch
        {
            "damping_depth_annual" or "damping_depth_diurnal" => HeatWave.DampingDepth(In("diffusivity_m2_d"), In("period_d")),
            "soil_temp_damped_wave" => HeatWave.At(
                In("z_m"), In("day") - In("t0_day_of_min"), In("ta_c"), In("a0_c"), In("diffusivity_m2_d"), 365),
            // The surface crosses its mean a quarter of a day after its low.
            "soil_temp_diurnal_wave" => HeatWave.At(
                In("z_m"), (In("hour") - In("hour_of_mean_crossing")) / 24 + 0.25, In("tmean_c"), In("a0_c"), In("diffusivity_m2_d"), 1),
            var other => throw new ArgumentException($"No function for {other}."),
        };
        Assert.Equal(row.Number("expected"), ours, row.Number("tolerance"));
    }

    [Theory]
    [InlineData(0.1, 3.67)] // the note of DIUR-z0.1-h15
    [InlineData(0.2, 7.34)] // the note of DIUR-z0.2-h15
    public void The_peak_comes_late_by_the_published_hours(double depth, double hours) =>
        Assert.Equal(hours, 24 * HeatWave.LagDays(depth, 0.034, 1), 0.01);

    [Fact]
    public void Deeper_soil_never_swings_more() =>
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 365], Gen.Double[0.009, 0.064]).Sample((depth, day, diffusivity) =>
            Assert.InRange(
                Math.Abs(HeatWave.At(depth, day, 10, 10, diffusivity, 365) - 10),
                0, 10 * Math.Exp(-depth / HeatWave.DampingDepth(diffusivity, 365)) + 1e-9));
}
