using System.Runtime.CompilerServices;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Planning.Tests.Explanations;

/// <summary>Why a job is asked for or not. The weather is invented.</summary>
public sealed class ExplanationTests
{
    private const string Squash = """
        beds:
          - { bed: long bed, soil: loam }
        plantings:
          - { crop: winter squash, bed: long bed, bought: 1 May 2026, tune: { set out: { nights: 9 °C } } }
        """;

    private const string Feeding = """
        beds:
          - { bed: low bed, size: 2 m x 2 m }
        chores:
          - chore: Spread granular fertiliser
            bed: low bed
            every: 6 weeks
            minutes: 15
            when:
              - rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}
              - rain peak next 24 hours at most {washout: 8 mm/h}
            tune: { enough: 5 mm }
        """;

    private const string Tomatoes = """
        tune: { cover: { chance: 30 % } }
        beds:
          - { bed: low bed, frost pocket: 1 °C }
        plantings:
          - { crop: tomato, bed: low bed, set out: 5 May 2026 }
        """;

    /// <summary>Eleven millimetres on the afternoon of the tenth day back and of the third day ahead.</summary>
    private static Scenario TwoRains() => Scenario.On(2026, 6, 10).Plan(Feeding)
        .Days(WeatherVariable.Rain, -10, -10, Afternoon).Days(WeatherVariable.Rain, 3, 3, Afternoon);

    private static double Afternoon(LocalDateTime at) => at.Hour is > 11 and <= 17 ? 1.5 : 0;

    private static string Plain(string text) => text.Replace('\u00A0', ' ');

    [Fact]
    public void The_days_show_when_the_weather_left_time_for_it_in_the_gardeners_hours()
    {
        var explanation = TwoRains().Explain("spread");

        Assert.Equal(28, explanation.Days.Length);
        Assert.Equal((14, new LocalDate(2026, 6, 10)), (explanation.Days.Count(day => day.IsPast), explanation.Days.First(day => !day.IsPast).Date));
        // Rain of a Sunday afternoon counts from the evening before, in "the next 24 hours", to the hour in which less than 5 mm are left.
        Assert.Equal(
            [new(2026, 5, 30), new(2026, 5, 31), new(2026, 6, 12), new LocalDate(2026, 6, 13)],
            explanation.Days.Where(day => day.Whole == DayMark.Held).Select(day => day.Date));
        var sunday = explanation.Days.Single(day => day.Date == new LocalDate(2026, 5, 31));
        Assert.Equal(DayMark.Held, sunday.Conditions[0].Mark);
        Assert.Equal(new LocalTime(8, 0), Scenario.Calendar.TimeOf(sunday.Windows[0].From));
        Assert.Equal(4, sunday.Conditions[0].Margin!.Value, tolerance: 1e-9); // 9 mm to come, of 5 wanted and 15 allowed
        Assert.Equal(DayMark.Missed, explanation.Days[0].Conditions[0].Mark);
        Assert.Equal(-5, explanation.Days[0].Conditions[0].Margin!.Value, tolerance: 1e-9);
    }

    [Fact]
    public void The_hours_of_the_coming_week_are_those_of_the_agenda()
    {
        foreach (var scenario in (Scenario[])[TwoRains(), Warm(), Warm().Hourly(WeatherVariable.Gust, at => at.Day % 3 == 0 && at.Hour is > 9 and < 22 ? 18 : 4)])
        {
            var agenda = scenario.At();
            var job = Assert.Single(agenda.Jobs, job => job.Kind is JobKind.Spread or JobKind.SetOut);
            var explanation = scenario.Explain(job.Id);

            Assert.NotEmpty(job.Windows);
            Assert.Equal(job.Windows, explanation.Days.Where(day => !day.IsPast && day.Date <= agenda.Date.PlusDays(7)).SelectMany(day => day.Windows));
            Assert.Equal(job.Standing, explanation.Open!.Standing);
        }
    }

    private static Scenario Warm() => Scenario.On(2026, 5, 20).Plan(Squash).Hourly(WeatherVariable.Air, Scenario.Between(17, 30));

