using System.Text.RegularExpressions;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tests.Crops;

/// <summary>The words that shipped phrases may use, checked apart from the phrase language itself.</summary>
internal static partial class Phrases
{
    public static ConditionReading Read(string phrase)
    {
        var match = Allowed().Match(phrase);
        if (!match.Success)
            return new ConditionReading.Fault(1, $"`{phrase}` is not a phrase", null);
        foreach (Capture number in match.Groups["q"].Captures)
        {
            var fits = match.Groups["measure"].Value switch
            {
                "rain" when match.Groups["stat"].Value == "peak" => Dimension.RainRate,
                "rain" => Dimension.WaterDepth,
                "gust" => Dimension.Speed,
                "days" => Dimension.Days,
                _ => Dimension.Temperature,
            };
            if (QuantityText.Read(number.Value, fits) is QuantityReading.Fault(var problem, var instead))
                return new ConditionReading.Fault(number.Index + 1, problem, instead);
        }
        return new ConditionReading.Ok(new Condition.AllOf([]));
    }

    private const string Number = @"(?:\{[a-z ]+: (?<q>[^{}]+)\}|(?<q>-?[0-9][^{}]*?))";

    [GeneratedRegex(@"^(?<measure>air|leaf|soil at [0-9]+ cm|rain|gust|days)(?: (?<stat>low|high|mean|total|peak))? (?:(?:past|next) [0-9]+ (?:hours|days|nights)|today|tonight|tomorrow|since [a-z ]+?|until [a-z ]+?) (?:(?:at least|at most|above|below) " + Number + "|between " + Number + " and " + Number + ")$", RegexOptions.CultureInvariant)]
    private static partial Regex Allowed();
}
