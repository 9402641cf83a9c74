using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Quantities;

/// <summary>What reading a written size gave, in metres.</summary>
public abstract record SizeReading
{
    private SizeReading() { }

    public sealed record Ok(double FirstMetres, double SecondMetres) : SizeReading;

    public sealed record Fault(string Problem, string? Instead) : SizeReading;
}

/// <summary>Two lengths: "4 ft x 12 ft", "4' x 12'", "1,2 x 3 m". A unit said once serves both.</summary>
public static partial class SizeText
{
    private const string Example = "`4 ft x 12 ft` or `1.2 m x 3 m`";

    public static SizeReading Read(string text)
    {
        string plain = WrittenNumber.Plain(text.Length > 100 ? text[..100] : text);
        string[] halves = Times().Split(plain);
        if (halves.Length != 2 || halves[0].Length == 0 || halves[1].Length == 0)
            return new SizeReading.Fault($"`{text.Trim()}` is not two lengths", Example);
        var (first, second) = (WrittenNumber.Read(halves[0]), WrittenNumber.Read(halves[1]));
        if (first is WrittenNumber.Ok { Rest: "" } a && second is WrittenNumber.Ok { Rest: "" } b)
        {
            // Nothing is nothing in any unit.
            return a.Value == 0 && b.Value == 0
                ? new SizeReading.Ok(0, 0)
                : new SizeReading.Fault($"`{text.Trim()}` has no unit", $"`{halves[0]} x {halves[1]} m` or `{halves[0]} x {halves[1]} ft`");
        }
        string one = Sharing(first, second, halves[0]), other = Sharing(second, first, halves[1]);
        return (QuantityText.Read(one, Dimension.Length), QuantityText.Read(other, Dimension.Length)) switch
        {
            (QuantityReading.Ok x, QuantityReading.Ok y) => new SizeReading.Ok(x.Quantity.Value, y.Quantity.Value),
            (QuantityReading.Fault fault, _) => new SizeReading.Fault(fault.Problem, fault.Instead),
            (_, QuantityReading.Fault fault) => new SizeReading.Fault(fault.Problem, fault.Instead),
            _ => new SizeReading.Fault($"`{text.Trim()}` is not two lengths", Example),
        };
    }

    private static string Sharing(WrittenNumber mine, WrittenNumber others, string half)
    {
        string theirs = others switch
        {
            WrittenNumber.Ok ok => ok.Rest,
            WrittenNumber.TwoWays two => two.Rest,
            _ => "",
        };
        bool bare = mine is WrittenNumber.Ok { Rest: "" } or WrittenNumber.TwoWays { Rest: "" };
        return bare ? half + " " + theirs : half;
    }

    [GeneratedRegex(@" ?(?:[x×*]| by ) ?", RegexOptions.CultureInvariant)]
    private static partial Regex Times();
}