    [Fact]
    public void Each_condition_says_what_is_and_each_number_where_it_is_from()
    {
        var explanation = Warm().Explain("set out");

        Assert.Equal(
            [ConditionRole.When, ConditionRole.When, ConditionRole.Unless, ConditionRole.Unless, ConditionRole.By],
            explanation.Conditions.Select(condition => condition.Role));
        Assert.All(explanation.Conditions.Take(4), condition => Assert.True(condition.Allows));
        Assert.True(explanation.Conditions[2].Margin > 0, "What is not in the way has a margin to spare.");
        Assert.Contains("{nights: 9 °C}", Plain(explanation.Conditions[1].Phrase), StringComparison.Ordinal);
        var nights = explanation.Numbers.Single(number => number.Name == "nights");
        Assert.Equal([NumberOrigin.Shipped, NumberOrigin.Planting], nights.Layers.Select(layer => layer.Source.Origin));
        Assert.Equal(("garden.yaml", 10), (nights.Source.File, nights.Source.Line));
        Assert.Equal(0.6, explanation.Rule.LeastShare);
        Assert.Equal("chance", explanation.Numbers[^1].Name);
    }

    [Fact]
    public void A_cover_is_judged_at_nightfall_and_a_tuned_chance_is_its_rule()
    {
        var explanation = Scenario.On(2026, 5, 7).Plan(Tomatoes).ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(13, 24))
            .Days(WeatherVariable.Air, 0, 1, Scenario.Between(1, 12)).Days(WeatherVariable.Air, -5, -4, Scenario.Between(1, 12)).Explain("cover tomatoes");

