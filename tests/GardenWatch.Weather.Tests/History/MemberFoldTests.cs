using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Weather.Tests.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.History;

public class MemberFoldTests
{
    private static readonly Instant Fetched = ServiceBench.Start;

    [Fact]
    public void A_member_is_the_main_series_with_its_own_values_from_its_start_on()
    {
        var main = MainSeries();
        var newest = InventedMembers.At(Fetched, 20, 96, (_, _, member) => 30 + member, WeatherVariable.Air);

        var members = MemberFold.Members(main, newest);

        Assert.Equal(20, members.Length);
        int from = main.FirstAtOrAfter(newest.Start);
        for (int i = 0; i < 20; i++)
        {
            Assert.Equal(main.Start, members[i].Start);
            Assert.Equal(main.Hours, members[i].Hours);
            for (int hour = 0; hour < main.Hours; hour++)
                Assert.Equal(
                    hour >= from && hour < from + 96 ? 30 + i : main[WeatherVariable.Air][hour], members[i][WeatherVariable.Air][hour]);
        }
        Assert.Equal($"Open-Meteo ecmwf_ifs025, member 7", members[7].SourceOf(from)!.Name);
        Assert.Equal(main.SourceOf(from - 1), members[7].SourceOf(from - 1));
        Assert.Equal(main.SourceOf(from + 96), members[7].SourceOf(from + 96));
    }

    [Fact]
    public void What_a_member_lacks_is_the_main_series_and_said_to_be()
    {
        var main = MainSeries();
        var newest = InventedMembers.At(
            Fetched, 5, 48, (stamp, _, _) => stamp == Fetched + Duration.FromMinutes(110) ? double.NaN : 8, WeatherVariable.Air, WeatherVariable.DewPoint);

        var member = MemberFold.Members(main, newest)[3];

        int gap = main.FirstAtOrAfter(Fetched) + 1;
        Assert.Equal(main[WeatherVariable.Air][gap], member[WeatherVariable.Air][gap]);
        Assert.Equal(8, member[WeatherVariable.Air][gap + 1]);
        // The very array, not a copy.
        Assert.True(main[WeatherVariable.Rain].Overlaps(member[WeatherVariable.Rain]));
        var borrowed = MemberFold.Borrowed(newest);
        Assert.Contains(WeatherVariable.Rain, borrowed);
        Assert.DoesNotContain(WeatherVariable.Air, borrowed);
        Assert.DoesNotContain(WeatherVariable.RelativeHumidity, borrowed);
    }

    [Fact]
    public void Humidity_goes_with_the_members_own_air()
    {
        var newest = InventedMembers.At(
            Fetched, 5, 48, (_, variable, member) => variable == WeatherVariable.Air ? 10 + member : 10, WeatherVariable.Air, WeatherVariable.DewPoint);
        var main = MainSeries();

        var members = MemberFold.Members(main, newest);

        int hour = main.FirstAtOrAfter(Fetched) + 5;
        Assert.Equal(100, members[0][WeatherVariable.RelativeHumidity][hour], 1e-9);
        Assert.Equal(DewPoint.HumidityFrom(13, 10), members[3][WeatherVariable.RelativeHumidity][hour], 1e-9);
        Assert.Equal(main[WeatherVariable.RelativeHumidity][0], members[3][WeatherVariable.RelativeHumidity][0]);
    }

    [Fact]
    public void There_are_no_members_where_there_is_no_main_series_or_it_ends_before_them()
    {
        var newest = InventedMembers.Likely(Fetched, members: 5, days: 4);
        Assert.Empty(MemberFold.Members(WeatherSeries.Empty, newest));
        Assert.Empty(MemberFold.Members(MainSeries(), newest with { Start = newest.Start + Duration.FromDays(40) }));
        Assert.Empty(MemberFold.Members(MainSeries(), newest with { Start = newest.Start - Duration.FromDays(20) }));
    }

    [Fact]
    public void Spreads_are_of_whole_days_and_nights_by_lead()
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Amsterdam"];
        var calendar = new LocalCalendar(zone, ServiceBench.Garden);
        // Eleven members, a degree apart; a wet member is one with 0.5 mm each hour.
        var pull = InventedMembers.At(
            Fetched, 11, 24 * 5, (stamp, variable, member) => variable == WeatherVariable.Rain
                ? (member >= 8 ? 0.5 : 0)
                : member + (stamp.InZone(zone).Hour == 14 ? 20 : stamp.InZone(zone).Hour == 4 ? -5 : 5),
            WeatherVariable.Air, WeatherVariable.Rain);

        var spreads = MemberSpread.Of(pull, calendar);

        // From 8:00 on 21 April: the day itself is not whole any more, its night is.
        Assert.DoesNotContain(spreads, spread => spread is { Part: SpreadPart.Day, LeadDays: 0 });
        var night = Assert.Single(spreads, spread => spread is { Part: SpreadPart.Night, LeadDays: 0 });
        Assert.Equal(new LocalDate(2027, 4, 21), night.Date);
        Assert.Equal(new Spread(-4, -2.5, 0, 2.5, 4), night.LowC);
        var day = Assert.Single(spreads, spread => spread is { Part: SpreadPart.Day, LeadDays: 2 });
        Assert.Equal(new Spread(21, 22.5, 25, 27.5, 29), day.HighC);
        Assert.Equal(new Spread(0, 0, 0, 6, 12), day.RainMm); // 24 hours of half a millimetre, in three of eleven
        Assert.Equal(spreads, Assert.NotNull(SpreadPacking.Unpack(SpreadPacking.Pack(spreads), out _)).ToArray());
    }

    [Fact]
    public void A_spread_needs_members_that_know_the_whole_day()
    {
        var calendar = new LocalCalendar(DateTimeZone.Utc, ServiceBench.Garden);
        var pull = InventedMembers.At(
            Fetched, 6, 72, (stamp, _, member) => member > 2 && stamp.InUtc().Hour == 3 ? double.NaN : 7, WeatherVariable.Air);

        var spread = MemberSpread.Of(pull, calendar).First(spread => spread.Part == SpreadPart.Day);

        Assert.True(double.IsNaN(spread.LowC.P50));
        Assert.True(double.IsNaN(spread.RainMm.P50));
        var back = Assert.NotNull(SpreadPacking.Unpack(SpreadPacking.Pack([spread]), out _));
        Assert.Equal([spread], back.ToArray());
        Assert.Null(SpreadPacking.Unpack([1, 2, 3], out string? fault));
        Assert.NotNull(fault);
    }

    /// <summary>A week back and sixteen days on, all variables.</summary>
    private static WeatherSeries MainSeries()
    {
        var pull = InventedPull.At(
            Fetched, 7, 16, (stamp, variable) => InventedWeather.At(stamp, ServiceVariable.Of(variable).Name) ?? double.NaN,
            [.. ServiceVariable.All.Select(variable => variable.Variable)]);
        return PullFold.Join([pull], Fetched);
    }
}
