using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tests.Tongues;
using GardenWatch.Planning.Tongues;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>A garden, its weather hour by hour as the test says it, and a morning to look at it. All invented.</summary>
internal sealed class Scenario
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["America/New_York"];
    public static readonly LocalCalendar Calendar = new(Zone, new GeoPosition(42.2, -71.7, 120));

    private const int DaysBefore = 40;
    private const int DaysAfter = 16;

    private readonly LocalDate _date;
    private readonly Dictionary<WeatherVariable, Func<LocalDateTime, double>> _hours = new()
    {
        [WeatherVariable.Air] = at => 14 + 6 * Math.Cos((at.Hour - 15) * Math.PI / 12),
        [WeatherVariable.DewPoint] = _ => 6,
        [WeatherVariable.RelativeHumidity] = _ => 65,
        [WeatherVariable.CloudCover] = _ => 60,
        [WeatherVariable.Wind] = _ => 3,
        [WeatherVariable.Gust] = _ => 6,
        [WeatherVariable.Rain] = _ => 0,
        [WeatherVariable.Radiation] = at => Math.Max(0, 500 * Math.Sin((at.Hour - 6) * Math.PI / 13)),
    };

    private readonly List<JournalEntry> _journal = [];
    private string _plan = "";
    private Tongue _tongue = Tongue.English;
    private Duration _age = Duration.FromHours(1);
    private LastSaid _lastSaid = LastSaid.Nothing;
    private readonly List<(WeatherVariable Variable, Func<LocalDateTime, double> Value)?> _runs = [];
    private ClimateSummary? _climate;
    private bool _runsAreWhole;
    private ImmutableArray<WeatherVariable> _borrowed = [];

    private Scenario(LocalDate date) => _date = date;

    public static Scenario On(int year, int month, int day) => new(new LocalDate(year, month, day));

    /// <summary>Beds, plantings and chores; the head of the plan is always the same.</summary>
    public Scenario Plan(string rest, string hours = "{ weekdays: 06:00-07:30 and 17:30-20:30, weekends: 08:00-19:00 }")
    {
        _plan = $$"""
            garden: Mill Bank
            id: mill-bank
            place: { town: Grafton, latitude: 42.2, longitude: -71.7, elevation: 120 m, zone: America/New_York }
            units: metric
            in the garden: {{hours}}
            digest: { at: "06:00", to: [you@example.org] }

            """ + rest;
        return this;
    }

    public Scenario In(Tongue tongue)
    {
        _tongue = tongue;
        return this;
    }

    public Scenario Hourly(WeatherVariable variable, Func<LocalDateTime, double> value)
    {
        _hours[variable] = value;
        return this;
    }

    /// <summary>Changes the hours of some days counted from the day of the look; others stay as they are.</summary>
    public Scenario Days(WeatherVariable variable, int from, int to, Func<LocalDateTime, double> value)
    {
        var usual = _hours[variable];
        return Hourly(variable, at => Period.DaysBetween(_date, at.Date) is var day && day >= from && day <= to ? value(at) : usual(at));
    }

    /// <summary>So many runs of the ensemble, each as the forecast but for one variable on some days from the day of the look.</summary>
    public Scenario Runs(int count, WeatherVariable variable, int from, int to, Func<LocalDateTime, double> value)
    {
        for (int run = 0; run < count; run++)
            _runs.Add((variable, at => Period.DaysBetween(_date, at.Date) is var day && day >= from && day <= to ? value(at) : _hours[variable](at)));
        return this;
    }

    /// <summary>Runs in all things as the forecast is.</summary>
    public Scenario RunsAsForecast(int count)
    {
        for (int run = 0; run < count; run++)
            _runs.Add(null);
        return this;
    }

    public Scenario RunsLack(WeatherVariable variable)
    {
        _borrowed = [variable];
        return this;
    }

    public Scenario RunsMadeWhole()
    {
        _runsAreWhole = true;
        return this;
    }

    public Scenario Climate(ClimateSummary climate)
    {
        _climate = climate;
        return this;
    }

    public Scenario Said(LastSaid said)
    {
        _lastSaid = said;
        return this;
    }

    /// <summary>Clear and still all day and night, with dry air.</summary>
    public Scenario ClearAndCalm() =>
        Hourly(WeatherVariable.CloudCover, _ => 5).Hourly(WeatherVariable.Wind, _ => 0.8).Hourly(WeatherVariable.Gust, _ => 2)
            .Hourly(WeatherVariable.DewPoint, _ => -4).Hourly(WeatherVariable.RelativeHumidity, _ => 60);

    /// <summary>Nights that fall to a low at five in the morning, counted by the date on which they end; days that rise to a high.</summary>
    public static Func<LocalDateTime, double> Between(double low, double high) =>
        at => (low + high) / 2 + (high - low) / 2 * Math.Cos((at.Hour - 15 + (at.Hour < 5 ? 2 : 0)) * Math.PI / 11);

    public Scenario Done(string jobId, int daysAgo)
    {
        var date = _date.PlusDays(-daysAgo);
        _journal.Add(new(EntryKind.Done, date, Calendar.At(date, new(18, 0)), jobId, null, null, null));
        return this;
    }

    public Scenario Wrote(params JournalEntry[] entries)
    {
        _journal.AddRange(entries);
        return this;
    }

    public Scenario ForecastAgeHours(double hours)
    {
        _age = Duration.FromHours(hours);
        return this;
    }

    public Scenario SaidFirst(string jobId, int daysAgo)
    {
        _lastSaid = _lastSaid with { Jobs = _lastSaid.Jobs.SetItem(jobId, new(_date.PlusDays(-daysAgo), _date.PlusDays(-1), Standing.Waiting, null)) };
        return this;
    }

    public Agenda At(string time = "06:00")
    {
        var asOf = Calendar.At(_date, LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(time).Value);
        return At(asOf);
    }

    /// <summary>Why the one job that the words mean is asked for or not.</summary>
    public Explanation Explain(string asked, params (string Name, Quantity Value)[] tried)
    {
        var plan = ReadPlan();
        var asOf = Calendar.At(_date, new LocalTime(6, 0));
        var job = Assert.IsType<JobMatch.One>(JobSearch.Find(AskedJob.AllOf(plan), asked)).Job;
        return Explanation.Of(
            plan, job, Calendar, Journal.AsOf(_journal, asOf), Known(asOf), _lastSaid, asOf, tried.ToDictionary(number => number.Name, number => number.Value));
    }

    private Agenda At(Instant asOf)
    {
        var (plan, journal, known) = (ReadPlan(), Journal.AsOf(_journal, asOf), Known(asOf));
        var agenda = Agenda.For(plan, Calendar, journal, known, _lastSaid, asOf);
        SpokenWholly.Check(agenda, Agenda.For(plan with { Tongue = MarkedTongue.Tongue }, Calendar, journal, known, _lastSaid, asOf), plan);
        return _tongue.IsEnglish ? agenda : Agenda.For(plan with { Tongue = _tongue }, Calendar, journal, known, _lastSaid, asOf);
    }

    public Plan ReadPlan()
    {
        var reading = PlanFile.Read(_plan, "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], _date, ConditionText.Read);
        Assert.Empty(reading.Faults);
        return reading.Plan!;
    }

    private KnownWeather Known(Instant asOf)
    {
        var main = Series(null);
        var state = _age > Duration.FromHours(36) ? WeatherState.Stale : WeatherState.Fresh;
        return new(main, new(asOf - _age, _age, state), [.. _runs.Select(run => Run(run, main))], _climate) { Borrowed = _borrowed };
    }

    /// <summary>Made of the forecast, as stored members are, or whole; nobody must see a difference.</summary>
    private WeatherSeries Run((WeatherVariable Variable, Func<LocalDateTime, double> Value)? changed, WeatherSeries main)
    {
        var run = Series(changed);
        if (_runsAreWhole)
            return run;
        int from = DaysBefore * 24;
        return main.With(
            changed is var (variable, _) ? new Dictionary<WeatherVariable, ImmutableArray<double>> { [variable] = [.. run[variable]] } : [],
            new(SourceKind.Forecast, "a run", main.Start), from, main.Hours);
    }

    private WeatherSeries Series((WeatherVariable Variable, Func<LocalDateTime, double> Value)? changed)
    {
        var start = Zone.AtStartOfDay(_date.PlusDays(-DaysBefore)).ToInstant();
        int hours = (DaysBefore + DaysAfter) * 24;
        var columns = _hours.ToImmutableDictionary(
            pair => pair.Key,
            pair =>
            {
                var value = changed is var (variable, own) && variable == pair.Key ? own : pair.Value;
                return ImmutableArray.CreateRange(Enumerable.Range(0, hours)
                    .Select(hour => value((start + Duration.FromHours(hour)).InZone(Zone).LocalDateTime)));
            });
        return new WeatherSeries(
            start, hours, columns, [new(SourceKind.Forecast, "the test", start)], [.. Enumerable.Repeat((short)0, hours)]);
    }
}
