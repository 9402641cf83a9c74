using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Sowings;
using NodaTime;
using static GardenWatch.Planning.Tests.Seasons.StageTests;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>What stays from year to year is picked in its weeks of each year, and rests between them. The months are common practice at a mean of 10 °C.</summary>
public class YearsBearingTests
{
    private static readonly LocalDate Read = new(2023, 1, 10);

    private static readonly Lazy<(SyntheticYears Weather, ClimateSummary Climate)> South = new(() =>
    {
        var years = new SyntheticYears(-42, 2015, 9, seed: 11, meanC: 11, swingC: 7);
        return (years, years.Climate(new(2015, 1, 1), new(2023, 1, 1)));
    });

    private static SeasonPlayer Northern(string planting, bool withClimate = true) => Garden($"  - {{ {planting}, bed: low bed, id: plants }}", Read, withClimate);

    private static Job? Asked(SeasonPlayer garden, LocalDate date) => Look(garden, date).Jobs.SingleOrDefault(job => job.Id.Contains("plants/harvest/", StringComparison.Ordinal));

    /// <summary>The days of 2023, every third, on which it is asked to be picked.</summary>
    private static List<(LocalDate Date, Job Job)> AskedIn2023(Func<LocalDate, Agenda> look)
    {
        var asked = new List<(LocalDate, Job)>();
        for (var date = new LocalDate(2023, 1, 12); date.Year == 2023; date = date.PlusDays(3))
            foreach (var job in look(date).Jobs.Where(job => job.Id.Contains("/plants/harvest/", StringComparison.Ordinal)))
                asked.Add((date, job));
        return asked;
    }

    [Theory]
    [InlineData("crop: asparagus, set out: 10 April 2019", "Look for the first asparagus", 4, 5)]
    [InlineData("crop: strawberry, set out: 20 April 2021", "Look for the first strawberries", 5, 7)]
    [InlineData("crop: strawberry, set out: 20 August 2022", "Look for the first strawberries", 5, 7)]
    [InlineData("crop: rhubarb, growing: yes", "Look for the first rhubarb", 4, 5)]
    [InlineData("crop: apple, set out: 1 November 2015", "Look for the first apples", 7, 9)]
    public void It_is_asked_for_in_its_months_of_a_later_year_and_not_in_winter(string planting, string name, int firstMonth, int lastMonth)
    {
        var garden = Northern(planting);
        var asked = AskedIn2023(date => Look(garden, date));

        Assert.Equal(name, asked[0].Job.Name);
        Assert.InRange(asked[0].Date.Month, firstMonth, lastMonth);
        Assert.DoesNotContain(asked, each => each.Date.Month is 12 or 1 or 2);
        Assert.Equal("long-acre/plants/harvest/1", Assert.Single(asked.Select(each => each.Job.Id).Distinct()));
        var days = asked.ConvertAll(each => each.Date);
        Assert.Equal(days.Count, Period.DaysBetween(days[0], days[^1]) / 3 + 1); // without a gap
    }

    [Fact]
    public void In_the_south_its_year_is_the_southern_one()
    {
        var garden = SeasonPlayer.Read("""
            beds: [ { bed: low bed } ]
            plantings: [ { crop: asparagus, set out: 10 September 2018, bed: low bed, id: plants } ]
            """, Read);
        var asked = AskedIn2023(date =>
        {
            var asOf = South.Value.Weather.Calendar.At(date, new LocalTime(6, 0));
            return Agenda.For(garden, South.Value.Weather.Calendar, Journal.AsOf([], asOf),
                new(South.Value.Weather.Between(date.PlusDays(-60), date.PlusDays(10)), new(asOf, Duration.Zero, WeatherState.Fresh), [], South.Value.Climate), LastSaid.Nothing, asOf);
        });
        var spring = asked.Where(each => each.Date.Month > 3).ToList();
        Assert.NotEmpty(spring);
        Assert.All(spring, each => Assert.InRange(each.Date.Month, 8, 12));
    }

