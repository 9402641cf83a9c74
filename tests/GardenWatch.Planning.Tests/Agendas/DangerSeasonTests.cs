using System.Collections.Immutable;
using System.Globalization;
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

/// <summary>
/// Measured seasons played through forecasts that err: a digest at six, looks at noon and at five, a gardener who never answers.
/// Who is warned too often soon reads nothing.
/// </summary>
public class DangerSeasonTests(ITestOutputHelper output)
{
    // Of a forecast for the same day and the next: gusts by some 12 %, highs by some 1.5 K. Common practice; halved by the evening.
    private const double GustError = 0.12, AirErrorK = 1.5;

    private const string Garden = """
        garden: Mill Bank
        id: mill-bank
        place: { town: Anywhere, latitude: 52.1, longitude: 5.18, elevation: 2 m, zone: Europe/Amsterdam }
        units: metric
        in the garden: { weekdays: 06:00-07:30 and 17:30-20:30, weekends: 08:00-19:00 }
        digest: { at: "06:00", to: [you@example.org] }
        beds:
          - { bed: top bed, cover: light fleece }
          - { bed: salad bed, cover: light fleece }
          - { bed: cold frame, over: frame }
          - { bed: film house, over: tunnel }
          - { bed: glasshouse, over: greenhouse }
          - { bed: big pot, container: 40 litres }
        plantings:
          - { crop: tomato, bed: top bed, growing: yes }
          - { crop: lettuce, bed: salad bed, growing: yes }
          - { crop: lettuce, bed: cold frame, growing: yes }
          - { crop: cucumber, bed: film house, growing: yes }
          - { crop: sweet pepper, bed: glasshouse, growing: yes }
          - { crop: tomato, bed: big pot, growing: yes }
        """;

    [Fact]
    public void A_temperate_season_has_few_gales_and_few_hot_spells_and_hardly_a_warning_of_either()
    {
        var season = Play("debilt_hourly_2000.csv", new(2000, 4, 1), new(2000, 10, 31), new GeoPosition(52.1, 5.18, 2), "Europe/Amsterdam");

        // Gusts of 18 m/s were measured on nine of these days, of 20 m/s on five; highs of 29 °C on four, of 20 °C on eighty.
        Assert.InRange(season.DigestDays[Danger.Wind], 3, 18);
        Assert.InRange(season.DigestDays[Danger.Heat], 2, 24);
        Assert.InRange(season.Warnings[Danger.Wind], 0, 6);
        Assert.InRange(season.Warnings[Danger.Heat], 0, 3);
        Assert.InRange(season.Warnings[Danger.Hail], 0, 3);
        Assert.InRange(season.CalledOff, 0, 5);
        Assert.Equal(season.Gales.Length, season.Gales.Count(season.ToldOfWind.Contains) + season.Missed.Length);
        Assert.True(season.Missed.Length <= 1, $"not told of: {string.Join(", ", season.Missed)}");
    }

    [Fact]
    public void A_desert_season_is_one_long_heat_that_is_not_told_every_day()
    {
        var season = Play("scan_ford_dry_lake_hourly_2015.csv", new(2015, 4, 1), new(2015, 10, 31), new GeoPosition(33.65, -115.1, 120), "America/Los_Angeles");

        Assert.InRange(season.DigestDays[Danger.Heat], 5, 60);
        Assert.InRange(season.Warnings[Danger.Heat], 0, 6);
    }

