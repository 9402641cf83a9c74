using CsCheck;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Quantities;

public sealed class QuantityTextTests
{
    [Theory]
    [InlineData("62F", Dimension.Temperature, 16.6667)]
    [InlineData("62 °F", Dimension.Temperature, 16.6667)]
    [InlineData("62\u00A0°F", Dimension.Temperature, 16.6667)]
    [InlineData("62 degrees F", Dimension.Temperature, 16.6667)]
    [InlineData("\u22122,5 °C", Dimension.Temperature, -2.5)]
    [InlineData("17 ℃", Dimension.Temperature, 17)]
    [InlineData("2 °F", Dimension.TemperatureDifference, 1.1111)]
    [InlineData("1,5 m", Dimension.Length, 1.5)]
    [InlineData("4 ft", Dimension.Length, 1.2192)]
    [InlineData("4'", Dimension.Length, 1.2192)]
    [InlineData("6\"", Dimension.Length, 0.1524)]
    [InlineData("4' 6\"", Dimension.Length, 1.3716)]
    [InlineData("4 ft 6 in", Dimension.Length, 1.3716)]
    [InlineData("half an inch", Dimension.Length, 0.0127)]
    [InlineData("a quarter inch", Dimension.WaterDepth, 6.35)]
    [InlineData("a quarter of an inch", Dimension.WaterDepth, 6.35)]
    [InlineData("three quarters of an inch", Dimension.WaterDepth, 19.05)]
    [InlineData("one and a half inches", Dimension.WaterDepth, 38.1)]
    [InlineData("½ in", Dimension.WaterDepth, 12.7)]
    [InlineData("1½ in", Dimension.WaterDepth, 38.1)]
    [InlineData("1 1/2 in", Dimension.WaterDepth, 38.1)]
    [InlineData("6 mm", Dimension.WaterDepth, 6)]
    [InlineData("8 mm/h", Dimension.RainRate, 8)]
    [InlineData("0.3 in/h", Dimension.RainRate, 7.62)]
    [InlineData("0.3 in an hour", Dimension.RainRate, 7.62)]
    [InlineData("25 mph", Dimension.Speed, 11.176)]
    [InlineData("40 km/h", Dimension.Speed, 11.1111)]
    [InlineData("14 m/s", Dimension.Speed, 14)]
    [InlineData("40 litres", Dimension.Volume, 40)]
    [InlineData("10 gal", Dimension.Volume, 37.8541)]
    [InlineData("30 %", Dimension.Share, 0.3)]
    [InlineData("0.3", Dimension.Share, 0.3)]
    [InlineData("7 in 10", Dimension.Share, 0.7)]
    [InlineData("two weeks", Dimension.Days, 14)]
    [InlineData("a fortnight", Dimension.Days, 14)]
    [InlineData("an hour", Dimension.Hours, 1)]
    [InlineData("90 min", Dimension.Hours, 1.5)]
    [InlineData("1,234.5 °C days", Dimension.Warmth, 1234.5)]
    [InlineData("1 234 °C days", Dimension.Warmth, 1234)]
    [InlineData("1.234.567 mm", Dimension.WaterDepth, 1234567)]
    public void A_quantity_is_read_as_people_write_it(string text, Dimension dimension, double value)
    {
        var ok = Assert.IsType<QuantityReading.Ok>(QuantityText.Read(text, dimension));
        Assert.Equal(dimension, ok.Quantity.Dimension);
        Assert.Equal(value, ok.Quantity.Value, tolerance: 0.0001);
    }

