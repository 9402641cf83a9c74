using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Warnings;

/// <summary>How a warning names a danger, and what has changed about it since the last message.</summary>
internal sealed class ThreatWords(Agenda agenda, Words words)
{
    // Gusts of Beaufort 8 and more; less is strong wind still.
    private const double GaleMetresPerSecond = 17.2;
    private static readonly LocalTime Morning = new(5, 0), Noon = new(12, 0), Evening = new(18, 0);

    /// <summary>"Gale tonight", "Hail this afternoon", "Heat tomorrow", "Frost tonight"; what is not known to press has no name.</summary>
    public string Named(Job job)
    {
        if (job.Threat is { } threat)
            return $"{NameOf(job, threat.Danger)} {When(threat)}";
        var tonight = agenda.Week.FirstOrDefault(day => day.Date == agenda.Date);
        return job.Kind switch
        {
            JobKind.Cover or JobKind.Protect or JobKind.Drain when tonight is not null && WeatherWords.HasFrost(tonight) => "Frost tonight",
            JobKind.Shade or JobKind.Water or JobKind.Vent when tonight is not null && WeatherWords.IsHot(tonight) => "Heat today",
            _ => "Before it’s too late",
        };
    }

    /// <summary>Another danger than the first job's, each once: "Hail this afternoon as well."</summary>
    public string Others(IReadOnlyList<Job> jobs) => string.Join(' ', jobs
        .Where(job => DangerOf(job) != DangerOf(jobs[0]))
        .DistinctBy(DangerOf)
        .Select(job => $"{Named(job)} as well."));

    /// <summary>The job with what the last message of the day said beside what is known now, where it has become worse.</summary>
    public Job WithChange(Job job, LastSaid? lastSaid)
    {
        if (lastSaid is null || Threats.MilderAsTold(job, agenda, lastSaid) is not { } told || job.DecidingValue is not { } now)
            return job;
        var (before, after) = (ValueOf(job, told), ValueOf(job, now));
        return before == after ? job : job with
        {
            Reasons = job.Reasons.Insert(0, new("changed", ImmutableDictionary<string, double>.Empty.Add("now", now).Add("told", told),
                $"It has become worse: the last message said {before}.")),
        };
    }

    /// <summary>"tonight" where it was the coming night's, else "any more".</summary>
    public static string NotNeeded(Job job) => job.Threat is null ? "tonight" : "any more";

    private static Danger DangerOf(Job job) => job.Threat?.Danger ?? Danger.Frost;

    private static string NameOf(Job job, Danger danger) => danger switch
    {
        Danger.Wind => job.DecidingValue is { } gust ? gust >= GaleMetresPerSecond ? "Gale" : "Strong wind" : "Wind",
        Danger.Heat => "Heat",
        Danger.Hail => job.DecidingValue < HailClass.Told ? "Thunderstorm" : "Hail",
        _ => "Frost",
    };

    private string When(Threat threat)
    {
        var at = Instant.Max(threat.From, agenda.AsOf).InZone(agenda.Zone).LocalDateTime;
        if (threat.Danger == Danger.Heat)
            return words.On(at.Date);
        if (threat.From <= agenda.AsOf)
            return "now";
        if (at.TimeOfDay >= Evening)
            return words.Night(at.Date);
        if (at.TimeOfDay < Morning)
            return words.Night(at.Date.PlusDays(-1));
        string part = at.TimeOfDay < Noon ? "morning" : "afternoon";
        return at.Date == agenda.Date ? $"this {part}" : $"{words.On(at.Date)} {part}";
    }

    private string ValueOf(Job job, double value) => DangerOf(job) switch
    {
        Danger.Wind => $"gusts to {words.Speech.Speed(value)}",
        Danger.Heat => words.Speech.Temperature(value),
        Danger.Hail => value >= HailClass.Heavy ? "heavy hail" : value >= HailClass.Told ? "hail" : "a thunderstorm",
        _ => $"leaves near {words.Speech.Temperature(value)}",
    };
}
