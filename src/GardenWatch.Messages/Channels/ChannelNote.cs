using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Messages.Channels;

/// <summary>What a channel tells of a letter: the headline, the jobs, and a few facts of the coming night.</summary>
/// <param name="Kind">"digest", "warning" or "test".</param>
/// <param name="Urgent">Something is lost if it is not read today.</param>
/// <param name="Until">When it has nothing more to say.</param>
public sealed record ChannelNote(
    string GardenId, string GardenName, string Kind, LocalDate Date, string Subject, string Headline, bool Urgent, Instant Until,
    ImmutableArray<NotedJob> Jobs)
{
    /// <summary>The language of its words.</summary>
    public Tongue Tongue { get; init; } = Tongue.English;

    /// <summary>At the leaves in the night that begins on the date; null when not known.</summary>
    public double? LeafLowC { get; init; }

    /// <summary>From 0 to 1; null when not known.</summary>
    public double? FrostChance { get; init; }

    public static ChannelNote Of(Letter letter, Agenda agenda, string kind, bool urgent, Instant until)
    {
        var rows = letter.Sections.SelectMany(section => section.Rows).OfType<JobRow>().ToDictionary(row => row.Number);
        var jobs = ImmutableArray.CreateBuilder<NotedJob>();
        foreach (var (number, jobId) in letter.Numbers)
        {
            if (agenda.Jobs.FirstOrDefault(job => job.Id == jobId) is { } job)
                jobs.Add(new(number, Plain.OneLine(job.Name, Plain.NameLength), Bed(job), job.Standing, job.ActBy, rows.GetValueOrDefault(number)?.When));
        }
        var tonight = agenda.Week.FirstOrDefault(day => day.Date == agenda.Date);
        return new(
            letter.GardenId, letter.GardenName, kind, agenda.Date, Plain.OneLine(letter.Subject, Plain.SentenceLength),
            Plain.OneLine(letter.Headline, Plain.SentenceLength), urgent, until, jobs.ToImmutable())
        {
            Tongue = letter.Tongue,
            LeafLowC = tonight?.LeafLowC,
            FrostChance = tonight?.FrostChance,
        };
    }

    /// <summary>For trying a channel out: nothing in it is to be done.</summary>
    public static ChannelNote Test(Instant now) => new(
        "gardenwatch", "GardenWatch", "test", now.InUtc().Date, "A test from GardenWatch", "This message came through, so the digest will, too.",
        Urgent: false, now + Duration.FromHours(1), []);

    private static string? Bed(Job job) => Plain.OneLine(job.BedName, Plain.NameLength) is { Length: > 0 } bed ? bed : null;
}

/// <param name="Number">What "done 1" means.</param>
/// <param name="When">"by 7:30 pm"; null when it is not told.</param>
public sealed record NotedJob(int Number, string Name, string? Bed, Standing Standing, Instant? ActBy, string? When);