    private Season Play(string file, LocalDate from, LocalDate to, GeoPosition place, string zone)
    {
        string path = MeasuredRecord.PathOf(file);
        var measured = Measured.Read(path);
        var reading = PlanFile.Read(Garden, "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], from, ConditionText.Read);
        Assert.Empty(reading.Faults);
        var calendar = new LocalCalendar(DateTimeZoneProviders.Tzdb[zone], place);

        var season = new Season();
        var said = LastSaid.Nothing;
        var told = ImmutableHashSet.CreateBuilder<LocalDate>();
        for (var date = from; date <= to; date = date.PlusDays(1))
        {
            var morning = Look(new(6, 0), 1, said);
            Count(morning.Jobs.Where(job => job is { Threat: not null, Standing: Standing.Now }), season.DigestDays);
            said = said.After(morning);
            Tell(morning.Jobs.Where(job => job is { Standing: Standing.Now }));

            var noon = Look(new(12, 0), 0.7, said);
            Warn(noon, Threats.Pressing(noon, said), []);
            var evening = Look(new(17, 0), 0.5, said);
            Warn(evening, Threats.NewOrWorse(evening, said), Threats.CalledOff(evening, said));

            Agenda Look(LocalTime time, double error, LastSaid before)
            {
                var asOf = calendar.At(date, time);
                return Agenda.For(reading.Plan!, calendar, Journal.Empty, new(measured.Forecast(asOf, error, calendar), new(asOf, Duration.Zero, WeatherState.Fresh)), before, asOf);
            }

            void Warn(Agenda agenda, ImmutableArray<Job> threats, ImmutableArray<Job> calledOff)
            {
                threats = [.. threats.Where(job => job.Threat is not null)];
                calledOff = [.. calledOff.Where(job => job.Threat is not null)];
                season.CalledOff += calledOff.IsEmpty ? 0 : 1;
                if (threats.IsEmpty && calledOff.IsEmpty)
                    return;
                Count(threats, season.Warnings);
                Tell(threats);
                said = said.AfterTelling(threats.Concat(calledOff), date);
            }

            void Tell(IEnumerable<Job> jobs)
            {
                foreach (var job in jobs.Where(job => job.Threat?.Danger == Danger.Wind))
                    for (var day = calendar.DateOf(job.Threat!.From); day <= calendar.DateOf(job.Threat.Until); day = day.PlusDays(1))
                        told.Add(day);
            }
        }
        season.ToldOfWind = told.ToImmutable();
        season.Gales = measured.DaysWithGustsOf(20, calendar, from, to);
        season.Missed = [.. season.Gales.Where(day => !told.Contains(day))];
        output.WriteLine($"{file}: digests with {Told(season.DigestDays)}; warnings of {Told(season.Warnings)}; called off {season.CalledOff}; gales {season.Gales.Length}, not told {season.Missed.Length}");
        return season;

        static void Count(IEnumerable<Job> jobs, Dictionary<Danger, int> into)
        {
            foreach (var danger in jobs.Select(job => job.Threat!.Danger).Distinct())
                into[danger]++;
        }

        static string Told(Dictionary<Danger, int> counts) => string.Join(", ", counts.Select(count => $"{count.Key} {count.Value}"));
    }

    private sealed class Season
    {
        public Dictionary<Danger, int> DigestDays { get; } = Nothing();
        public Dictionary<Danger, int> Warnings { get; } = Nothing();
        public int CalledOff { get; set; }
        public ImmutableHashSet<LocalDate> ToldOfWind { get; set; } = [];
        public ImmutableArray<LocalDate> Gales { get; set; } = [];
        public ImmutableArray<LocalDate> Missed { get; set; } = [];

        private static Dictionary<Danger, int> Nothing() => new() { [Danger.Wind] = 0, [Danger.Hail] = 0, [Danger.Heat] = 0 };
    }

    /// <summary>A measured year and forecasts made of it.</summary>
    private sealed class Measured(Instant start, ImmutableDictionary<WeatherVariable, double[]> columns)
    {
        private const int DaysBefore = 12, DaysAfter = 5;

        public static Measured Read(string path)
        {
            var rows = File.ReadLines(path).Select(line => line.Split(',')).ToArray();
            var start = Instant.FromDateTimeOffset(DateTimeOffset.Parse(rows[1][0] + "Z", CultureInfo.InvariantCulture));
            double[] Column(string name, double unit = 1)
            {
                int at = Array.FindIndex(rows[0], column => column == name || column == name.Replace("_10m", "_3m", StringComparison.Ordinal));
                return [.. rows.Skip(1).Select(cells => cells[at].Length == 0 ? double.NaN : double.Parse(cells[at], CultureInfo.InvariantCulture) / unit)];
            }
            return new(start, new Dictionary<WeatherVariable, double[]>
            {
                [WeatherVariable.Air] = Column("temperature_2m"),
                [WeatherVariable.RelativeHumidity] = Column("relative_humidity_2m"),
                [WeatherVariable.DewPoint] = Column("dew_point_2m"),
                [WeatherVariable.CloudCover] = Column("cloud_cover"),
                [WeatherVariable.Rain] = Column("precipitation"),
                [WeatherVariable.Wind] = Column("wind_speed_10m", 3.6),
                [WeatherVariable.Gust] = Column("wind_gusts_10m", 3.6),
                [WeatherVariable.Radiation] = Column("shortwave_radiation"),
            }.ToImmutableDictionary());
        }

        /// <summary>The past as it was measured; of what comes, each date is off by an error of its own that grows with the lead.</summary>
        public WeatherSeries Forecast(Instant asOf, double error, LocalCalendar calendar)
        {
            int now = (int)(asOf - start).TotalHours, first = Math.Max(0, now - 24 * DaysBefore), hours = 24 * (DaysBefore + DaysAfter);
            var series = columns.ToImmutableDictionary(column => column.Key, column => ImmutableArray.CreateRange(Enumerable.Range(first, hours).Select(hour =>
            {
                double value = hour < column.Value.Length ? column.Value[hour] : double.NaN;
                if (hour <= now)
                    return value;
                var date = calendar.DateOf(start + Duration.FromHours(hour));
                double off = error * (1 + Period.DaysBetween(calendar.DateOf(asOf), date) / 2.0) * (0.8 * Drawn(date, 0) + 0.6 * Drawn(date, asOf.ToUnixTimeSeconds()));
                return column.Key switch
                {
                    WeatherVariable.Gust or WeatherVariable.Wind => value * Math.Exp(GustError * off),
                    WeatherVariable.Air => value + AirErrorK * off,
                    _ => value,
                };
            })));
            return new(start + Duration.FromHours(first), hours, series, [new(SourceKind.Forecast, "measured, with errors", asOf)], [.. Enumerable.Repeat((short)0, hours)]);
        }

        public ImmutableArray<LocalDate> DaysWithGustsOf(double metresPerSecond, LocalCalendar calendar, LocalDate from, LocalDate to) =>
            [.. columns[WeatherVariable.Gust].Select((gust, hour) => (gust, Date: calendar.DateOf(start + Duration.FromHours(hour) - Duration.Epsilon)))
                .Where(each => each.gust >= metresPerSecond && each.Date >= from && each.Date <= to).Select(each => each.Date).Distinct()];

        /// <summary>About normal with a spread of one; the same for the same date and issue.</summary>
        private static double Drawn(LocalDate date, long issue)
        {
            var random = new Random(HashOf(date.Year * 400 + date.DayOfYear, issue));
            return Enumerable.Range(0, 12).Sum(_ => random.NextDouble()) - 6;
        }

        private static int HashOf(int day, long issue) => unchecked((int)((day * 2654435761L) ^ (issue * 40503L)));
    }
}
