using CsCheck;
using GardenWatch.Agronomy.Humidity;

namespace GardenWatch.Agronomy.Tests.Humidity;

public class HumidityTests
{
    private const string File = "humidity.csv";

    // DEW-19 shows what not to do: a frost point above freezing.
    public static TheoryData<string> Published => PublishedTable.Ids(File, "id", row => row["tolerance"].Length > 0);

    [Theory]
    [MemberData(nameof(Published))]
    public void Humidity_agrees_with_published_cases(string id)
    {
        var row = PublishedTable.Case(File, "id", id);
        double In(string name) => row.Input("inputs", name);
        double ours = row["topic"] switch
        {
            "dew_point" => DewPoint.Of(In("t_c"), In("rh_pct")),
            "frost_point_over_ice" => DewPoint.FrostPointOf(In("t_c"), In("rh_pct")),
            "saturation_vapour_pressure" => VapourPressure.Saturation(In("t_c")),
            "vapour_pressure_from_wet_bulb" => VapourPressure.FromWetBulb(In("t_dry_c"), In("t_wet_c"), In("pressure_kpa")),
            "vapour_pressure_from_dew_point" => VapourPressure.Saturation(In("td_c")),
            "atmospheric_pressure" => VapourPressure.OfAirAtElevation(In("elevation_m")),
            var other => throw new ArgumentException($"No function for {other}."),
        };
        Assert.Equal(row.Number("expected"), ours, row.Number("tolerance"));
    }

    [Theory]
    [InlineData(24.5, 3.075)] // FAO-56 p. 36, example 3, Tmax
    [InlineData(15.0, 1.705)] // FAO-56 p. 36, example 3, Tmin
    [InlineData(19.5, 2.267)] // FAO-56 p. 38, example 4, wet bulb
    public void Saturation_agrees_with_published_cases(double celsius, double kilopascals) =>
        Assert.Equal(kilopascals, VapourPressure.Saturation(celsius), 0.0006);

    [Theory]
    [InlineData(0, 0.61115)] // Buck 1981: 6.1115 hPa over ice at 0 °C
    [InlineData(-10, 0.2599)] // Goff-Gratch over ice, Smithsonian tables: 2.597 hPa at -10 °C
    [InlineData(-20, 0.1032)] // the same: 1.032 hPa at -20 °C
    public void Over_ice_saturation_is_lower(double celsius, double kilopascals)
    {
        Assert.Equal(kilopascals, VapourPressure.SaturationOverIce(celsius), 0.0006);
        Assert.True(VapourPressure.SaturationOverIce(celsius) <= VapourPressure.Saturation(celsius) + 0.0005);
    }

    [Fact]
    public void Dew_point_lies_at_or_below_the_air_and_rises_with_humidity() =>
        Gen.Select(Gen.Double[-30, 45], Gen.Double[1, 99]).Sample((air, humidity) =>
        {
            double dewPoint = DewPoint.Of(air, humidity);
            Assert.True(dewPoint <= air);
            Assert.True(DewPoint.Of(air, humidity + 1) > dewPoint);
            Assert.Equal(humidity, DewPoint.HumidityFrom(air, dewPoint), 1e-6);
        });

    [Fact]
    public void Frost_point_lies_between_dew_point_and_freezing() =>
        Gen.Select(Gen.Double[-30, 20], Gen.Double[5, 99]).Sample((air, humidity) =>
        {
            double dewPoint = DewPoint.Of(air, humidity);
            double frostPoint = DewPoint.FrostPointOf(air, humidity);
            if (dewPoint >= 0)
                Assert.Equal(dewPoint, frostPoint);
            else
                Assert.InRange(frostPoint, dewPoint - 0.05, 0.05); // the two curves meet within 0.05 K at 0 °C
        });

    [Theory]
    [InlineData(double.NaN, 50)]
    [InlineData(10, double.NaN)]
    public void What_is_not_known_stays_unknown(double air, double humidity)
    {
        Assert.Equal(double.NaN, DewPoint.Of(air, humidity));
        Assert.Equal(double.NaN, DewPoint.FrostPointOf(air, humidity));
    }

    [Theory]
    [InlineData(140)]
    [InlineData(-1)]
    public void A_humidity_that_cannot_be_is_an_error_that_names_it_and_its_range(double humidity)
    {
        Func<double>[] all =
        [
            () => DewPoint.Of(20, humidity), () => DewPoint.FrostPointOf(-2, humidity), () => VapourPressure.Actual(20, humidity),
            () => VapourPressure.Deficit(20, humidity), () => HeatIndex.Of(30, humidity),
        ];
        foreach (var one in all)
        {
            var error = Assert.Throws<ArgumentOutOfRangeException>(() => one());
            Assert.Contains("Relative humidity is from 0 to 100 %", error.Message, StringComparison.Ordinal);
            Assert.Contains($"{humidity}", error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Air_that_cannot_be_is_an_error()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => DewPoint.Of(-273, 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => HeatIndex.Of(double.PositiveInfinity, 50));
    }

    [Fact]
    public void Air_without_moisture_has_no_dew_point()
    {
        Assert.Equal(double.NaN, DewPoint.Of(10, 0));
        Assert.Equal(double.NaN, DewPoint.FrostPointOf(10, 0));
    }

    [Fact]
    public void Vapour_and_deficit_make_up_saturation()
    {
        // FAO-56 p. 39, example 5: at 25 °C and 54 % the air holds 1.71 kPa.
        Assert.Equal(1.71, VapourPressure.Actual(25, 54), 0.005);
        Assert.Equal(0, VapourPressure.Deficit(25, 100), 1e-12);
        Gen.Select(Gen.Double[-30, 45], Gen.Double[0, 100]).Sample((air, humidity) =>
            Assert.Equal(
                VapourPressure.Saturation(air), VapourPressure.Actual(air, humidity) + VapourPressure.Deficit(air, humidity), 1e-12));
    }

    [Theory]
    [InlineData(25, 54, 14.99)] // eighth-power rule, row DEW-02 of the same tables
    [InlineData(20, 80, 16)] // one degree for each 5 %, Lawrence 2005, row DEW-17
    public void Rules_of_thumb_for_the_dew_point_agree_within_half_a_degree(double air, double humidity, double published) =>
        Assert.Equal(published, DewPoint.Of(air, humidity), 0.5);

    [Fact]
    public void The_slope_is_that_of_the_curve() =>
        Gen.Double[-20, 45].Sample(air =>
            Assert.Equal(
                MathNet.Numerics.Differentiate.FirstDerivative(VapourPressure.Saturation, air), VapourPressure.SaturationSlope(air), 1e-4));
}
