using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What the messages have told of one job: since when, how it stood, and the number that decided.</summary>
/// <param name="FirstOn">The local date of the first message that named it.</param>
/// <param name="LastOn">The local date of the last message that named it.</param>
/// <param name="Standing">How it stood then.</param>
/// <param name="Value">The deciding value then, in its dimension's own unit; null when it was not known.</param>
public sealed record Said(LocalDate FirstOn, LocalDate LastOn, Standing Standing, double? Value)
{
    /// <summary>On how many local dates messages said that it can be done now.</summary>
    public int TimesAsked { get; init; }
}

/// <summary>What a garden's last messages said, so that nothing is told twice and waiting days can be counted.</summary>
/// <param name="Jobs">By job id.</param>
/// <param name="Stages">By sowing id, the stage that was told.</param>
public sealed record LastSaid(ImmutableDictionary<string, Said> Jobs, ImmutableDictionary<string, string> Stages)
{
    public static LastSaid Nothing { get; } =
        new(ImmutableDictionary<string, Said>.Empty, ImmutableDictionary<string, string>.Empty);

    /// <summary>As it stands once a digest of this agenda has been sent.</summary>
    public LastSaid After(Agenda agenda) => AfterTelling(agenda.Jobs, agenda.Date) with
    {
        Stages = agenda.Sowings.ToImmutableDictionary(sowing => sowing.Id, sowing => sowing.Stage),
    };

    /// <summary>
    /// As it stands once a message that told these jobs alone has been sent. What it did not tell stays as it was told before, or a
    /// danger could grow step by step behind messages about another.
    /// </summary>
    public LastSaid AfterTelling(IEnumerable<Job> told, LocalDate date)
    {
        var jobs = Jobs.ToBuilder();
        foreach (var job in told)
        {
            var before = Jobs.GetValueOrDefault(job.Id);
            bool askedToday = before is { Standing: Standing.Now } && before.LastOn == date;
            bool asksAnew = job.Standing == Standing.Now && !askedToday;
            jobs[job.Id] = new(before?.FirstOn ?? date, date, job.Standing, job.DecidingValue) { TimesAsked = (before?.TimesAsked ?? 0) + (asksAnew ? 1 : 0) };
        }
        return this with { Jobs = jobs.ToImmutable() };
    }
}
