using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Warnings;

/// <summary>The short message at any other hour: what is new or worse, and nothing else.</summary>
public sealed record WarningMessage : Letter
{
    /// <param name="jobs">What is new or worse than last said, the most pressing first; at least one.</param>
    /// <param name="answerAddress">Where the service reads answers by mail; null when it reads none.</param>
    public static WarningMessage Of(
        Agenda agenda, IReadOnlyList<Job> jobs, Addressee addressee, string? answerAddress = null)
    {
        if (jobs.Count == 0)
            throw new ArgumentException("A warning is about at least one job.", nameof(jobs));
        var words = new Words(new Speech(addressee.Units, agenda.Zone), agenda.Date, agenda.AsOf);
        var lines = new JobLines(words);
        var room = Room.Sizes[0];
        var first = jobs[0];
        string deed = JobLines.Deed(first);
        string by = first.ActBy is { } hour ? " " + words.By(hour) : "";
        string danger = Danger(agenda, first);
        string more = jobs.Count == 1 ? "" : $", {jobs.Count - 1} more";
        var foot = Digest.FootOf(agenda, words, answerAddress);
        var sections = ImmutableArray.Create(room.Cut(new(null, [.. lines.Rows(jobs, room.Jobs, "Before it’s too late as well")])));
        var gallery = new Gallery(agenda with { Jobs = [.. jobs] }, words, lines, Frame.Mail);
        var ahead = gallery.HoursAhead();
        return new WarningMessage
        {
            GardenId = agenda.GardenId,
            GardenName = Digest.NameOf(agenda),
            Zone = agenda.Zone,
            Heading = Digest.HeadingOf(agenda, $", {words.Speech.Hour(agenda.AsOf)}"),
            Subject = $"{danger}: {Plain.Cut(Words.FirstLower(deed), DigestOpening.SubjectSeen - 3 - danger.Length - by.Length)}{by}{more}".Replace('\u00A0', ' '),
            Headline = deed + by,
            Lead = LeadOf(agenda, danger, first, jobs.Count, words),
            Opening = ahead,
            Sections = sections,
            Foot = gallery.Told(answerAddress is null ? foot : foot.SetItem(1, new("Reply “done\u00A01” and you will not be asked again for it."))),
            Numbers = lines.Numbers,
            AnswerAddress = answerAddress,
        };
    }

    /// <summary>"Frost tonight, 9 in 10. One more can’t wait."</summary>
    private static string LeadOf(Agenda agenda, string danger, Job first, int count, Words words)
    {
        string odds = first.Chance is { } chance ? ", " + Words.Odds(chance.Value) : "";
        string more = count == 1 ? "" : $" {Words.FirstUpper(Words.Count(count - 1))} more can’t wait.";
        string doubt = Words.Doubt(agenda) is { } said ? $" {said}." : "";
        return danger + odds + "." + more + doubt;
    }

    /// <summary>What presses, in two words.</summary>
    private static string Danger(Agenda agenda, Job job)
    {
        var tonight = agenda.Week.FirstOrDefault(day => day.Date == agenda.Date);
        return job.Kind switch
        {
            JobKind.Cover or JobKind.Protect or JobKind.Drain when tonight is not null && WeatherWords.HasFrost(tonight) => "Frost tonight",
            JobKind.Shade or JobKind.Water or JobKind.Vent when tonight is not null && WeatherWords.IsHot(tonight) => "Heat today",
            _ => "Before it’s too late",
        };
    }
}
