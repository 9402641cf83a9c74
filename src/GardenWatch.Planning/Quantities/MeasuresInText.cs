using System.Globalization;
using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Quantities;

/// <summary>Depths, distances and temperatures within a line of advice, said in a garden's own units.</summary>
/// <remarks>Shipped advice is written in metric; who gardens in inches would have to reckon at the bed.</remarks>
public static partial class MeasuresInText
{
    private const double MetresInInch = 0.0254;
    // Nobody measures a drill finer than this, nor a distance beyond a hand's breadth in fractions.
    private const int PartsOfInch = 8;
    private const double FractionsUpToInches = 3;

    /// <summary>"1 cm deep, 3 to 5 cm apart, at 24 °C" is "3/8 in deep, 1 1/8 to 2 in apart, at 75 °F" where messages speak US units.</summary>
    public static string Spoken(string text, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(text);
        return units == UnitSystem.Metric ? text : Measure().Replace(text, match =>
        {
            string unit = match.Groups["unit"].Value;
            string from = Said(match.Groups["from"].Value, unit);
            string number = match.Groups["until"] is { Success: true } until ? $"{from}{match.Groups["to"].Value}{Said(until.Value, unit)}" : from;
            return $"{number}{match.Groups["gap"].Value}{(unit == "°C" ? "°F" : unit == "litres" ? "gallons" : InFeet(match.Groups["from"].Value, unit) ? "ft" : "in")}";
        });
    }

    private static string Said(string number, string unit)
    {
        double value = double.Parse(number, CultureInfo.InvariantCulture);
        return unit switch
        {
            "°C" => Math.Round(value * 1.8 + 32).ToString(CultureInfo.InvariantCulture),
            "litres" => Math.Max(0.5, Math.Round(value / 3.785411784 * 2) / 2).ToString(CultureInfo.InvariantCulture),
            _ when InFeet(number, unit) => (Math.Round(Metres(value, unit) / (12 * MetresInInch) * 2) / 2).ToString(CultureInfo.InvariantCulture),
            _ => Inches(Metres(value, unit) / MetresInInch),
        };
    }

    private static bool InFeet(string number, string unit) => unit == "m" && double.Parse(number, CultureInfo.InvariantCulture) >= 1;

    private static double Metres(double value, string unit) => unit switch { "mm" => value / 1000, "cm" => value / 100, _ => value };

    private static string Inches(double inches)
    {
        if (inches >= FractionsUpToInches)
            return Math.Round(inches).ToString(CultureInfo.InvariantCulture);
        // The coarsest part that is near enough: quarters unless the seed lies shallower than one.
        int parts = inches < 0.5 ? PartsOfInch : 4;
        int count = Math.Max(1, (int)Math.Round(inches * parts));
        int whole = count / parts, rest = count % parts;
        while (rest > 0 && rest % 2 == 0)
            (rest, parts) = (rest / 2, parts / 2);
        return rest == 0 ? $"{whole}" : whole == 0 ? $"{rest}/{parts}" : $"{whole} {rest}/{parts}";
    }

    [GeneratedRegex(@"(?<![\d.])(?<from>\d+(?:\.\d+)?)(?:(?<to> to | or )(?<until>\d+(?:\.\d+)?))?(?<gap>[ \u00A0])(?<unit>mm|cm|m|°C|litres)(?![\w/²])")]
    private static partial Regex Measure();
}
