using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Warnings;

/// <summary>The short message at any other hour: what is new or worse, and nothing else.</summary>
public sealed record WarningMessage : Letter
{
    /// <param name="jobs">What is new or worse than last said, the most pressing first.</param>
    /// <param name="calledOff">What was asked for today and is not wanted any more. Of both together at least one.</param>
    /// <param name="lastSaid">What the day's messages have said, so that it can be named what changed; null for nothing.</param>
    /// <param name="answerAddress">Where the service reads answers by mail; null when it reads none.</param>
    public static WarningMessage Of(
        Agenda agenda, IReadOnlyList<Job> jobs, IReadOnlyList<Job> calledOff, Addressee addressee, string? answerAddress = null,
        LastSaid? lastSaid = null)
    {
        if (jobs.Count == 0)
            return AllClear(agenda, calledOff, addressee);
        var words = new Words(new Speech(addressee.Units, agenda.Zone, agenda.Tongue), agenda.Date, agenda.AsOf);
        var lines = new JobLines(words);
        var room = Room.Sizes[0];
        var threats = new ThreatWords(agenda, words);
        jobs = [.. jobs.Select(job => threats.WithChange(job, lastSaid))];
        var first = jobs[0];
        string deed = JobLines.Deed(first);
        string by = first.ActBy is { } hour ? " " + words.By(hour) : "";
        string danger = threats.Named(first);
        string more = jobs.Count == 1 ? "" : words.Speech.Say($", {jobs.Count - 1} more");
        var foot = Digest.FootOf(agenda, words, answerAddress);
        ImmutableArray<Section> sections =
        [
            room.Cut(new(null, [.. lines.Rows(jobs, room.Jobs, words.Speech.Say("Before it’s too late as well"))])),
            .. calledOff.Count == 0 ? [] : (Section[])[room.Cut(new(words.Speech.Say("Not needed any more"), [.. calledOff.Select(Unneeded)]))],
        ];
        var gallery = new Gallery(agenda with { Jobs = [.. jobs] }, words, lines, Frame.Mail);
        var ahead = gallery.HoursAhead();
        return new WarningMessage
        {
            GardenId = agenda.GardenId,
            GardenName = Digest.NameOf(agenda),
            Zone = agenda.Zone,
            Tongue = agenda.Tongue,
            Heading = Digest.HeadingOf(agenda, $", {words.Speech.Hour(agenda.AsOf)}"),
            Subject = $"{danger}: {Plain.Cut(words.FirstLower(deed), DigestOpening.SubjectSeen - 3 - danger.Length - by.Length)}{by}{more}".Replace('\u00A0', ' '),
            Headline = deed + by,
            Lead = LeadOf(agenda, danger, threats.Others(jobs), first, jobs.Count, words),
            Opening = ahead,
            Sections = sections,
            Foot = gallery.Told(answerAddress is null ? foot : foot.SetItem(1, new(words.Speech.Say($"Reply “{Words.Done}” and you will not be asked again for it.")))),
            Numbers = lines.Numbers,
            AnswerAddress = answerAddress,
        };
    }

    private static WarningMessage AllClear(Agenda agenda, IReadOnlyList<Job> calledOff, Addressee addressee)
    {
        if (calledOff.Count == 0)
            throw new ArgumentException("A warning is about at least one job.", nameof(calledOff));
        var words = new Words(new Speech(addressee.Units, agenda.Zone, agenda.Tongue), agenda.Date, agenda.AsOf);
        string deed = words.FirstLower(JobLines.Deed(calledOff[0]));
        string more = calledOff.Count == 1 ? "" : words.Speech.Say($", {calledOff.Count - 1} more");
        return new WarningMessage
        {
            GardenId = agenda.GardenId,
            GardenName = Digest.NameOf(agenda),
            Zone = agenda.Zone,
            Tongue = agenda.Tongue,
            Heading = Digest.HeadingOf(agenda, $", {words.Speech.Hour(agenda.AsOf)}"),
            Subject = words.Speech.Say($"Called off: {Plain.Cut(deed, DigestOpening.SubjectSeen - 14 - more.Length)}{more}").Replace('\u00A0', ' '),
            Headline = new ThreatWords(agenda, words).NotNeeded(calledOff[0], deed),
            Lead = calledOff.Count == 1 ? words.Speech.Say("What was asked for today is not wanted any more.") : words.Speech.Say("Nor what else was asked for today, below."),
            Sections = [Room.Sizes[0].Cut(new(null, [.. calledOff.Select(Unneeded)]))],
            // There is nothing to answer, so nothing has a number and how to answer is left out.
            Foot = Digest.FootOf(agenda, words, null).RemoveAt(1),
            Numbers = [],
        };
    }

    private static SayingRow Unneeded(Job job)
    {
        string bed = JobLines.BedToName(job) is { } name ? $" ({name})" : "";
        return new(JobLines.Deed(job) + bed, Words.Sentences(job.Reasons.Take(1).Select(reason => reason.Text)));
    }

    /// <summary>"Frost tonight, 9 in 10. One more can’t wait."</summary>
    private static string LeadOf(Agenda agenda, string danger, string others, Job first, int count, Words words)
    {
        string odds = first.Chance is { } chance ? ", " + words.Odds(chance.Value) : "";
        string more = count == 1 ? "" : " " + Words.FirstUpper(words.Speech.Many(count - 1, "{1} more can’t wait.", "{1} more can’t wait.", words.Count(count - 1)));
        string doubt = words.Doubt(agenda) is { } said ? $" {said}." : "";
        return danger + odds + "." + (others.Length > 0 ? " " + others : "") + more + doubt;
    }
}