    [Fact]
    public void Its_first_picking_is_told_as_a_range_before_it_comes()
    {
        var told = Assert.Single(Look(Northern("crop: asparagus, set out: 10 April 2019"), new(2023, 3, 1)).Sowings);
        Assert.Equal("bearing", told.NextStage);
        Assert.Contains("first picking", told.Sentence, StringComparison.Ordinal);
        Assert.Contains("by warmth", told.Sentence, StringComparison.Ordinal);
        Assert.Equal(2023, told.Harvest!.Start.Year);
        Assert.InRange(told.Harvest.Length, 7, 50);
    }

    [Fact]
    public void What_was_picked_in_its_weeks_rests_until_the_next_year_and_is_then_a_job_of_its_own()
    {
        var garden = Northern("crop: asparagus, set out: 10 April 2018");
        garden.Record(Done(new(2022, 4, 28), "plants/harvest/1"));
        var asked = AskedIn2023(date => Look(garden, date));
        Assert.Equal("long-acre/plants/harvest/101", Assert.Single(asked.Select(each => each.Job.Id).Distinct()));
        Assert.Equal("Look for the first asparagus", asked[0].Job.Name);

        garden.Record(Done(new(2023, 5, 2), "plants/harvest/101"));
        Assert.Equal(("bearing", Evidence.Seen), (Assert.Single(Look(garden, new(2023, 5, 10)).Sowings).Stage, Assert.Single(Look(garden, new(2023, 5, 10)).Sowings).By));
        Assert.Null(Asked(garden, new(2023, 5, 10)));
        var resting = Assert.Single(Look(garden, new(2023, 8, 1)).Sowings);
        Assert.Equal("set out", resting.Stage);
        Assert.Equal(2024, resting.Harvest!.Start.Year);
    }

    [Fact]
    public void Too_young_plants_are_left_alone()
    {
        var garden = Northern("crop: asparagus, set out: 10 April 2022");
        Assert.Empty(AskedIn2023(date => Look(garden, date)));
    }

    [Fact]
    public void Without_usual_warmth_the_record_of_earlier_years_dates_it_by_a_fortnight_each_way()
    {
        var garden = Northern("crop: rosemary, set out: 10 April 2015");
        Assert.Empty(AskedIn2023(date => Look(garden, date)));

        garden.Record(Done(new(2021, 5, 20), "plants/harvest/1"));
        garden.Record(Done(new(2022, 6, 1), "plants/harvest/101"));
        var told = Assert.Single(Look(garden, new(2023, 3, 1)).Sowings);
        Assert.Contains("as in earlier years", told.Sentence, StringComparison.Ordinal);
        Assert.InRange(told.Harvest!.Start, new(2023, 5, 4), new(2023, 5, 8));
        Assert.InRange(told.Harvest.End, new(2023, 6, 13), new(2023, 6, 17));
        Assert.InRange(AskedIn2023(date => Look(garden, date))[0].Date, new(2023, 5, 4), new(2023, 5, 10));
    }

    [Fact]
    public void The_year_of_a_first_record_is_its_own()
    {
        var garden = Northern("crop: rosemary, growing: yes");
        garden.Record(Done(new(2023, 5, 20), "plants/harvest/1"));
        var bearing = Assert.Single(Look(garden, new(2023, 6, 1)).Sowings);
        Assert.Equal("bearing", bearing.Stage);
        Assert.Contains("picked since 20 May", bearing.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_nothing_dates_it_nothing_is_said()
    {
        var garden = Northern("crop: rosemary, growing: yes");
        Assert.Empty(AskedIn2023(date => Look(garden, date)));
        var unknownPlace = Northern("crop: apple, growing: yes", withClimate: false);
        Assert.Empty(AskedIn2023(date => Look(unknownPlace, date)));
    }
}
