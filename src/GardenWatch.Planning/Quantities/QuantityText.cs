using System.Globalization;
using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Quantities;

/// <summary>Quantities as people write them: "62F", "1,5 m", "half an inch", "4' 6\"", "two weeks".</summary>
/// <remarks>What can mean two things is refused with both shown. Where several dimensions fit, the first one given wins.</remarks>
public static partial class QuantityText
{
    private const int Longest = 80;

    public static QuantityReading Read(string text, params ReadOnlySpan<Dimension> fits)
    {
        if (text.Length > Longest)
            return new QuantityReading.Fault($"a quantity of {text.Length} letters is too long to be one", Example(fits));
        string plain = WrittenNumber.Plain(text);
        if (plain.Length == 0)
            return new QuantityReading.Fault("the quantity is missing", Example(fits));
        if (fits.Contains(Dimension.Share) && OutOfTen().Match(plain) is { Success: true } chance)
            return Checked(text, double.Parse(chance.Groups[1].Value, CultureInfo.InvariantCulture) / 10, Dimension.Share);
        if (RangeOfTwo().IsMatch(plain))
            return new QuantityReading.Fault($"`{text.Trim()}` is a range; one number is wanted here", "choose one of the two ends");

        return WrittenNumber.Read(plain) switch
        {
            WrittenNumber.Ok number => WithUnit(text, plain, number.Value, number.Rest, fits),
            WrittenNumber.TwoWays two => new QuantityReading.Fault(
                $"`{text.Trim()}` can mean {With(two.One, two.Rest)} or {With(two.Other, two.Rest)}",
                $"`{With(two.One, two.Rest)}` or `{With(two.Other, two.Rest)}`"),
            _ => NoNumber(text, plain, fits),
        };
    }

    private static QuantityReading WithUnit(string text, string plain, double value, string unit, ReadOnlySpan<Dimension> fits)
    {
        if (unit.Length == 0)
            return Bare(text, value, fits);
        if (TwoMeanings(text, value, unit, fits) is { } doubt)
            return doubt;
        foreach (var dimension in fits)
        {
            if (Units.Find(unit, dimension) is { } known)
                return Checked(text, value * known.Factor + known.Offset, dimension);
        }
        if (fits.Contains(Dimension.Length) && FeetAndInches().Match(plain) is { Success: true } both)
        {
            double feet = double.Parse(both.Groups["feet"].Value, CultureInfo.InvariantCulture);
            double inches = double.Parse(both.Groups["inches"].Value, CultureInfo.InvariantCulture);
            return Checked(text, feet * 0.3048 + inches * 0.0254, Dimension.Length);
        }
        if (Units.IsKnown(unit))
            return new QuantityReading.Fault($"`{text.Trim()}` is not {Wanted(fits)}", Advice(value, fits));
        var spellings = new List<string>();
        foreach (var dimension in fits)
            spellings.AddRange(Units.All.Where(u => u.Dimension == dimension).SelectMany(u => u.Spellings));
        return Spelling.Nearest(unit, spellings) is { } near && unit.Length > 2
            ? new QuantityReading.Fault($"`{unit}` is no unit", $"did you mean `{Number(value)} {near}`?")
            : new QuantityReading.Fault($"`{unit}` is no unit of {Wanted(fits)}", Advice(value, fits));
    }

    private static QuantityReading Bare(string text, double value, ReadOnlySpan<Dimension> fits)
    {
        // A part of one can only be a share; "1" might be 1 % or all of it.
        if (fits.Contains(Dimension.Share) && value is >= 0 and < 1)
            return new QuantityReading.Ok(new(value, Dimension.Share));
        if (fits.Contains(Dimension.Share) && value == 1)
            return new QuantityReading.Fault($"`{text.Trim()}` can mean 1 % or 100 %", "`1 %` or `100 %`");
        return new QuantityReading.Fault($"`{text.Trim()}` has no unit; {Wanted(fits)} is wanted", Advice(value, fits));
    }

    private static QuantityReading.Fault? TwoMeanings(string text, double value, string unit, ReadOnlySpan<Dimension> fits)
    {
        string n = Number(value);
        bool degrees = unit is "°" or "deg" or "degree" or "degrees";
        if (degrees && (fits.Contains(Dimension.Temperature) || fits.Contains(Dimension.TemperatureDifference)))
            return new($"`{text.Trim()}` can mean {n} °F or {n} °C", $"`{n} °F` or `{n} °C`");
        if (unit is "degree-days" or "degree days" or "degree-day" or "gdd" && fits.Contains(Dimension.Warmth))
            return new($"`{text.Trim()}` can be counted in Celsius or in Fahrenheit", $"`{n} °C days` or `{n} °F days`");
        if (unit == "m" && !fits.Contains(Dimension.Length))
        {
            if (fits.Contains(Dimension.WaterDepth))
                return new($"`{text.Trim()}` can mean metres or millimetres", $"`{n} mm` (or `{n} in`)");
            if (fits.Contains(Dimension.Hours))
                return new($"`{text.Trim()}` can mean minutes or months", $"`{n} minutes` or `{n} hours`");
            if (fits.Contains(Dimension.Days))
                return new($"`{text.Trim()}` can mean minutes or months", $"`{n} days` or `{n} weeks`");
        }
        if (unit is "month" or "months" && fits.Contains(Dimension.Days))
            return new("months differ in length", $"`{Number(Math.Round(value * 30))} days` or `{Number(Math.Round(value * 4))} weeks`");
        return null;
    }

