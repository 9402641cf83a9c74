using System.Collections.Concurrent;
using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Trial.Observed;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>The seasons that are played, by name.</summary>
internal static class SeasonsPlayed
{
    public static IReadOnlyList<string> Names { get; } =
    [
        "seattle-2015-does-all", "seattle-2015-does-half", "seattle-2015-silent-in-july", "seattle-2015-away-without-sitter", "south-2014-does-all",
        "manhattan-2014-does-all", "manhattan-2014-edits-in-june",
    ];

    /// <summary>That nobody answers is no season to read.</summary>
    public static IReadOnlyList<string> AllNames { get; } = [.. Names, "seattle-2015-does-nothing"];

    private static readonly ConcurrentDictionary<string, Lazy<ImmutableArray<PlayedMorning>?>> Mornings = new();

    /// <summary>Played once for all tests of a run. Null where the place's weather is not at hand.</summary>
    public static ImmutableArray<PlayedMorning>? Played(string name) =>
        Mornings.GetOrAdd(name, _ => new(() => Of(name) is { } season ? [.. PlayedGarden.Play(season)] : null)).Value;

    /// <returns>Null where the place's weather is not at hand.</returns>
    public static SeasonToPlay? Of(string name)
    {
        string gardener = name[(name.IndexOf('-', StringComparison.Ordinal) + 6)..];
        int year = int.Parse(name.Split('-')[1], System.Globalization.CultureInfo.InvariantCulture);
        var station = name.Split('-')[0] switch { "seattle" => Station.Seattle, "south" => Station.SeattleInTheSouth, _ => Station.Manhattan };
        if (station is null)
            return null;
        bool south = station.Calendar.Place.LatitudeDegrees < 0;
        string sample = SamplePlan.At(station, station.Name == "Manhattan" ? "us" : "metric");
        LocalDate begins = new(year, south ? 8 : 2, 1), ends = begins.PlusMonths(10).PlusDays(15);
        return new(name, station, begins, ends, date => PlanOf(gardener, sample, date), Does(gardener));
    }

    private static string PlanOf(string gardener, string sample, LocalDate date) => gardener switch
    {
        "silent-in-july" => SamplePlan.WithoutAbsence(sample),
        "away-without-sitter" => SamplePlan.WithoutSitter(sample),
        "edits-in-june" when date.Month is > 6 || date.Month == 6 && date.Day >= 10 => SamplePlan.EditedInJune(sample),
        _ => sample,
    };

    private static Func<LocalDate, Job, bool> Does(string gardener) => gardener switch
    {
        // By the number of the job, so that what is not done on one day is not done on the next either.
        "does-half" => (_, job) => job.Id.Sum(letter => letter) % 2 == 0,
        "does-nothing" => (_, _) => false,
        "silent-in-july" => (date, _) => date.Month != 7,
        _ => (_, _) => true,
    };
}
