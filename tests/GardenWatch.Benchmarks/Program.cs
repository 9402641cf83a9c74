using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Benchmarks;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

if (args is ["morning"])
{
    GardenWatch.Benchmarks.MorningBenchmark.Run(Report);
    return;
}
if (args is ["series"])
{
    SeriesBenchmark.Run();
    WaterBenchmark.Run();
    return;
}
if (args is ["warmth"])
{
    WarmthFigures.Report();
    return;
}

// How long it takes to read a phrase, and to ask a hundred of them at every hour of thirty years.
const int Years = 30;
const int Wanted = 100;
string[] phrases = [.. File.ReadLines(Path.Combine(AppContext.BaseDirectory, "job_phrases.csv")).Skip(2).Select(line => line.Split(',')[2]).Distinct()];
Report($"{phrases.Length} different phrases");

Reading(phrases, rounds: 20);
double perPhrase = Reading(phrases, rounds: 200);
Report($"read: {perPhrase:0.0} µs a phrase");

var start = Instant.FromUtc(1990, 1, 1, 0, 0);
int hours = (int)(Instant.FromUtc(1990 + Years, 1, 1, 0, 0) - start).TotalHours;
var invented = new Random(1990);
var columns = Enum.GetValues<WeatherVariable>().ToImmutableDictionary(variable => variable, variable => Invented(variable, hours));
var series = new WeatherSeries(start, hours, columns, [], [.. Enumerable.Repeat((short)-1, hours)]);
double[] air = [.. columns[WeatherVariable.Air]];
double[] soil = [.. columns[WeatherVariable.SoilAt6Cm]];
var zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
var moments = Moments.None.With(Milestone.Sown, new LocalDate(2005, 4, 1)).With(Milestone.SetOut, new LocalDate(2005, 5, 1))
    .With(Milestone.LastDone, new LocalDate(2010, 6, 1)).WithUsualFrosts(new AnnualDate(5, 10), new AnnualDate(10, 10));

var conditions = phrases.Where((_, i) => i % (phrases.Length / Wanted) == 0).Take(Wanted)
    .Select(phrase => ((ConditionReading.Ok)ConditionText.Read(phrase)).Condition).ToArray();
var course = new Truth[hours];
var first = Measured(FreshScene(), out _);
// The best of some rounds: what it takes when the machine lets it.
var scene = FreshScene();
var cold = Measured(scene, out long coldBytes);
var warm = Measured(scene, out long warmBytes);
for (int round = 0; round < 7; round++)
{
    scene = FreshScene();
    var again = Measured(scene, out _);
    cold = again.Total < cold.Total ? again : cold;
    again = Measured(scene, out _);
    warm = again.Total < warm.Total ? again : warm;
}
Report($"{conditions.Length} phrases at each of {hours} hours: {cold.Total.TotalSeconds:0.00} s with building the columns ({coldBytes / 1e6:0} MB allocated), {warm.Total.TotalSeconds:0.00} s once built ({warmBytes / 1e6:0.0} MB), {warm.Total.TotalNanoseconds / hours / conditions.Length:0.0} ns an hour and phrase");
var calendar = new LocalCalendar(zone, new(52.1, 5.18, 2));
var beforeNights = Environment.CpuUsage.TotalTime;
for (int day = 0; day < Years * 365; day++)
    calendar.NightOf(new LocalDate(1990, 1, 1).PlusDays(day));
Report($"of the building, {Years * 365} nights: {(Environment.CpuUsage.TotalTime - beforeNights).TotalSeconds:0.00} s");
Report($"(first run, with compiling: {first.Total.TotalSeconds:0.00} s)");
foreach (var (condition, time) in warm.Each.OrderByDescending(each => each.Time).Take(12))
    Report($"  {time.TotalMilliseconds,7:0.0} ms  {ConditionText.Print(condition)}");

