using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Benchmarks;

/// <summary>One morning of a large garden: forty jobs, an ensemble of 51, sixteen days ahead on a hundred days of past hours.</summary>
internal static class MorningBenchmark
{
    private const int PastDays = 90;
    private const int DaysAhead = 16;
    private const int Runs = 51;

    public static void Run(Action<FormattableString> report)
    {
        var zone = DateTimeZoneProviders.Tzdb["Europe/Berlin"];
        var date = new LocalDate(2026, 5, 8);
        var shelf = CropShelf.Shipped(ConditionText.Read);
        var reading = PlanFile.Read(PlanText(), "garden.yaml", shelf, [], date, ConditionText.Read);
        if (reading.Plan is not { } plan)
            throw new InvalidOperationException(string.Join("; ", reading.Faults));
        var calendar = new LocalCalendar(zone, new(52.1, 5.18, 2));
        var asOf = calendar.At(date, new LocalTime(6, 0));
        var main = Series(asOf, 0);
        ImmutableArray<WeatherSeries> members = [.. Enumerable.Range(1, Runs).Select(run => Beside(main, Series(asOf, run)))];
        var news = new WeatherNews(asOf, Duration.Zero, WeatherState.Fresh);

        Time("without an ensemble", []);
        Time($"with {Runs} runs", members);

        void Time(string what, ImmutableArray<WeatherSeries> runs)
        {
            Agenda agenda = null!;
            var best = TimeSpan.MaxValue;
            for (int round = 0; round < 150; round++)
            {
                var clock = Stopwatch.StartNew();
                agenda = Agenda.For(plan, calendar, Journal.AsOf([], asOf), new(main, news, runs, null), LastSaid.Nothing, asOf);
                best = clock.Elapsed < best ? clock.Elapsed : best;
            }
            long before = GC.GetAllocatedBytesForCurrentThread();
            Agenda.For(plan, calendar, Journal.AsOf([], asOf), new(main, news, runs, null), LastSaid.Nothing, asOf);
            report($"a morning of {agenda.Jobs.Length} jobs {what}: {best.TotalMilliseconds:0.0} ms, {(GC.GetAllocatedBytesForCurrentThread() - before) / 1e6:0.0} MB allocated");
        }
    }

    /// <summary>As stored members are joined: their own hours in place of the forecast's.</summary>
    private static WeatherSeries Beside(WeatherSeries main, WeatherSeries run) => main.With(
        Enum.GetValues<WeatherVariable>().ToDictionary(
            variable => variable, variable => ImmutableArray.Create([.. main[variable][..(PastDays * 24)], .. run[variable][(PastDays * 24)..]])),
        new(SourceKind.Forecast, "a run", main.Start), PastDays * 24, main.Hours);

    private static string PlanText()
    {
        var text = new StringBuilder("""
            garden: Long Acre
            id: long-acre
            place: { town: Zeist, latitude: 52.1, longitude: 5.18, elevation: 2 m, zone: Europe/Berlin }
            digest: { at: "06:00", to: [you@example.org] }
            beds:
              - { bed: one, size: 1 m x 4 m }
              - { bed: two, size: 1 m x 4 m, frost pocket: 1 °C }
              - { bed: three, size: 1 m x 4 m, mulch: straw }
              - { bed: sill, over: windowsill }
            plantings:

            """);
        string[] beds = ["one", "two", "three"], crops = ["tomato", "winter squash", "bean", "potato", "radish", "lettuce", "carrot", "garlic"];
        for (int i = 0; i < crops.Length; i++)
            text.AppendLine(CultureInfo.InvariantCulture, $"  - {{ crop: {crops[i]}, bed: {beds[i % 3]} }}");
        for (int i = 0; i < 6; i++)
            text.AppendLine(CultureInfo.InvariantCulture, $"  - {{ crop: tomato, variety: v{i}, bed: {beds[i % 3]}, set out: 1 May }}");
        text.AppendLine("chores:");
        string[] conditions =
        [
            "rain total next 24 hours between {enough: 6 mm} and {too much: 15 mm}", "wind high next 4 hours at most 4 m/s",
            "soil at 5 cm mean past 3 days at least 10 °C", "air high tomorrow at least 24 °C", "gust high today at most 12 m/s",
            "rain total past 5 days at most 3 mm",
        ];
        for (int i = 0; i < 33; i++)
            text.AppendLine(CultureInfo.InvariantCulture, $"  - {{ chore: Chore {i}, bed: {beds[i % 3]}, when: [ \"{conditions[i % 6]}\", \"{conditions[(i + 1) % 6]}\" ] }}");
        return text.ToString();
    }

    private static WeatherSeries Series(Instant asOf, int run)
    {
        var random = new Random(1);
        var start = asOf - Duration.FromDays(PastDays);
        int hours = (PastDays + DaysAhead) * 24;
        var columns = Enum.GetValues<WeatherVariable>().ToImmutableDictionary(variable => variable, variable =>
        {
            double[] values = new double[hours];
            for (int i = 0; i < hours; i++)
            {
                int ahead = Math.Max(0, i - PastDays * 24);
                double off = Math.Sin(run * 12.9 + (int)variable) * Math.Sqrt(ahead) / 6;
                double day = Math.Sin((i % 24 - 9) * Math.PI / 12);
                values[i] = variable switch
                {
                    WeatherVariable.Rain => random.Next(14) == 0 ? Math.Max(0, 2 + off) : 0,
                    WeatherVariable.Gust or WeatherVariable.Wind => 3 + 2 * random.NextDouble() + Math.Abs(off),
                    WeatherVariable.RelativeHumidity or WeatherVariable.CloudCover => 60 - 25 * day,
                    WeatherVariable.Radiation => Math.Max(0, 600 * day),
                    WeatherVariable.ReferenceEvapotranspiration => Math.Max(0, 0.3 * day),
                    WeatherVariable.Snowfall => 0,
                    WeatherVariable.DewPoint => 4 + off,
                    _ => 10 + 6 * day + off,
                };
            }
            return ImmutableArray.Create(values);
        });
        return new(start, hours, columns, [new(SourceKind.Forecast, "invented", start)], [.. Enumerable.Repeat((short)0, hours)]);
    }
}
