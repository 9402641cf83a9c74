using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Tests.Journals;

public sealed class NameInPlanTests
{
    private static readonly Plan Plan = PlanFile.Read(
        """
        garden: Mill Bank
        id: mill-bank
        place: { latitude: 42.2, longitude: -71.7, elevation: 120 m, zone: America/New_York }
        units: metric
        digest: { at: "06:00", to: [you@example.org] }
        beds:
          - { bed: kitchen bed }
          - { bed: low bed }
        plantings:
          - { crop: tomato, bed: low bed, plants: 6 }
          - { crop: winter squash, bed: kitchen bed }
          - { crop: radish, bed: kitchen bed }
          - { crop: radish, bed: low bed }
        chores:
          - { chore: Drain the hose, when: [air low tonight below 0 °C] }
        """,
        "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], new(2026, 4, 21), ConditionText.Read).Plan!;

    [Theory]
    [InlineData("low bed", "low bed")]
    [InlineData("the Low Bed", "low bed")]
    [InlineData("kitchen", "kitchen bed")]
    [InlineData("tomatoes", "Tomato (low bed)")]
    [InlineData("Tomato", "Tomato (low bed)")]
    [InlineData("squash", "Winter squash (kitchen bed)")]
    [InlineData("radishes in the low bed", "Radish (low bed)")]
    [InlineData("radish (kitchen bed)", "Radish (kitchen bed)")]
    [InlineData("Tomato (low bed)", "Tomato (low bed)")]
    [InlineData("drain the hose", "Drain the hose")]
    public void A_name_is_found_as_gardeners_say_it(string said, string meant) =>
        Assert.Equal(meant, Assert.IsType<NameInPlan.Found>(NameInPlan.Read(Plan, said)).Name);

    [Fact]
    public void What_can_be_two_things_is_both() =>
        Assert.Equal(["Radish (kitchen bed)", "Radish (low bed)"], Assert.IsType<NameInPlan.Several>(NameInPlan.Read(Plan, "radish")).Names);

    [Theory]
    [InlineData("tomatoe", "tomato")]
    [InlineData("kitchn bed", "kitchen bed")]
    [InlineData("zucchini flowers", null)]
    [InlineData("tomato in the kitchen bed", null)]
    [InlineData("", null)]
    public void What_is_unknown_comes_with_what_was_probably_meant(string said, string? near) =>
        Assert.Equal(near, Assert.IsType<NameInPlan.Unknown>(NameInPlan.Read(Plan, said)).Nearest);
}
