using GardenWatch.Planning.Journals;

namespace GardenWatch.Planning.Tests.Journals;

public sealed class SpokenAnswerTests
{
    [Theory]
    [InlineData("soil 14 C at 5 cm", ReadingKind.Soil, 14, 0.05, null)]
    [InlineData("soil 57.2°F at 2 in", ReadingKind.Soil, 14, 0.0508, null)]
    [InlineData("soil 57.2 F at 2 in in the kitchen bed", ReadingKind.Soil, 14, 0.0508, "the kitchen bed")]
    [InlineData("soil 14 C in kitchen bed", ReadingKind.Soil, 14, null, "kitchen bed")]
    [InlineData("Soil 14,5 °C", ReadingKind.Soil, 14.5, null, null)]
    [InlineData("air low 3 C", ReadingKind.AirLow, 3, null, null)]
    [InlineData("air low -2 °C in the low bed", ReadingKind.AirLow, -2, null, "the low bed")]
    [InlineData("low 28.4F", ReadingKind.AirLow, -2, null, null)]
    [InlineData("rain 12 mm", ReadingKind.Rain, 12, null, null)]
    [InlineData("rain half an inch", ReadingKind.Rain, 12.7, null, null)]
    [InlineData("rain none", ReadingKind.Rain, 0, null, null)]
    public void A_reading_is_read_in_both_systems(string said, ReadingKind kind, double value, double? depth, string? bed)
    {
        var reading = Assert.IsType<Answer.Reading>(SpokenAnswer.Reading(said));
        Assert.Equal((kind, bed), (reading.Kind, reading.Bed));
        Assert.Equal(value, reading.Value, 1e-6);
        Assert.Equal(depth is null, reading.DepthMetres is null);
        Assert.Equal(depth ?? 0, reading.DepthMetres ?? 0, 1e-6);
    }

    [Theory]
    [InlineData("soil 14", "°F")]
    [InlineData("soil 14 C at noon", "length")]
    [InlineData("rain 12 C", "depth of rain")]
    [InlineData("wind 12 m/s", "is no reading")]
    [InlineData("air low", "temperature")]
    public void What_is_not_clear_is_asked_back(string said, string hint) =>
        Assert.Contains(hint, Assert.IsType<Answer.Unclear>(SpokenAnswer.Reading(said)).Question, StringComparison.Ordinal);

    [Theory]
    [InlineData("tomato 1.2 kg", "tomato", 1200.0, null)]
    [InlineData("1.2 kg tomatoes", "tomatoes", 1200.0, null)]
    [InlineData("2 lb of beans", "beans", 907.18474, null)]
    [InlineData("beans 8 oz", "beans", 226.796185, null)]
    [InlineData("3 squash", "squash", null, 3.0)]
    [InlineData("winter squash 3", "winter squash", null, 3.0)]
    [InlineData("three heads of lettuce", "lettuce", null, 3.0)]
    [InlineData("lettuce", "lettuce", null, null)]
    [InlineData("1 1.2 kg", "1", 1200.0, null)]
    public void A_picking_is_weighed_or_counted(string said, string what, double? grams, double? pieces)
    {
        var picked = Assert.IsType<Answer.Picked>(SpokenAnswer.Picked(said));
        Assert.Equal((what, pieces), (picked.What, picked.Pieces));
        Assert.Equal(grams ?? -1, picked.Grams ?? -1, 1e-3);
    }

    [Theory]
    [InlineData("")]
    [InlineData("1.2 kg")]
    [InlineData("tomato 3 mm")]
    [InlineData("-3 squash")]
    public void A_picking_of_nothing_or_of_no_weight_is_asked_back(string said) => Assert.IsType<Answer.Unclear>(SpokenAnswer.Picked(said));

    [Theory]
    [InlineData("yesterday", "2026-11-24")]
    [InlineData("12 May", "2026-05-12")]
    [InlineData("28 December", "2025-12-28")]
    [InlineData("30 November", "2026-11-30")] // still to come, and told so, rather than a year ago
    [InlineData("2026-04-21", "2026-04-21")]
    public void A_day_is_the_one_that_was_meant(string said, string day)
    {
        Assert.Equal(day, SpokenAnswer.Day(said, new(2026, 11, 25), out string? wrong)?.ToString("uuuu-MM-dd", null));
        Assert.Null(wrong);
    }

    [Theory]
    [InlineData("mid April")]
    [InlineData("3/4")]
    [InlineData("someday")]
    public void A_day_that_is_none_is_said_to_be(string said)
    {
        Assert.Null(SpokenAnswer.Day(said, new(2026, 11, 25), out string? wrong));
        Assert.NotNull(wrong);
    }
}
