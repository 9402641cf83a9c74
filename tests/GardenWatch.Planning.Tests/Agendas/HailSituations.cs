using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>What hail and thunderstorms ask for. Codes are those of WMO table 4677; the weather is invented.</summary>
public class HailSituations
{
    private const int Showers = 80, Thunderstorm = 95, WithHail = 96, WithHeavyHail = 99;

    private const string Garden = """
        beds:
          - { bed: salad bed, cover: medium fleece }
          - { bed: back bed, cover: none }
          - { bed: big pot, container: 40 litres }
          - { bed: cold frame, over: frame }
          - { bed: root bed }
        plantings:
          - { crop: lettuce, bed: salad bed, set out: 20 May 2026 }
          - { crop: kale, bed: back bed, set out: 1 June 2026 }
          - { crop: tomato, bed: big pot, set out: 20 May 2026 }
          - { crop: lettuce, bed: cold frame, set out: 20 May 2026 }
          - { crop: garlic, bed: root bed, sown: 20 October 2025 }
        """;

    private const string Salad = """
        beds:
          - { bed: salad bed, cover: medium fleece }
        plantings:
          - { crop: lettuce, bed: salad bed, set out: 20 May 2026 }
        """;

    private static Scenario On(string plan = Salad) => Scenario.On(2026, 6, 16).Plan(plan).Hourly(WeatherVariable.WeatherCode, _ => Showers);

    private static Func<LocalDateTime, double> Code(int code, int from = 15, int until = 17) => at => at.Hour >= from && at.Hour < until ? code : Showers;

    private static Scenario Storm(int code, string plan = Salad) => On(plan).Days(WeatherVariable.WeatherCode, 0, 0, Code(code));

    private static Job[] AgainstHail(Agenda agenda) => [.. agenda.Jobs.Where(job => job.Threat?.Danger == Danger.Hail)];

