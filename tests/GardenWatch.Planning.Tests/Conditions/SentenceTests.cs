using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class SentenceTests
{
    private static readonly Instant Start = Scenes.At(2026, 4, 1);
    private static readonly Instant Now = Scenes.At(2026, 4, 20, 10);
    private const int Hours = 24 * 36;

    private static readonly Moments Known = Moments.None
        .With(Milestone.Sown, new LocalDate(2026, 4, 6))
        .WithUsualFrosts(new AnnualDate(5, 1), new AnnualDate(10, 15));

    /// <summary>4 mm each day, air 1 to 17 °C and known for 33 days, soil near 14 °C with 11 hours missing.</summary>
    private static Scene Scene(UnitSystem units) => Scenes.Of(Start, Hours, variable => Scenes.Hours(Hours, i => variable switch
    {
        WeatherVariable.Air => i > 800 ? double.NaN : 9 + 8 * Math.Sin((i - 14) * 2 * Math.PI / 24),
        WeatherVariable.Rain => (i % 24) switch { 20 => 3.2, 21 => 0.8, _ => 0 },
        WeatherVariable.Gust => 10.2,
        WeatherVariable.SoilAt6Cm => i is > 440 and < 452 ? double.NaN : 13.9 + Math.Sin(i * 0.26),
        WeatherVariable.RelativeHumidity => i % 24 < 5 ? 95 : 60,
        _ => 0,
    }), "America/New_York", units, Known);

    [Theory]
    [InlineData("rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}", Truth.No, "4 mm of rain in the next 24 hours, 6 to 15 mm wanted")]
    [InlineData("rain total next 24 hours at least 3 mm", Truth.Yes, "4 mm of rain in the next 24 hours, 3 mm wanted")]
    [InlineData("rain total next 24 hours at least 6 mm", Truth.No, "4 of 6 mm of rain in the next 24 hours")]
    [InlineData("rain peak next 24 hours at most 3 mm/h", Truth.No, "rain up to 3.2 mm/h in the next 24 hours, at most 3 mm/h wanted")]
    [InlineData("rain total past 2 hours at most 5 mm", Truth.Yes, "no rain in the past 2 hours, at most 5 mm wanted")]
    [InlineData("soil at 10 cm low today at least 15.6 °C", Truth.No, "soil 13 of 15.6 °C at 10 cm, lowest today")]
    [InlineData("air low tonight at most 4 °C", Truth.Yes, "coldest air tonight 1 °C, 4 °C or less counts")]
    [InlineData("air low tonight at most 2 °C with chance at least 20 %", Truth.Yes, "coldest air tonight 1 °C, 2 °C or less counts; 2 in 10 forecast runs wanted, this is one")]
    [InlineData("gust high next 24 hours at most 12 m/s", Truth.Yes, "gusts up to 37 km/h in the next 24 hours, at most 43 km/h wanted")]
    [InlineData("days since sown at least 21 days", Truth.No, "14 of 21 days since it was sown")]
    [InlineData("days until last spring frost at most 30 days", Truth.Yes, "11 days until the usual last spring frost, at most 30 days wanted")]
    [InlineData("days since last spring frost at least 3 days", Truth.No, "11 days until the usual last spring frost, 3 days wanted")]
    [InlineData("days since set out at least 3 days", Truth.Unknown, "it is not known when it was set out")]
    [InlineData("rain total since last done at least 25 mm", Truth.Unknown, "rain can't be known: it is not known when it was last done")]
    [InlineData("soil at 10 cm mean past 3 days at least 10 °C", Truth.Unknown, "soil at 10 cm can't be known: 11 of 72 hours are missing in the past 3 days")]
    [InlineData("soil at 10 cm mean past 72 hours at least 10 °C", Truth.Unknown, "soil at 10 cm can't be known: 11 of 72 hours are missing")]
    [InlineData("air low next 16 days at least 10 °C", Truth.No, "coldest air of the next 16 days 1 of 10 °C, whatever the 50 missing hours bring")]
    [InlineData("air low next 16 days at least 0 °C", Truth.Unknown, "air can't be known: 50 of 385 hours are missing in the next 16 days")]
    [InlineData("humidity hours above 90 % past 2 days at least 12 hours", Truth.No, "humidity above 90 % for 10 of 12 hours in the past 2 days")]
    [InlineData("leaf low tonight at most {leaf}", Truth.Unknown, "leaves can't be known: `leaf` has no number")]
    [InlineData("all of (rain today at least 3 mm; air low next 7 nights at least 10 °C)", Truth.No, "coldest air of the next 7 nights 1 of 10 °C")]
    [InlineData("none of (gust next 24 hours above 8 m/s; rain today above 20 mm)", Truth.No, "gusts up to 37 km/h in the next 24 hours, above 29 km/h blocks it")]
    [InlineData("any of (air low tonight at least 5 °C; rain today at least 9 mm)", Truth.No, "coldest air tonight 1 of 5 °C; 4 of 9 mm of rain today")]
    public void A_gardener_in_metric_is_told_what_is_and_what_is_needed(string phrase, Truth holds, string sentence)
    {
        var verdict = Scene(UnitSystem.Metric).Ask(phrase, Now);
        Assert.Equal((holds, sentence), (verdict.Holds, verdict.Said()));
    }

    [Theory]
    [InlineData("rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}", "0.2 in of rain in the next 24 hours, 0.24 to 0.59 in wanted")]
    [InlineData("soil at 4 in low today at least 62 °F", "soil 55 of 62 °F at 4 in, lowest today")]
    [InlineData("soil at 10 cm low today at least 15.6 °C", "soil 55 of 60 °F at 4 in, lowest today")]
    [InlineData("air low next 7 nights at least 50 °F", "coldest air of the next 7 nights 34 of 50 °F")]
    [InlineData("air low tonight at most 4 °C", "coldest air tonight 34 °F, 39 °F or less counts")]
    [InlineData("gust high next 24 hours at most 12 m/s", "gusts up to 23 mph in the next 24 hours, at most 27 mph wanted")]
    public void A_gardener_in_US_units_is_told_so_in_them(string phrase, string sentence) =>
        Assert.Equal(sentence, Scene(UnitSystem.Us).Ask(phrase, Now).Said());

    [Theory]
    [InlineData(61.9, "soil 61.9 of 62 °F at 2 in, mean today")]
    [InlineData(61.97, "soil 61.97 of 62 °F at 2 in, mean today")]
    [InlineData(62, "soil 62 °F at 2 in, mean today, 62 °F wanted")]
    [InlineData(62.3, "soil 62 °F at 2 in, mean today, 62 °F wanted")]
    [InlineData(57, "soil 57 of 62 °F at 2 in, mean today")]
    public void Rounding_never_makes_the_sentence_untrue(double fahrenheit, string sentence)
    {
        var scene = Scenes.Of(Start, Scenes.Hours(200, _ => (fahrenheit - 32) / 1.8), units: UnitSystem.Us);
        Assert.Equal(sentence, scene.Ask("soil mean today at least 62 °F", Start + Duration.FromHours(60)).Said());
    }

    [Fact]
    public void A_tuned_number_is_the_one_that_is_asked_and_said()
    {
        var scene = Scenes.Of(Start, Scenes.Hours(100, _ => 0.2), numbers: ("enough", new Quantity(9, Dimension.WaterDepth)));
        var verdict = scene.Ask("rain next 24 hours at least {enough: 4 mm}", Start);
        Assert.Equal((Truth.No, "5 of 9 mm of rain in the next 24 hours"), (verdict.Holds, verdict.Said()));
        Assert.Equal(-4.2, verdict.Margin!.Value, 1e-9);
    }

    [Fact]
    public void A_number_tuned_to_another_kind_of_quantity_leaves_the_phrase_unknown()
    {
        var scene = Scenes.Of(Start, Scenes.Hours(100, _ => 0.2), numbers: ("enough", new Quantity(9, Dimension.Temperature)));
        var verdict = scene.Ask("rain next 24 hours at least {enough: 4 mm}", Start);
        Assert.Equal((Truth.Unknown, "rain can't be known: `enough` is set to another kind of quantity"), (verdict.Holds, verdict.Said()));
    }

    [Fact]
    public void Named_numbers_are_listed_once_with_what_they_are_and_what_counts()
    {
        var condition = Scenes.Read("all of (rain next 24 hours between {enough: 6 mm} and {too much: 15 mm}; leaf low tonight at most {leaf}; rain today at most {enough: 6 mm})");
        var numbers = Evaluate.Numbers(condition, new Dictionary<string, Quantity> { ["too much"] = new(20, Dimension.WaterDepth) });
        Assert.Equal(
            [
                new("enough", Dimension.WaterDepth, new Quantity(6, Dimension.WaterDepth), new Quantity(6, Dimension.WaterDepth), false),
                new("too much", Dimension.WaterDepth, new Quantity(15, Dimension.WaterDepth), new Quantity(20, Dimension.WaterDepth), true),
                new NamedNumber("leaf", Dimension.Temperature, null, null, false),
            ],
            numbers);
    }
}
