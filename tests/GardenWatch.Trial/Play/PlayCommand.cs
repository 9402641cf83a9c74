using System.Collections.Concurrent;
using System.Globalization;
using GardenWatch.Demo;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Score;
using GardenWatch.Trial.Seasons;

namespace GardenWatch.Trial.Play;

/// <summary>Plays years and prints what they came to, in Markdown.</summary>
internal static class PlayCommand
{
    private const string Usage = """
        play hourly [seeds]            the year 2000 as measured each hour, once with each of so many forecasts
        play daily [from] [to] [seed]  years measured by the day and made hourly, 1980 to 2019
        play seasons                   the sample garden's whole seasons in other climates
        """;

    private sealed record Round(ulong Seed, int Year);

    public static async Task<int> Run(string[] what, CancellationToken ct)
    {
        int Number(int place, int unsaid) =>
            what.Length > place && int.TryParse(what[place], NumberStyles.None, CultureInfo.InvariantCulture, out int number) ? number : unsaid;
        if (what is ["seasons"])
        {
            Console.Out.WriteLine(SeasonTable.Of(SeasonsPlayed.AllNames));
            return 0;
        }
        bool hourly = what is ["hourly", ..];
        if (!hourly && what is not ["daily", ..])
        {
            Console.Error.WriteLine(Usage);
            return 2;
        }
        string name = hourly ? DeBiltHours.FileName : DeBiltDays.FileName;
        if (DeBilt.File(name) is not { } path)
        {
            Console.Error.WriteLine(DeBilt.NotAtHand(name));
            return 2;
        }
        var (observed, rounds) = hourly
            ? (DeBiltHours.Read(path), Enumerable.Range(1, Number(1, 1)).Select(seed => new Round((ulong)seed, 2000)).ToList())
            : (DeBiltDays.Read(path, 1980, 2019),
                Enumerable.Range(Number(1, 1980), Number(2, 2019) - Number(1, 1980) + 1).Select(year => new Round((ulong)Number(3, 1), year)).ToList());
        Console.Out.WriteLine(Figures(await Play(observed, rounds, ct).ConfigureAwait(false), observed));
        return 0;
    }

    private static async Task<List<AdvisedSeason>> Play(ObservedWeather observed, List<Round> rounds, CancellationToken ct)
    {
        var forecasts = rounds.Select(round => round.Seed).Distinct().ToDictionary(seed => seed, seed => new ForecastFromTruth(observed.Weather, DeBilt.Place, seed));
        var seasons = new ConcurrentBag<(Round Round, AdvisedSeason Season)>();
        await Parallel.ForEachAsync(rounds, ct, async (round, cancelled) =>
        {
            seasons.Add((round, await AdvisedSeason.Live(forecasts[round.Seed], round.Year, AdvisedSeason.Ends, cancelled).ConfigureAwait(false)));
            Console.Error.WriteLine($"{round.Year}, forecast {round.Seed}");
        }).ConfigureAwait(false);
        return [.. seasons.OrderBy(pair => (pair.Round.Year, pair.Round.Seed)).Select(pair => pair.Season)];
    }

    private static string Figures(List<AdvisedSeason> seasons, ObservedWeather observed) => $"""
        ### Frosts at 10 cm, below 0 °C, nights of 15 April to 31 October

        {FrostFigures.Table(seasons, observed)}
        {FrostFigures.Evenings(seasons, observed)}

        Missed:

        {FrostFigures.Missed(seasons, observed)}
        ### Spreadings

        {DeedFigures.SpreadTable(seasons, observed)}
        ### What sowings and young plants met

        {DeedFigures.MetTable(seasons, observed)}
        """;
}