    [Fact]
    public void Hail_in_the_forecast_asks_for_shelter_before_it_and_off_again_after_it()
    {
        var shelter = Assert.Single(AgainstHail(Storm(WithHail).At()));

        Assert.Equal(("mill-bank/salad-bed/shelter/1", JobKind.Shelter, Standing.Now), (shelter.Id, shelter.Kind, shelter.Standing));
        Assert.Equal(new LocalTime(7, 30), Scenario.Calendar.TimeOf(shelter.ActBy!.Value));
        Assert.Equal(new LocalTime(17, 30), Scenario.Calendar.TimeOf(shelter.UndoAt!.Value));
        Assert.Equal(HailClass.Told, shelter.DecidingValue);
        Assert.Contains(shelter.Cautions, caution => caution.StartsWith("Thunder heard: go in", StringComparison.Ordinal));
        Assert.StartsWith("Hail today from", shelter.Reasons[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Beds_in_the_open_are_sheltered_by_what_is_at_hand_pots_are_moved_and_roots_and_frames_left()
    {
        var jobs = AgainstHail(Storm(WithHail, Garden).At()).ToDictionary(job => job.Name);

        Assert.Equal(["Move the big pot under cover", "Shelter the back bed", "Shelter the salad bed"], jobs.Keys.Order(StringComparer.Ordinal));
        Assert.Contains("Crates", jobs["Shelter the back bed"].How!, StringComparison.Ordinal);
        Assert.Contains("Fleece", jobs["Shelter the salad bed"].How!, StringComparison.Ordinal);
    }

    [Fact]
    public void A_thunderstorm_alone_is_none_and_one_with_squalls_or_a_downpour_may_bring_hail()
    {
        Assert.Empty(AgainstHail(Storm(Thunderstorm).At()));

        var squall = Assert.Single(AgainstHail(Storm(Thunderstorm).Days(WeatherVariable.Gust, 0, 0, at => at.Hour is >= 15 and < 18 ? 17 : 6).At()));
        Assert.Equal((HailClass.Possible, "storm"), (squall.DecidingValue, squall.Reasons[0].Code));
        Assert.Single(AgainstHail(Storm(Thunderstorm).Days(WeatherVariable.Rain, 0, 0, at => at.Hour is 16 or 17 ? 18 : 0).At()));
    }

    [Fact]
    public void A_thunderstorm_in_a_forecast_of_midday_presses()
    {
        var said = LastSaid.Nothing.After(On().At());
        var midday = Storm(WithHail).Said(said).At("11:30");

        Assert.Single(Threats.Pressing(midday, said));
        Assert.Contains(midday.Jobs[0].Reasons, reason => reason.Code == "no-slot");
        var told = said.After(midday);
        Assert.Empty(Threats.Pressing(Storm(WithHail).Said(told).At("12:30"), told));
    }

    [Fact]
    public void What_presses_goes_by_the_hour_of_the_evening_look()
    {
        var said = LastSaid.Nothing.After(On().At());
        var morning = Storm(WithHail).Said(said).At("08:30");
        var actBy = Assert.Single(Threats.NewOrWorse(morning, said)).ActBy!.Value;
        var byTheWall = actBy.InZone(morning.Zone).TimeOfDay;
        Assert.True(actBy > morning.AsOf + Duration.FromHours(3), "else it presses at any rate");

        Assert.Empty(Threats.Pressing(morning, said, byTheWall.PlusMinutes(-1)));
        Assert.Single(Threats.Pressing(morning, said, byTheWall));
    }

    [Fact]
    public void Heavy_hail_after_hail_is_worse_and_the_same_is_not()
    {
        var said = LastSaid.Nothing.After(Storm(WithHail).At());

        Assert.Empty(Threats.NewOrWorse(Storm(WithHail).Said(said).At("10:00"), said));
        Assert.Single(Threats.NewOrWorse(Storm(WithHeavyHail).Said(said).At("10:00"), said));
    }

    [Fact]
    public void What_went_away_is_called_off()
    {
        var late = On().Days(WeatherVariable.WeatherCode, 0, 0, Code(WithHail, 20, 22));
        var said = LastSaid.Nothing.After(late.At());

        Assert.Equal("called-off", Assert.Single(Threats.CalledOff(On().Said(said).At("17:00"), said)).Reasons[0].Code);
    }

    [Theory]
    [InlineData(3, true)] // 3 of 10: the rule of a shelter
    [InlineData(2, false)]
    public void The_runs_decide_around_the_rule(int storms, bool asked)
    {
        var agenda = On().Runs(storms, WeatherVariable.WeatherCode, 0, 0, Code(WithHail)).RunsAsForecast(10 - storms).At();

        Assert.Equal(asked, AgainstHail(agenda).Length == 1);
    }

    [Fact]
    public void Without_weather_codes_a_downpour_with_squalls_is_enough_and_else_the_sky_decides()
    {
        var none = Scenario.On(2026, 6, 16).Plan(Salad);
        Assert.Empty(AgainstHail(none.At()));

        var squall = Scenario.On(2026, 6, 16).Plan(Salad)
            .Days(WeatherVariable.Rain, 0, 0, at => at.Hour == 16 ? 20 : 0).Days(WeatherVariable.Gust, 0, 0, at => at.Hour == 16 ? 18 : 6);
        Assert.Single(AgainstHail(squall.At()));
    }

    [Fact]
    public void The_lightning_before_it_sets_the_hour()
    {
        var agenda = On().Days(WeatherVariable.WeatherCode, 0, 0, at => at.Hour switch { 19 or 20 => Thunderstorm, 22 => WithHail, _ => Showers }).At();

        var shelter = Assert.Single(AgainstHail(agenda));
        Assert.True(Scenario.Calendar.TimeOf(shelter.ActBy!.Value) <= new LocalTime(19, 0), $"by {shelter.ActBy}");
    }

    [Fact]
    public void Whatever_else_suits_in_hours_of_thunder_carries_the_caution()
    {
        const string Chore = Salad + """

            chores:
              - chore: Hoe
                bed: salad bed
                kind: other
            """;
        var agenda = Scenario.On(2026, 6, 20).Plan(Chore).Hourly(WeatherVariable.WeatherCode, at => at.Hour is >= 9 and < 12 ? Thunderstorm : Showers).At("08:00");
        var hoe = Assert.Single(agenda.Jobs, job => job.Name == "Hoe");
        Assert.Contains(hoe.Cautions, caution => caution.StartsWith("Thunder heard", StringComparison.Ordinal));

        var clear = Scenario.On(2026, 6, 20).Plan(Chore).Hourly(WeatherVariable.WeatherCode, _ => Showers).At("08:00");
        Assert.Empty(Assert.Single(clear.Jobs, job => job.Name == "Hoe").Cautions);
    }
}
