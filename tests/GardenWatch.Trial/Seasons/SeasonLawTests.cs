using System.Collections.Immutable;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>What holds on every morning of every season, whoever gardens.</summary>
public partial class SeasonLawTests
{
    private const int RowsOnAWeekday = 5, DaysBetweenAtRest = 7, SinksAfter = 4;

    public static TheoryData<string> Seasons => [.. SeasonsPlayed.AllNames];

    private static ImmutableArray<PlayedMorning> Mornings(string name)
    {
        var mornings = SeasonsPlayed.Played(name);
        Assert.SkipWhen(mornings is null, "The weather of this season is not at hand.");
        return mornings.Value;
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void No_job_is_asked_for_before_the_one_it_needs(string name)
    {
        foreach (var morning in Mornings(name))
            foreach (var job in morning.Agenda.Jobs.Where(job => job.Standing == Standing.Now))
            {
                int batch = JobId.TryParse(job.Id, out var id) ? id.Value.Time % 100 : 0;
                var planting = morning.Plan.Plantings.FirstOrDefault(planting => planting.Id == job.SubjectId);
                if (job.Kind == JobKind.SetOut && planting is { StartBedId: not null })
                    Assert.True(morning.Journal.DoneOn(job.SubjectId, JobKind.StartIndoors, batch) is not null || job.Reasons.Any(reason => reason.Code == "too-late-to-raise"),
                        $"{morning.Date}: {job.Id} before it was started");
                if (job.Kind is JobKind.Sow)
                    Assert.DoesNotContain(morning.Agenda.Ahead, ahead => ahead.Id.StartsWith(job.SubjectId + ".", StringComparison.Ordinal) && BatchOf(ahead) < batch);
                if (job.Kind is JobKind.Harvest or JobKind.Thin or JobKind.EarthUp or JobKind.Feed && planting is not null)
                    Assert.Contains(morning.Agenda.Sowings, sowing => sowing.Id == $"{job.SubjectId}.{batch}" && sowing.Stage is not ("finished" or "missed" or "dropped"));
            }
    }

    private static int BatchOf(SowingOutlook sowing) => int.Parse(sowing.Id[(sowing.Id.LastIndexOf('.') + 1)..], System.Globalization.CultureInfo.InvariantCulture);

    [Theory]
    [MemberData(nameof(Seasons))]
    public void What_was_to_be_sown_is_in_the_end_finished_missed_or_dropped_and_why_is_said(string name)
    {
        var mornings = Mornings(name);
        var (last, plan) = (mornings[^1].Agenda, mornings[^1].Plan);
        var toSow = plan.Plantings.Where(planting => planting.Sowings is not null || planting.StartBedId is not null).Select(planting => planting.Id).ToHashSet();
        bool IsOfPlan(SowingOutlook sowing) => toSow.Contains(sowing.Id[..sowing.Id.LastIndexOf('.')]);

        Assert.Empty(last.Sowings.Where(IsOfPlan).Where(sowing => !IsOver(sowing.Stage)).Select(sowing => $"{sowing.Id} {sowing.Stage}: {sowing.Sentence}"));
        Assert.Empty(last.Ahead.Where(IsOfPlan).Select(sowing => $"{sowing.Id}: {sowing.Sentence}"));
        Assert.All(mornings.SelectMany(morning => morning.Agenda.Sowings).Where(sowing => IsOver(sowing.Stage)), sowing => Assert.True(sowing.Sentence.Length > 10, sowing.Id));
    }

    private static bool IsOver(string stage) => stage is "finished" or "kept for seed" or "missed" or "dropped" or "skipped";

    [Theory]
    [MemberData(nameof(Seasons))]
    public void A_job_keeps_its_identity_while_it_is_open(string name)
    {
        PlayedMorning? before = null;
        foreach (var morning in Mornings(name))
        {
            Assert.Equal(morning.Agenda.Jobs.Length, morning.Agenda.Jobs.Select(job => job.Id).Distinct().Count());
            // A day of hardening counts itself by the weather, and the next one is a job of its own.
            foreach (var job in before?.Agenda.Jobs.Where(job => job.Standing == Standing.Now && job.Kind != JobKind.HardenOff && !before.Answered.Contains(job)) ?? [])
            {
                var same = morning.Agenda.Jobs.Where(other => other.SubjectId == job.SubjectId && other.Kind == job.Kind && other.SowingId == job.SowingId && other.Threat?.Danger == job.Threat?.Danger).ToList();
                // A bed that was watered by advice is watered anew under the next number, answered or not.
                Assert.True(job.Kind == JobKind.Water || same.Count == 0 || same.Any(other => other.Id == job.Id), $"{morning.Date}: {job.Id} has become {string.Join(", ", same.Select(other => other.Id))}");
            }
            before = morning;
        }
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void A_weekday_has_no_more_jobs_than_fit_and_what_is_ignored_steps_behind_but_frost_never_does(string name)
    {
        foreach (var morning in Mornings(name).Where(morning => morning.Digest is not null))
        {
            bool weekend = morning.Date.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday;
            var rows = morning.Digest!.Sections.Where(section => section.Title == "Today suits").SelectMany(section => section.Rows).OfType<JobRow>().ToList();
            var inFull = morning.Digest.Numbers.Where(number => rows.Any(row => row.Number == number.Number)).Select(number => morning.Agenda.Jobs.Single(job => job.Id == number.JobId)).ToList();
            if (!weekend)
            {
                Assert.True(rows.Count <= RowsOnAWeekday, $"{morning.Date}: {rows.Count} jobs in full");
                Assert.DoesNotContain(inFull, job => job is { Protects: false, ActBy: null } && job.TimesAsked >= SinksAfter);
            }
            Assert.DoesNotContain(morning.Agenda.Jobs, job => job.Protects && job.Sinks);
            Assert.All(morning.Agenda.Jobs.Where(job => job is { Protects: true, Standing: Standing.Now } && !morning.ForSitter),
                job => Assert.Contains(morning.Digest.Numbers, number => number.JobId == job.Id));
        }
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void At_rest_a_digest_comes_once_a_week_and_else_each_morning(string name)
    {
        LocalDate? last = null;
        foreach (var morning in Mornings(name))
        {
            bool leftAlone = morning.Plan.Away.Any(away => away.Sitter is null && away.From < morning.Date && morning.Date <= away.To);
            if (morning.Digest is not null)
            {
                Assert.True(!morning.Agenda.Rests || last is null || Period.DaysBetween(last.Value, morning.Date) >= DaysBetweenAtRest, $"{morning.Date}: at rest");
                last = morning.Date;
            }
            else if (!leftAlone)
            {
                Assert.True(morning.Agenda.Rests && Period.DaysBetween(last!.Value, morning.Date) < DaysBetweenAtRest, $"{morning.Date}: no digest");
            }
        }
    }

    [Theory]
    [MemberData(nameof(Seasons))]
    public void Nothing_is_asked_of_what_left_the_plan_and_no_id_is_shown(string name)
    {
        foreach (var morning in Mornings(name))
        {
            var subjects = morning.Plan.Plantings.Select(planting => planting.Id).Concat(morning.Plan.Beds.Select(bed => bed.Id)).Concat(morning.Plan.Chores.Select(chore => chore.Id)).ToHashSet();
            Assert.All(morning.Agenda.Jobs.Where(job => (job.Crop ?? job.SowingId ?? job.BedId) is not null), job => Assert.Contains(job.SubjectId, subjects));
            if (morning.Digest is not null)
                Assert.DoesNotMatch(RawId(), DigestText.Write(morning.Digest));
        }
    }

    [GeneratedRegex(@"hazel-bank/|long-bed|step-pot|back-room|NaN|\{\d|\bnull\b")]
    private static partial Regex RawId();
}