foreach (string[] widths in (string[][])
    [
        ["air low next 5 hours at least 2 °C", "air low past 360 days at least -30 °C"],
        ["rain total past 2 days at least 5 mm", "rain total past 360 days at least 900 mm"],
        ["air mean of lows past 3 days at least 9 °C", "air mean of lows past 360 days at least 9 °C"],
        ["leaf wetness longest run past 2 days at least 9 hours", "leaf wetness longest run past 360 days at least 90 hours"],
        ["air low next 2 nights at least 2 °C", "air low next 360 nights at least -30 °C"],
        ["soil mornings above 3 °C past 3 days at least 3 days", "soil mornings above -40 °C past 360 days at least 300 days"],
    ])
{
    foreach (string phrase in widths)
    {
        var condition = ((ConditionReading.Ok)ConditionText.Read(phrase)).Condition;
        Evaluate.Course(condition, start, scene, course);
        var whole = Stopwatch.StartNew();
        Evaluate.Course(condition, start, scene, course);
        Report($"  {whole.Elapsed.TotalNanoseconds / hours,7:0.0} ns an hour  {phrase}");
    }
}

var asked = start + Duration.FromDays(10_000);
var clock = Stopwatch.StartNew();
int letters = 0;
foreach (var condition in conditions)
    letters += Evaluate.At(condition, asked, scene).Sentence.Length;
Report($"one verdict with sentence and next change: {clock.Elapsed.TotalMicroseconds / conditions.Length:0} µs ({letters / conditions.Length} letters)");

GardenWatch.Benchmarks.MorningBenchmark.Run(Report);

var (ofLeaf, ofSoil) = RunsOfAnEnsemble.Measured();
Report($"a run of an ensemble over 16 days: leaf {ofLeaf:0} µs, soil at 5 and 10 cm {ofSoil:0} µs");

Scene FreshScene() => new(
    new BedWeather(series, new LocalCalendar(zone, new(52.1, 5.18, 2)), new BedModels(() => air, () => air, _ => soil)),
    moments, new Dictionary<string, Quantity>(), new Speech(UnitSystem.Metric, zone));

// Time of the processor, so that other work on the machine does not count.
(TimeSpan Total, List<(Condition Condition, TimeSpan Time)> Each) Measured(Scene scene, out long bytes)
{
    var each = new List<(Condition, TimeSpan)>();
    GC.Collect();
    long before = GC.GetAllocatedBytesForCurrentThread();
    var whole = Environment.CpuUsage.TotalTime;
    foreach (var condition in conditions)
    {
        var one = Stopwatch.StartNew();
        Evaluate.Course(condition, start, scene, course);
        each.Add((condition, one.Elapsed));
    }
    bytes = GC.GetAllocatedBytesForCurrentThread() - before;
    return (Environment.CpuUsage.TotalTime - whole, each);
}

static double Reading(string[] phrases, int rounds)
{
    var clock = Stopwatch.StartNew();
    for (int round = 0; round < rounds; round++)
    {
        foreach (string phrase in phrases)
            ConditionText.Read(phrase);
    }
    return clock.Elapsed.TotalMicroseconds / rounds / phrases.Length;
}

ImmutableArray<double> Invented(WeatherVariable variable, int hours)
{
    double[] values = new double[hours];
    for (int i = 0; i < hours; i++)
    {
        double year = Math.Sin((i / 8766.0 - 0.3) * 2 * Math.PI), day = Math.Sin((i % 24 - 9) * Math.PI / 12);
        values[i] = variable switch
        {
            WeatherVariable.Rain => invented.Next(12) == 0 ? Math.Round(invented.NextDouble() * 3, 1) : 0,
            WeatherVariable.Gust or WeatherVariable.Wind => 4 + 3 * invented.NextDouble(),
            WeatherVariable.RelativeHumidity or WeatherVariable.CloudCover => 70 - 25 * day,
            WeatherVariable.Radiation => Math.Max(0, 600 * day),
            WeatherVariable.ReferenceEvapotranspiration => Math.Max(0, 0.3 * day),
            WeatherVariable.Snowfall => 0,
            _ => 10 + 8 * year + 4 * day + 3 * invented.NextDouble(),
        };
        if (invented.Next(5000) == 0)
            values[i] = double.NaN;
    }
    return [.. values];
}

static void Report(FormattableString line) => Console.WriteLine(line.ToString(CultureInfo.InvariantCulture));
