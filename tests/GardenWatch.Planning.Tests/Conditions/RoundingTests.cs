using System.Globalization;
using System.Text.RegularExpressions;
using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Rounding never makes a sentence untrue: never "62 of 62, waiting".</summary>
public sealed partial class RoundingTests
{
    private static readonly Instant Start = Scenes.At(2026, 6, 1);

    /// <summary>What is asked, how a kept limit is written, and which hourly value gives a kept one.</summary>
    private static readonly (string Opening, Dimension Dimension, double Low, double High, Func<double, double> Hourly)[] Asked =
    [
        ("soil mean next 2 days", Dimension.Temperature, -10, 40, v => v),
        ("air high next 20 hours", Dimension.Temperature, -10, 40, v => v),
        ("rain total next 40 hours", Dimension.WaterDepth, 0.2, 80, v => v / 40),
        ("rain peak next 2 days", Dimension.RainRate, 0.2, 30, v => v),
        ("wind high next 20 hours", Dimension.Speed, 0.5, 30, v => v),
        ("warmth base 0 °C total next 96 hours", Dimension.Warmth, 1, 100, v => v / 4),
        ("water use total next 40 hours", Dimension.WaterDepth, 0.2, 20, v => v / 40),
    ];

    private static readonly Comparison[] OneSided = [Comparison.AtLeast, Comparison.AtMost, Comparison.Above, Comparison.Below];

    [Fact]
    public void What_is_said_to_be_and_to_be_needed_compare_as_the_answer_does_whatever_the_margin() =>
        Gen.Select(Gen.OneOf(Asked), Gen.Double[0, 1], Gen.Int[0, 3], Gen.Int[-6, 1], Gen.Double[-1, 1], Gen.OneOf(OneSided), Gen.OneOf(UnitSystem.Metric, UnitSystem.Us))
            .Sample((asks, place, decimals, power, factor, comparison, units) =>
            {
                double limit = Math.Round(asks.Low + place * (asks.High - asks.Low), decimals);
                double value = Math.Max(limit + factor * Math.Pow(10, power), asks.Dimension == Dimension.Temperature ? -50 : 0.001);
                var phrase = (Condition.Phrase)Scenes.Read($"{asks.Opening} at least 1 {Unit(asks.Dimension)}") with { Comparison = comparison, Limit = new(null, new(limit, asks.Dimension)) };
                double hourly = asks.Hourly(value);
                var scene = Scenes.Of(Start, Scenes.Hours(200, _ => hourly), units: units);

                var verdict = Evaluate.At(phrase, Start + Duration.FromHours(60), scene);

                string said = verdict.Said();
                var (is_, needed) = Said(said);
                bool holds = comparison switch
                {
                    Comparison.AtLeast => is_ >= needed,
                    Comparison.AtMost => is_ <= needed,
                    Comparison.Above => is_ > needed,
                    _ => is_ < needed,
                };
                Assert.True(holds == (verdict.Holds == Truth.Yes), $"{said}: {verdict.Holds}, {value} against {limit}");
                Assert.False(WaitsWithNothingToWaitFor().IsMatch(said), said);
                Assert.True(said.Length < 140, said);
            }, iter: 40_000);

    private static string Unit(Dimension dimension) => dimension switch
    {
        Dimension.Temperature => "°C",
        Dimension.WaterDepth => "mm",
        Dimension.RainRate => "mm/h",
        Dimension.Speed => "m/s",
        _ => "°C days",
    };

    /// <summary>The value and the limit of a sentence, window's and depth's numbers left out.</summary>
    private static (double Value, double Limit) Said(string sentence)
    {
        string plain = Aside().Replace(sentence, "").Replace(", none wanted", ", 0 wanted", StringComparison.Ordinal).Replace(", any wanted", ", 0 wanted", StringComparison.Ordinal);
        double[] numbers = [.. Number().Matches(plain).Select(match => double.Parse(match.Value, CultureInfo.InvariantCulture))];
        if (numbers.Length == 1 && plain.StartsWith("no ", StringComparison.Ordinal))
            return (0, numbers[0]);
        Assert.True(numbers.Length == 2, $"{sentence}: {string.Join(' ', numbers)}");
        return (numbers[0], numbers[1]);
    }

    [GeneratedRegex(@"(?:in|of) the next [0-9]+ \w+|at [0-9.]+ (?:cm|in)\b|above [0-9]+ °[CF](?= in)", RegexOptions.CultureInvariant)]
    private static partial Regex Aside();

    [GeneratedRegex(@"-?[0-9]+(?:\.[0-9]+)?", RegexOptions.CultureInvariant)]
    private static partial Regex Number();

    [GeneratedRegex(@"(?<![0-9.])(?<n>[0-9.]+) of \k<n>(?![0-9.])", RegexOptions.CultureInvariant)]
    private static partial Regex WaitsWithNothingToWaitFor();
}