        Assert.True(explanation.IsOfTheNight);
        // A night begins on the evening before its low, and the evening after a cold day is cold already.
        Assert.Equal([1, 2, 3, 6, 7, 8], explanation.Days.Where(day => day.Whole == DayMark.Held).Select(day => day.Date.Day));
        Assert.Equal(0.3, explanation.Rule.LeastShare, tolerance: 1e-9);
        Assert.Equal(NumberOrigin.GardenKind, explanation.Numbers[^1].Source.Origin);
        Assert.Equal(0.2, explanation.Numbers[^1].Unchanged.Value);
        Assert.Equal(Standing.Now, explanation.Open!.Standing);
    }

    [Fact]
    public void The_gardens_leaf_number_is_what_the_agenda_covers_by()
    {
        Scenario Cool(string tune) => Scenario.On(2026, 5, 7).Plan(tune + Tomatoes[Tomatoes.IndexOf("beds", StringComparison.Ordinal)..])
            .ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(13, 24)).Days(WeatherVariable.Air, 0, 1, Scenario.Between(3, 14));
        bool Covers(Scenario scenario) => scenario.At().Jobs.Any(job => job.Kind == JobKind.Cover);

        Assert.True(Covers(Cool("")));
        Assert.False(Covers(Cool("tune: { cover: { leaf: -9 °C } }\n")));
        Assert.False(Covers(Cool("tune: { tomato: { cover: { leaf: -9 °C } } }\n")));
    }

    [Fact]
    public void Numbers_tried_out_show_the_days_they_would_change_and_leave_the_phrases()
    {
        var scenario = TwoRains();
        var plain = scenario.Explain("spread");
        var tried = scenario.Explain("spread", ("enough", new(12, Dimension.WaterDepth)));

        Assert.Null(plain.Trial);
        Assert.DoesNotContain(tried.Days, day => day.Whole == DayMark.Held);
        Assert.Equal(plain.Days.Select(day => day.Whole), tried.Trial!.Days.Select(day => day.Whole));
        Assert.Equal(plain.Conditions.Select(condition => (condition.Role, condition.Label)), tried.Conditions.Select(condition => (condition.Role, condition.Label)));
        Assert.Equal(NumberOrigin.Trial, tried.Numbers.Single(number => number.Name == "enough").Source.Origin);
        Assert.Contains("Tried out: enough 12 mm instead of 5 mm: ", Plain(string.Join(' ', ExplanationWords.Summary(tried))), StringComparison.Ordinal);
        Assert.Contains("would not suit any more", string.Join(' ', ExplanationWords.Summary(tried)), StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => scenario.Explain("spread", ("enough", new(12, Dimension.Temperature))));
    }

    [Fact]
    public void A_job_that_is_not_open_is_explained_all_the_same()
    {
        var explanation = TwoRains().Done("mill-bank/spread-granular-fertiliser-low-bed/spread/1", daysAgo: 20).Explain("spread");

        Assert.Null(explanation.Open);
        Assert.Equal("It is not open: it was done on 21 May and is wanted again from 2 July.", explanation.HeldBack);
        Assert.Equal(28, explanation.Days.Length);
    }

    [Fact]
    public void Nobody_there_and_not_known_are_told_apart_from_missed()
    {
        var explanation = TwoRains().Plan("away: [ { from: 11 June 2026, to: 12 June 2026 } ]\n" + Feeding)
            .Hourly(WeatherVariable.Rain, at => at.Date > new LocalDate(2026, 6, 18) ? double.NaN : 0).Explain("spread");

        DayMark On(int day) => explanation.Days.Single(each => each.Date == new LocalDate(2026, 6, day)).Whole;
        Assert.Equal([DayMark.Missed, DayMark.NobodyThere, DayMark.NobodyThere, DayMark.Missed, DayMark.Unknown], [On(10), On(11), On(12), On(13), On(20)]);
        Assert.Contains("on 2 days nobody is there", Plain(string.Join(' ', ExplanationWords.Summary(explanation))), StringComparison.Ordinal);
    }

    [Fact]
    public void No_line_is_wider_than_a_hundred_columns()
    {
        foreach (var explanation in (Explanation[])[Warm().Explain("set out"), TwoRains().Explain("spread", ("enough", new(12, Dimension.WaterDepth)))])
            Assert.All(ExplanationText.Write(explanation).Split('\n'), line => Assert.InRange(line.Length, 0, ExplanationText.Width));
    }

    [Fact]
    public void A_whole_explanation_reads_as_approved() =>
        IsApproved(
            Plain(ExplanationText.Write(TwoRains().Days(WeatherVariable.Rain, -5, -5, at => Afternoon(at) / 2).Explain("spread", ("enough", new(4, Dimension.WaterDepth))))),
            "spreading");

    /// <summary>On a difference the new words are left as <c>name.received.txt</c>; rename it once it reads well.</summary>
    private static void IsApproved(string actual, string name, [CallerFilePath] string test = "")
    {
        string approved = Path.Combine(Path.GetDirectoryName(test)!, $"{name}.approved.txt");
        string expected = File.Exists(approved) ? File.ReadAllText(approved) : "";
        if (expected != actual)
            File.WriteAllText(Path.ChangeExtension(approved, null).Replace(".approved", ".received.txt", StringComparison.Ordinal), actual);
        Assert.Equal(expected, actual);
    }

    [Fact]
    public void What_wind_calls_for_is_judged_at_every_hour_of_the_day()
    {
        var explanation = Scenario.On(2026, 7, 10).Plan("""
            beds:
              - { bed: long bed }
            plantings:
              - { crop: sweet corn, bed: long bed, sown: 10 May 2026 }
            """).Days(WeatherVariable.Gust, -3, -3, at => at.Hour == 3 ? 25 : 5).Days(WeatherVariable.Gust, 2, 2, at => at.Hour == 14 ? 25 : 5)
            .Explain("tie corn");

        Assert.True(explanation.IsOfTheDay);
        Assert.Equal([new(2026, 7, 7), new LocalDate(2026, 7, 12)], explanation.Days.Where(day => day.Whole == DayMark.Held).Select(day => day.Date));
        Assert.Contains("it was called for on 1 day (7 July)", Plain(string.Join(' ', ExplanationWords.Summary(explanation))), StringComparison.Ordinal);
    }

    [Fact]
    public void What_has_no_conditions_is_explained_by_what_it_goes_by()
    {
        var dry = Scenario.On(2026, 7, 10).Plan("""
            beds:
              - { bed: long bed, size: 2 m x 2 m, soil: loam }
            plantings:
              - { crop: cabbage, bed: long bed, set out: 10 May 2026 }
            """).Hourly(WeatherVariable.Rain, _ => 0).Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is > 7 and < 20 ? 0.45 : 0);
        string water = Plain(ExplanationText.Write(dry.Explain("water long")));
        string look = Plain(ExplanationText.Write(dry.Explain("look over the cabbage")));

        Assert.Matches(@"WHAT IT GOES BY\n  - It lacks \d+ mm of water", water);
        Assert.Contains("WHAT IT GOES BY", look, StringComparison.Ordinal);
        Assert.DoesNotContain("CONDITIONS", look, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_job_of_a_morning_can_be_explained()
    {
        foreach (var scenario in (Scenario[])[TwoRains(), Warm(), Scenario.On(2026, 7, 10).Plan(Tomatoes).Days(WeatherVariable.Gust, 0, 2, _ => 25)])
            foreach (var job in scenario.At().Jobs)
                Assert.Equal(job.Id, scenario.Explain(job.Id).Open?.Id);
    }
}
