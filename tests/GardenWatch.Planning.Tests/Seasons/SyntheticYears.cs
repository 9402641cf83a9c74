using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Planning.Tests.Seasons;

/// <summary>
/// Invented hours of several years at one place: a yearly and a daily wave, spells of a few days that are warmer or colder,
/// and showers. The same seed gives the same hours.
/// </summary>
internal sealed class SyntheticYears : PlayedWeather
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];

    private readonly ImmutableDictionary<WeatherVariable, ImmutableArray<double>> _columns;
    private readonly Instant _start;
    private readonly int _hours;

    /// <param name="meanC">Of the year.</param>
    /// <param name="swingC">Half of what lies between the coldest and the warmest days' means.</param>
    public SyntheticYears(double latitude, int firstYear, int years, int seed, double meanC, double swingC)
    {
        Calendar = new(Zone, new GeoPosition(latitude, 10, 100));
        _start = Zone.AtStartOfDay(new LocalDate(firstYear, 1, 1)).ToInstant();
        _hours = (int)(Zone.AtStartOfDay(new LocalDate(firstYear + years, 1, 1)).ToInstant() - _start).TotalHours;
        _columns = Make(seed, latitude < 0, meanC, swingC);
    }

    public override LocalCalendar Calendar { get; }

    /// <summary>The hours from one local date to another, the latter left out.</summary>
    public override WeatherSeries Between(LocalDate from, LocalDate until)
    {
        int first = Math.Max(0, HourOf(from)), last = Math.Min(_hours, HourOf(until));
        var start = _start + Duration.FromHours(first);
        return new(start, last - first, _columns.ToImmutableDictionary(column => column.Key, column => column.Value[first..last]),
            [new(SourceKind.Forecast, "the test", start)], [.. Enumerable.Repeat((short)0, last - first)]);
    }

    public ClimateSummary Climate(LocalDate from, LocalDate until) => ClimateSummary.Of(PastDays.Of(Between(from, until), Calendar), Calendar.Place.LatitudeDegrees < 0);

    private int HourOf(LocalDate date) => (int)(Zone.AtStartOfDay(date).ToInstant() - _start).TotalHours;

    private ImmutableDictionary<WeatherVariable, ImmutableArray<double>> Make(int seed, bool southern, double meanC, double swingC)
    {
        var random = new Random(seed);
        var made = new[] { WeatherVariable.Air, WeatherVariable.DewPoint, WeatherVariable.RelativeHumidity, WeatherVariable.CloudCover, WeatherVariable.Wind, WeatherVariable.Gust, WeatherVariable.Rain, WeatherVariable.Radiation, WeatherVariable.ReferenceEvapotranspiration }
            .ToDictionary(variable => variable, _ => new double[_hours]);
        double spell = 0, cloud = 50, rain = 0;
        for (int hour = 0; hour < _hours; hour++)
        {
            var local = (_start + Duration.FromHours(hour)).InZone(Zone).LocalDateTime;
            if (local.Hour == 0)
            {
                spell = 0.8 * spell + 2.2 * (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5);
                cloud = Math.Clamp(50 + 45 * Math.Sin(random.NextDouble() * 6.28), 0, 100);
                rain = random.NextDouble() < 0.3 ? 8 * random.NextDouble() : 0;
            }
            double season = Math.Cos((local.DayOfYear - (southern ? 20 : 202)) * 2 * Math.PI / 365.25);
            double daily = Math.Cos((local.Hour - 15) * Math.PI / 12) * (3 + 3 * (1 - cloud / 100));
            double air = meanC + swingC * season + spell + daily;
            made[WeatherVariable.Air][hour] = air;
            made[WeatherVariable.DewPoint][hour] = meanC + swingC * season + spell - 5;
            made[WeatherVariable.RelativeHumidity][hour] = Math.Clamp(70 - 4 * daily, 20, 100);
            made[WeatherVariable.CloudCover][hour] = cloud;
            made[WeatherVariable.Wind][hour] = 2.5;
            made[WeatherVariable.Gust][hour] = 6;
            made[WeatherVariable.Rain][hour] = local.Hour is >= 13 and < 17 ? rain / 4 : 0;
            made[WeatherVariable.Radiation][hour] = Math.Max(0, (350 + 250 * season) * (1 - cloud / 150) * Math.Sin((local.Hour - 6) * Math.PI / 13));
            // Grass with enough water turns about half of the sun's heat into vapour (2.45 MJ a millimetre).
            made[WeatherVariable.ReferenceEvapotranspiration][hour] = 0.5 * 0.0036 / 2.45 * made[WeatherVariable.Radiation][hour];
        }
        return made.ToImmutableDictionary(column => column.Key, column => ImmutableArray.Create(column.Value));
    }
}