    private static QuantityReading Checked(string text, double value, Dimension dimension)
    {
        bool mayBeNegative = dimension is Dimension.Temperature or Dimension.TemperatureDifference or Dimension.Days;
        if (value < 0 && !mayBeNegative)
            return new QuantityReading.Fault($"`{text.Trim()}` is less than nothing", null);
        if (dimension == Dimension.Share && value > 1)
            return new QuantityReading.Fault($"`{text.Trim()}` is more than all of it", "`100 %` at most");
        if (dimension == Dimension.Temperature && value is < -60 or > 90)
            return new QuantityReading.Fault($"`{text.Trim()}` is outside what any garden sees", "look at the number and its unit (°F or °C)");
        return new QuantityReading.Ok(new(value, dimension));
    }

    private static QuantityReading.Fault NoNumber(string text, string plain, ReadOnlySpan<Dimension> fits)
    {
        // "fortnight" alone is as good as "a fortnight".
        foreach (var dimension in fits)
        {
            if (Units.Find(plain, dimension) is not null)
                return new($"`{text.Trim()}` has a unit but no number", $"`1 {plain}`");
        }
        return new($"`{text.Trim()}` is not {Wanted(fits)}", Example(fits));
    }

    private static string Wanted(ReadOnlySpan<Dimension> fits)
    {
        var nouns = new List<string>();
        foreach (var dimension in fits)
            nouns.Add(Units.Noun(dimension));
        return nouns.Count == 0 ? "a quantity" : string.Join(" or ", nouns);
    }

    private static string Advice(double value, ReadOnlySpan<Dimension> fits)
    {
        var ways = new List<string>();
        foreach (var dimension in fits)
            ways.AddRange(Units.Usual(dimension).Select(unit => $"`{Number(value)} {unit}`"));
        return OneOf([.. ways.Distinct()]);
    }

    private static string? Example(ReadOnlySpan<Dimension> fits) =>
        fits.Length == 0 ? null : fits[0] switch
        {
            Dimension.Temperature => "such as `62 °F` or `17 °C`",
            Dimension.TemperatureDifference => "such as `2 °F` or `1 °C`",
            Dimension.WaterDepth => "such as `6 mm` or `1/4 in`",
            Dimension.RainRate => "such as `8 mm/h` or `0.3 in/h`",
            Dimension.Speed => "such as `25 mph` or `40 km/h`",
            Dimension.Length => "such as `4 ft` or `1.2 m`",
            Dimension.Area => "such as `3 m²` or `32 sq ft`",
            Dimension.Volume => "such as `40 litres` or `10 gal`",
            Dimension.Share => "such as `30 %`",
            Dimension.Hours => "such as `3 hours`",
            Dimension.Days => "such as `10 days` or `2 weeks`",
            Dimension.Warmth => "such as `380 °C days`",
            Dimension.Severity => "such as `15 values`",
            Dimension.Mass => "such as `1.2 kg` or `2 lb`",
            _ => "such as `250 W/m²`",
        };

    private static string OneOf(string[] ways) =>
        ways.Length <= 1 ? string.Concat(ways) : string.Join(", ", ways[..^1]) + " or " + ways[^1];

    private static string With(string number, string unit) => unit.Length == 0 ? number : number + " " + unit;

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    [GeneratedRegex(@"[0-9](?:[^-–—]*?[0-9a-z°%'""])?(?: ?[-–—] ?|(?: to | or |\.\.+|…))[-+]?[0-9]", RegexOptions.CultureInvariant)]
    private static partial Regex RangeOfTwo();

    [GeneratedRegex(@"^([0-9]|10) in 10$", RegexOptions.CultureInvariant)]
    private static partial Regex OutOfTen();

    [GeneratedRegex(@"^(?<feet>[0-9]{1,4}) ?(?:'|ft\.?|feet|foot) ?(?<inches>[0-9]{1,2}(?:\.[0-9]{1,3})?) ?(?:""|''|in\.?|inch|inches)$", RegexOptions.CultureInvariant)]
    private static partial Regex FeetAndInches();
}