    [Theory]
    [InlineData("62", Dimension.Temperature, "62 °F", "62 °C")]
    [InlineData("20 degrees", Dimension.Temperature, "20 °F", "20 °C")]
    [InlineData("1,500 mm", Dimension.WaterDepth, "1.5 mm", "1500 mm")]
    [InlineData("3 m", Dimension.WaterDepth, "metres", "3 mm")]
    [InlineData("3 m", Dimension.Hours, "minutes", "months")]
    [InlineData("1", Dimension.Share, "1 %", "100 %")]
    [InlineData("380 degree-days", Dimension.Warmth, "380 °C days", "380 °F days")]
    public void What_can_mean_two_things_is_refused_with_both_shown(string text, Dimension dimension, string one, string other)
    {
        var fault = Assert.IsType<QuantityReading.Fault>(QuantityText.Read(text, dimension));
        string said = fault.Problem + "; " + fault.Instead;
        Assert.Contains(one, said, StringComparison.Ordinal);
        Assert.Contains(other, said, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("6 mm", Dimension.Temperature, "not a temperature", "6 °F")]
    [InlineData("40", Dimension.Speed, "no unit", "40 mph")]
    [InlineData("40 gallns", Dimension.Volume, "no unit", "did you mean `40 gallons`?")]
    [InlineData("20-23 °C", Dimension.Temperature, "range", "choose")]
    [InlineData("20 °C to 23 °C", Dimension.Temperature, "range", "choose")]
    [InlineData("20 – 23 °C", Dimension.Temperature, "range", "choose")]
    [InlineData("-4 mm", Dimension.WaterDepth, "less than nothing", "")]
    [InlineData("120 %", Dimension.Share, "more than all", "100 %")]
    [InlineData("620 °F", Dimension.Temperature, "outside", "unit")]
    [InlineData("2 months", Dimension.Days, "differ", "60 days")]
    [InlineData("", Dimension.Length, "missing", "4 ft")]
    [InlineData("warm", Dimension.Temperature, "not a temperature", "62 °F")]
    [InlineData("1/0 in", Dimension.Length, "not a length", "4 ft")]
    public void A_wrong_quantity_is_told_with_what_fits(string text, Dimension dimension, string problem, string instead)
    {
        var fault = Assert.IsType<QuantityReading.Fault>(QuantityText.Read(text, dimension));
        Assert.Contains(problem, fault.Problem, StringComparison.Ordinal);
        Assert.Contains(instead, fault.Instead ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void A_frost_pocket_of_two_degrees_is_a_difference_and_not_a_reading()
    {
        var ok = Assert.IsType<QuantityReading.Ok>(QuantityText.Read("2 °F", Dimension.TemperatureDifference, Dimension.Temperature));
        Assert.Equal(new Quantity(2 / 1.8, Dimension.TemperatureDifference), ok.Quantity);
    }

    [Theory]
    [InlineData("4 ft x 12 ft", 1.2192, 3.6576)]
    [InlineData("4' x 12'", 1.2192, 3.6576)]
    [InlineData("1,2 x 3 m", 1.2, 3)]
    [InlineData("120 x 300 cm", 1.2, 3)]
    [InlineData("120x300cm", 1.2, 3)]
    [InlineData("4 by 8 feet", 1.2192, 2.4384)]
    [InlineData("0 ft x 0 ft", 0, 0)]
    [InlineData("0 x 0", 0, 0)]
    [InlineData("4' 6\" × 12'", 1.3716, 3.6576)]
    public void A_size_is_read_as_people_write_it(string text, double first, double second)
    {
        var ok = Assert.IsType<SizeReading.Ok>(SizeText.Read(text));
        Assert.Equal(first, ok.FirstMetres, tolerance: 0.0001);
        Assert.Equal(second, ok.SecondMetres, tolerance: 0.0001);
    }

    [Theory]
    [InlineData("4 x 12", "4 x 12 m` or `4 x 12 ft")]
    [InlineData("4 ft", "4 ft x 12 ft")]
    [InlineData("big", "4 ft x 12 ft")]
    public void A_size_that_is_none_is_told_with_one_that_is(string text, string instead)
    {
        var fault = Assert.IsType<SizeReading.Fault>(SizeText.Read(text));
        Assert.Contains(instead, fault.Instead, StringComparison.Ordinal);
    }

    private static readonly Gen<Quantity> AnyQuantity =
        from dimension in Gen.Int[0, 12].Select(i => (Dimension)i)
        from value in dimension switch
        {
            Dimension.Temperature => Gen.Double[-40, 60],
            Dimension.TemperatureDifference => Gen.Double[-20, 20],
            Dimension.Share => Gen.Double[0, 1],
            _ => Gen.Double[0, 5000],
        }
        select new Quantity(value, dimension);

    [Fact]
    public void What_is_printed_reads_back_within_its_rounding()
    {
        foreach (var units in new[] { UnitSystem.Metric, UnitSystem.Us })
        {
            var speech = new Speech(units, DateTimeZone.Utc);
            AnyQuantity.Sample(quantity =>
            {
                var ok = Assert.IsType<QuantityReading.Ok>(QuantityText.Read(speech.Quantity(quantity), quantity.Dimension));
                // Two decimals are printed, in the printed unit.
                double apart = speech.InUnits(ok.Quantity.Value, quantity.Dimension) - speech.InUnits(quantity.Value, quantity.Dimension);
                Assert.InRange(Math.Abs(apart), 0, 0.00500001);
            }, iter: 2000);
        }
    }

    [Fact]
    public void No_text_makes_it_throw() =>
        Gen.String[Gen.Char["0123456789 .,/-+'\"°fcminhx½%k\u00A0\u2212"], 0, 20].Sample(text =>
        {
            foreach (var dimension in Enum.GetValues<Dimension>())
                Assert.NotNull(QuantityText.Read(text, dimension));
            Assert.NotNull(SizeText.Read(text));
        }, iter: 5000);
}
