using System.Globalization;
using CsCheck;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Tests.Quantities;

public sealed class SpeechTests
{
    private static readonly Speech Us = new(UnitSystem.Us, DateTimeZone.Utc);
    private static readonly Speech Metric = new(UnitSystem.Metric, DateTimeZone.Utc);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static double C(double fahrenheit) => (fahrenheit - 32) / 1.8;

    [Theory]
    [InlineData(57, 62, "57 of 62\u00A0°F")]
    [InlineData(61.8, 62, "61.8 of 62\u00A0°F")]
    [InlineData(61.97, 62, "61.97 of 62\u00A0°F")]
    [InlineData(61.9999, 62, "61.99 of 62\u00A0°F")]
    [InlineData(62.0001, 62, "62.01 of 62\u00A0°F")]
    [InlineData(62, 62, "62 of 62\u00A0°F")]
    public void What_is_and_what_is_needed_print_alike_only_when_they_are(double value, double needed, string said) =>
        Assert.Equal(said, Us.Of(C(value), C(needed), Dimension.Temperature));

    [Fact]
    public void What_waits_never_reads_as_reached() =>
        Gen.Select(Gen.Double[-10, 40], Gen.Double[-10, 40]).Where((value, needed) => Math.Abs(value - needed) > 1e-5).Sample((value, needed) =>
        {
            foreach (var speech in new[] { Us, Metric })
            {
                string[] said = speech.Of(value, needed, Dimension.Temperature).Split(' ', '\u00A0');
                Assert.Equal(Math.Sign(value - needed), Math.Sign(Number(said[0]) - Number(said[2])));
            }
        }, iter: 3000);

    [Fact]
    public void Inches_of_rain_keep_their_hundredths() =>
        Assert.Equal("0.1 of 0.25\u00A0in", Us.Of(2.54, 6.35, Dimension.WaterDepth));

    [Theory]
    [InlineData(0, "0\u00A0mm", "0\u00A0in")]
    [InlineData(0.04, "a trace", "a trace")]
    [InlineData(6.4, "6\u00A0mm", "0.3\u00A0in")]
    public void Less_rain_than_can_be_measured_is_a_trace(double mm, string metric, string us)
    {
        Assert.Equal(metric, Metric.Water(mm));
        Assert.Equal(us, Us.Water(mm));
    }

    [Theory]
    [InlineData(0, "less than 1 in 10")]
    [InlineData(0.7, "7 in 10")]
    [InlineData(0.95, "9 in 10")]
    [InlineData(1, "more than 9 in 10")]
    public void A_chance_is_never_certainty(double share, string said) => Assert.Equal(said, Tongue.English.Chance(share));

    [Theory]
    [InlineData(1, Dimension.Days, "1\u00A0day")]
    [InlineData(2, Dimension.Days, "2\u00A0days")]
    [InlineData(1, Dimension.Volume, "1\u00A0litre")]
    [InlineData(0.5, Dimension.Volume, "0.5\u00A0litres")]
    [InlineData(380, Dimension.Warmth, "380\u00A0°C days")]
    public void A_quantity_keeps_what_was_typed(double value, Dimension dimension, string said) =>
        Assert.Equal(said, Metric.Quantity(new(value, dimension)));
}
