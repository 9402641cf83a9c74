using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>A warning only for what is new, worse or called off. The weather is invented.</summary>
public class ThreatsTests
{
    private static Scenario Night(double low) => Scenario.On(2026, 5, 20).Plan("""
        beds:
          - { bed: low bed, size: 2 m x 2 m, cover: medium fleece }
        plantings:
          - { crop: tomato, bed: low bed, set out: 15 May, plants: 6 }
        """)
        .ClearAndCalm().Days(WeatherVariable.Air, 0, 1, Scenario.Between(low, 16));

    private static LastSaid SaidOf(Agenda agenda) => LastSaid.Nothing.After(agenda);

    [Fact]
    public void What_the_morning_told_is_not_told_again_in_the_evening()
    {
        var said = SaidOf(Night(1).At());
        var evening = Night(1).Said(said).At("17:00");

        Assert.Empty(Threats.NewOrWorse(evening, said));
        Assert.Empty(Threats.CalledOff(evening, said));
    }

    [Theory]
    [InlineData(0.6, 0)]
    [InlineData(1.5, 1)]
    public void A_night_that_turned_a_degree_colder_is_told_again(double colder, int threats)
    {
        var said = SaidOf(Night(1).At());

        Assert.Equal(threats, Threats.NewOrWorse(Night(1 - colder).Said(said).At("17:00"), said).Length);
    }

    [Fact]
    public void A_frost_that_the_morning_did_not_know_is_new_and_one_that_went_away_is_called_off_once()
    {
        var mild = SaidOf(Night(12).At());
        var evening = Night(1).Said(mild).At("17:00");
        Assert.Equal(JobKind.Cover, Assert.Single(Threats.NewOrWorse(evening, mild)).Kind);

        var told = mild.After(evening);
        var later = Night(12).Said(told).At("18:00");
        var off = Assert.Single(Threats.CalledOff(later, told));
        Assert.Equal(Standing.Dropped, off.Standing);
        Assert.Contains("milder", Assert.Single(off.Reasons).Text, StringComparison.Ordinal);

        var tellingIt = told.After(later);
        Assert.Empty(Threats.CalledOff(Night(12).Said(tellingIt).At("19:00"), tellingIt));
        Assert.Single(Threats.NewOrWorse(Night(1).Said(tellingIt).At("19:00"), tellingIt));
    }

    [Fact]
    public void Before_the_evening_only_what_cannot_wait_for_it_is_told()
    {
        var mild = SaidOf(Night(12).At());

        Assert.Empty(Threats.Pressing(Night(1).Said(mild).At("10:00"), mild));
        Assert.Single(Threats.Pressing(Night(1).Said(mild).At("18:30"), mild));
    }

    [Fact]
    public void A_message_about_something_else_does_not_move_what_was_said_of_a_danger()
    {
        var said = SaidOf(Night(1).At());
        var noon = Night(0.2).Said(said).At("12:00");

        var told = said.AfterTelling([], noon.Date);
        Assert.Equal(said.Jobs, told.Jobs);
        Assert.Single(Threats.NewOrWorse(Night(-0.6).Said(told).At("17:00"), told));
        Assert.Empty(Threats.NewOrWorse(Night(-0.6).Said(said.After(noon)).At("17:00"), said.After(noon)));
    }
}
