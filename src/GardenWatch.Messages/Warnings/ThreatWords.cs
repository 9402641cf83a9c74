using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
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
            return Speech.Say($"{NameOf(job, threat.Danger)} {When(threat)}");
        var tonight = agenda.Week.FirstOrDefault(day => day.Date == agenda.Date);
        return job.Kind switch
        {
            JobKind.Cover or JobKind.Protect or JobKind.Drain when tonight is not null && WeatherWords.HasFrost(tonight) => Speech.Say("Frost tonight"),
            JobKind.Shade or JobKind.Water or JobKind.Vent when tonight is not null && WeatherWords.IsHot(tonight) => Speech.Say("Heat today"),
            _ => Speech.Say("Before it’s too late"),
        };
    }

    /// <summary>Another danger than the first job's, each once: "Hail this afternoon as well."</summary>
    public string Others(IReadOnlyList<Job> jobs) => string.Join(' ', jobs
        .Where(job => DangerOf(job) != DangerOf(jobs[0]))
        .DistinctBy(DangerOf)
        .Select(job => Speech.Say($"{Named(job)} as well.")));

    /// <summary>The job with what the last message of the day said beside what is known now, where it has become worse.</summary>
    public Job WithChange(Job job, LastSaid? lastSaid)
    {
        if (lastSaid is null || Threats.MilderAsTold(job, agenda, lastSaid) is not { } told || job.DecidingValue is not { } now)
            return job;
        var (before, after) = (ValueOf(job, told), ValueOf(job, now));
        return before == after ? job : job with
        {
            Reasons = job.Reasons.Insert(0, new("changed", ImmutableDictionary<string, double>.Empty.Add("now", now).Add("told", told),
                Speech.Say($"It has become worse: the last message said {before}."))),
        };
    }

    /// <summary>"No need to cover the tomatoes tonight" where it was the coming night's, else "any more".</summary>
    public string NotNeeded(Job job, string deed) =>
        job.Threat is null ? Speech.Say($"No need to {deed} tonight") : Speech.Say($"No need to {deed} any more");

    private static Danger DangerOf(Job job) => job.Threat?.Danger ?? Danger.Frost;

    private string NameOf(Job job, Danger danger) => danger switch
    {
        Danger.Wind => job.DecidingValue is { } gust ? gust >= GaleMetresPerSecond ? Speech.Say("Gale") : Speech.Say("Strong wind") : Speech.Say("Wind"),
        Danger.Heat => Speech.Say("Heat"),
        Danger.Hail => job.DecidingValue < HailClass.Told ? Speech.Say("Thunderstorm") : Speech.Say("Hail"),
        _ => Speech.Say("Frost"),
    };

    private Speech Speech => words.Speech;

    private string When(Threat threat)
    {
        var at = Instant.Max(threat.From, agenda.AsOf).InZone(agenda.Zone).LocalDateTime;
        if (threat.Danger == Danger.Heat)
            return words.On(at.Date);
        if (threat.From <= agenda.AsOf)
            return Speech.Say("now");
        if (at.TimeOfDay >= Evening)
            return words.Night(at.Date);
        if (at.TimeOfDay < Morning)
            return words.Night(at.Date.PlusDays(-1));
        return (at.Date == agenda.Date, at.TimeOfDay < Noon) switch
        {
            (true, true) => Speech.Say("this morning"),
            (true, false) => Speech.Say("this afternoon"),
            (false, true) => Speech.Say($"{words.On(at.Date)} morning"),
            _ => Speech.Say($"{words.On(at.Date)} afternoon"),
        };
    }

    private string ValueOf(Job job, double value) => DangerOf(job) switch
    {
        Danger.Wind => Speech.Say($"gusts to {Speech.Speed(value)}"),
        Danger.Heat => words.Speech.Temperature(value),
        Danger.Hail => value >= HailClass.Heavy ? Speech.Say("heavy hail") : value >= HailClass.Told ? Speech.Say("hail") : Speech.Say("a thunderstorm"),
        _ => Speech.Say($"leaves near {Speech.Temperature(value)}"),
    };
}
