using System.Globalization;
using CsCheck;
using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Tests.Quantities;

public class TemperatureTests
{
    private const string File = "crop-temperatures.csv";

    public static TheoryData<string> Crops => PublishedTable.Ids(File, "crop", _ => true);

    [Theory]
    [MemberData(nameof(Crops))]
    public void A_crops_printed_Fahrenheit_are_its_Celsius(string crop)
    {
        var row = PublishedTable.Case(File, "crop", crop);
        int compared = Same(row["min_planting_soil_original_f"], row["min_planting_soil_c"]);
        if (row["germ_original_f"].Length > 0)
        {
            // lowest/best from-best to/best/highest, with gaps.
            string[] parts = row["germ_original_f"].Split('/');
            string[] range = parts[1] == "-" ? ["", ""] : parts[1].Split('-');
            compared += Same(parts[0], row["germ_min_c"]) + Same(range[0], row["germ_opt_low_c"]) + Same(range[1], row["germ_opt_high_c"])
                + Same(parts[2], row["germ_opt_c"]) + Same(parts[3], row["germ_max_c"]);
        }
        Assert.True(compared > 0);
    }

    private static int Same(string fahrenheit, string celsius)
    {
        Assert.Equal(fahrenheit.Length == 0, celsius.Length == 0);
        if (fahrenheit.Length == 0)
            return 0;
        Assert.Equal(Number(celsius), Temperature.FromFahrenheit(Number(fahrenheit)).Celsius, 0.05001);
        return 1;
    }

    [Fact]
    public void A_sum_of_degree_days_is_converted_without_the_offset() =>
        // Oregon State Univ. Extension, sweet corn: 1539 °F days are 855 °C days.
        Assert.Equal(855, TemperatureDifference.FromFahrenheitDegrees(1539).Kelvins, 1e-9);

    [Fact]
    public void A_difference_of_two_readings_leads_from_one_to_the_other() =>
        Gen.Select(Gen.Double[-40, 50], Gen.Double[-40, 50]).Sample((one, other) =>
        {
            Temperature from = new(one), to = new(other);
            Assert.Equal(to.Celsius, (from + (to - from)).Celsius, 1e-9);
            Assert.Equal(to.Fahrenheit - from.Fahrenheit, (to - from).FahrenheitDegrees, 1e-9);
            Assert.Equal(from.Celsius, Temperature.FromFahrenheit(from.Fahrenheit).Celsius, 1e-9);
            Assert.Equal(one < other, from < to);
        });

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
