using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>The same dangers south of the equator, in polar days, and on the days on which clocks change. The weather is invented.</summary>
public class DangerElsewhereTests
{
    private const string Beds = """
        beds:
          - { bed: salad bed }
          - { bed: cold frame, over: frame }
        plantings:
          - { crop: lettuce, bed: salad bed, growing: yes }
          - { crop: tomato, bed: salad bed, growing: yes }
          - { crop: lettuce, bed: cold frame, growing: yes }
        """;

    private static readonly ImmutableArray<(string Zone, double Latitude, double Longitude)> Places =
        [("Pacific/Auckland", -43.5, 172.6), ("Europe/Oslo", 71, 25.8), ("Australia/Lord_Howe", -31.5, 159.1), ("America/Santiago", -33.4, -70.7)];

    private static Agenda Look(int place, LocalDate date, LocalTime time, double high, double gust)
    {
        var (zoneId, latitude, longitude) = Places[place];
        var zone = DateTimeZoneProviders.Tzdb[zoneId];
        var calendar = new LocalCalendar(zone, new GeoPosition(latitude, longitude, 20));
        string text = FormattableString.Invariant($$"""
            garden: Far Bank
            id: far-bank
            place: { town: Anywhere, latitude: {{latitude}}, longitude: {{longitude}}, elevation: 20 m, zone: {{zoneId}} }
            units: metric
            in the garden: { weekdays: 06:00-07:30 and 17:30-20:30, weekends: 06:00-20:30 }
            digest: { at: "06:00", to: [you@example.org] }

            """) + Beds;
        var reading = PlanFile.Read(text, "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], date, ConditionText.Read);
        Assert.Empty(reading.Faults);
        // Hours of the service are whole ones of UTC, whatever the zone.
        var start = Instant.FromUnixTimeSeconds(zone.AtStartOfDay(date.PlusDays(-20)).ToInstant().ToUnixTimeSeconds() / 3600 * 3600);
        const int hours = 30 * 24;
        ImmutableArray<double> Hours(Func<LocalDateTime, double> value) =>
            [.. Enumerable.Range(0, hours).Select(hour => value((start + Duration.FromHours(hour)).InZone(zone).LocalDateTime))];
        var columns = new Dictionary<WeatherVariable, ImmutableArray<double>>
        {
            [WeatherVariable.Air] = Hours(at => at.Date >= date && at.Hour is >= 12 and < 18 ? high : 15),
            [WeatherVariable.Radiation] = Hours(at => at.Hour is >= 8 and < 20 ? 600 : 0),
            [WeatherVariable.Gust] = Hours(at => at.Date == date && at.Hour is >= 21 and < 24 ? gust : 6),
            [WeatherVariable.Wind] = Hours(_ => 3),
            [WeatherVariable.Rain] = Hours(_ => 0),
            [WeatherVariable.CloudCover] = Hours(_ => 20),
            [WeatherVariable.DewPoint] = Hours(_ => 8),
            [WeatherVariable.RelativeHumidity] = Hours(_ => 50),
        }.ToImmutableDictionary();
        var asOf = calendar.At(date, time);
        var series = new WeatherSeries(start, hours, columns, [new(SourceKind.Forecast, "the test", start)], [.. Enumerable.Repeat((short)0, hours)]);
        return Agenda.For(reading.Plan!, calendar, Journal.Empty, new(series, new(asOf, Duration.Zero, WeatherState.Fresh)), LastSaid.Nothing, asOf);
    }

    [Theory]
    [InlineData(0, 2026, 1, 14)] // high summer in the south
    [InlineData(1, 2026, 6, 24)] // the sun does not set
    [InlineData(2, 2026, 1, 14)]
    [InlineData(3, 2026, 1, 14)]
    public void Heat_and_gale_ask_for_the_same_in_hours_of_the_place(int place, int year, int month, int day)
    {
        var agenda = Look(place, new(year, month, day), new(6, 0), high: 32, gust: 26);

        foreach (var kind in (JobKind[])[JobKind.Vent, JobKind.Shade, JobKind.Tie, JobKind.Protect])
        {
            var job = agenda.Jobs.FirstOrDefault(job => job.Kind == kind);
            // A frame that the evening's gale shuts is open all day before it.
            Assert.True(job is { Standing: Standing.Now, ActBy: not null }, $"{kind}: {job}");
            Assert.Equal(agenda.Date, job.ActBy!.Value.InZone(agenda.Zone).Date);
        }
    }

    [Fact]
    public void A_quiet_mild_day_asks_for_nothing_anywhere()
    {
        for (int place = 0; place < Places.Length; place++)
            Assert.DoesNotContain(Look(place, new(2026, 1, 14), new(6, 0), high: 17, gust: 9).Jobs, job => job.Threat is not null);
    }

    [Fact]
    public void On_days_on_which_clocks_change_what_can_wait_is_still_told_from_what_can_not()
    {
        // New Zealand: 27 September 2026 forward, 5 April 2026 back; Lord Howe by half an hour on 4 October; Santiago at midnight on 6 September.
        foreach (var (place, date) in ((int, LocalDate)[])[(0, new(2026, 9, 26)), (0, new(2026, 9, 27)), (0, new(2026, 4, 4)), (0, new(2026, 4, 5)), (2, new(2026, 10, 4)), (3, new(2026, 9, 5)), (3, new(2026, 9, 6))])
        {
            var evening = Look(place, date, new(17, 0), high: 17, gust: 26);
            Assert.Contains(evening.Jobs, job => job is { Kind: JobKind.Tie, Standing: Standing.Now });
            Assert.DoesNotContain(Look(place, date, new(17, 0), high: 32, gust: 9).Jobs, job => job is { Threat.Danger: Danger.Heat, Standing: Standing.Now });
        }
    }
}
