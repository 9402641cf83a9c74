using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>An occasion that has come, with what is said of it.</summary>
internal sealed record OccasionNow(Occasion Of, Reason Reason);

/// <summary>Weather that makes a growing crop's job timely, by the job's profile.</summary>
internal static class Occasions
{
    // Drops that count as rain, and how far ahead they are looked for. Common practice.
    private const double RainMm = 0.3;
    private const int LooksAheadHours = 24;

    public static ImmutableArray<OccasionNow> Of(Season season, Sowing sowing, JobTemplate template)
    {
        if (template.Conditions.Occasions.IsEmpty)
            return [];
        var scene = SceneOf(season, sowing, template);
        return [.. template.Conditions.Occasions.Where(occasion => HasCome(season, template, occasion, scene)).Select(occasion => new OccasionNow(occasion, new(
            "occasion", ImmutableDictionary<string, double>.Empty,
            $"{string.Join(", ", Telling(occasion).Select(condition => Evaluate.Finding(condition, At(season), scene)))}: {season.Weather.Speech.Word(occasion.Say)}")))];
    }

    /// <summary>The weather of it; the calendar only where there is nothing else.</summary>
    private static IEnumerable<Condition> Telling(Occasion occasion)
    {
        var weather = occasion.When.Where(condition => !Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure == Measure.Days)).ToList();
        return weather.Count > 0 ? weather : occasion.When;
    }

    /// <summary>Whether nobody can say if rain comes over what is ripe.</summary>
    public static bool IsUnknown(Season season, Sowing sowing, JobTemplate template)
    {
        if (!template.Conditions.Occasions.Any(occasion => occasion.BeforeRain))
            return false;
        var scene = SceneOf(season, sowing, template);
        return template.Conditions.Occasions.Any(occasion => occasion.BeforeRain && Evaluate.Holds(new Condition.AllOf(occasion.When), At(season), scene) == Truth.Unknown);
    }

    /// <summary>By the forecast, and by enough of its runs where there are any.</summary>
    private static bool HasCome(Season season, JobTemplate template, Occasion occasion, Scene scene)
    {
        var whole = new Condition.AllOf(occasion.When);
        return Evaluate.Holds(whole, At(season), scene) == Truth.Yes
            && !(Evaluate.ShareOf(whole, At(season), GardenWeather.InRuns(scene)) < DecisionRule.Of(template.Kind).With(scene.Numbers).LeastShare);
    }

    /// <summary>The next time of a job that was closed for good, when an occasion asks for it again; null when none does.</summary>
    public static (int Repeat, LocalDate? From)? AskAgain(Season season, Sowing sowing, JobTemplate template, ImmutableArray<OccasionNow> now)
    {
        var (journal, id) = (season.Journal, sowing.Planting.Id);
        var closed = journal.Done(id, template.Kind).Concat(journal.Skips(id, template.Kind)).Where(answer => BatchTime.BatchOf(answer.Time) == sowing.Batch).ToList();
        if (closed.Count == 0)
            return null;
        var last = closed.Max(answer => answer.Date);
        return now.Any(occasion => occasion.Of.AgainAfterDays is { } days && last.PlusDays(days) <= season.Today)
            ? (closed.Select(answer => answer.Time).Distinct().Count(), null)
            : null;
    }

    /// <summary>When the next rain begins; null when none is in sight, or hours on the way to it are not known.</summary>
    public static Instant? RainBegins(Season season)
    {
        for (int hour = 0; hour < LooksAheadHours; hour++)
        {
            var from = season.AsOf + Duration.FromHours(hour);
            if (season.Weather.RainMm(from, from + Duration.FromHours(1)) is not { } rain)
                return null;
            if (rain >= RainMm)
                return from;
        }
        return null;
    }

    /// <summary>Before sunrise tonight is still the night that ends; what is meant is the one to come.</summary>
    private static Instant At(Season season) =>
        season.Weather.Calendar.TonightAt(season.AsOf) is var (date, night) && date < season.Today ? night.End : season.AsOf;

    private static Scene SceneOf(Season season, Sowing sowing, JobTemplate template)
    {
        var bed = season.Plan.BedOf(sowing.Planting.BedId);
        var wanted = SowingJobs.Made(season, sowing, template, bed, sowing.Batch);
        return season.Weather.SceneOf(wanted with { Moments = wanted.Moments.With(season.Weather.Climate) });
    }
}
