using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Pages;

/// <summary>One bed in words.</summary>
/// <param name="Growing">Each sowing in it, under its name.</param>
/// <param name="Jobs">What is to do or waits there.</param>
public sealed record BedSheet(string Id, string Name, ImmutableArray<(string SowingId, SayingRow Said)> Growing, ImmutableArray<JobRow> Jobs, string Ground);

/// <summary>The agenda as the page shows it: what the digest says and leaves room for, and its pictures on wide and narrow sheets.</summary>
public sealed record GardenSheet
{
    public required string GardenName { get; init; }
    public required string Headline { get; init; }
    public required string Lead { get; init; }
    /// <summary>Null where it would show nothing, like the other pictures.</summary>
    public required PagePicture? Day { get; init; }
    public required PagePicture? Week { get; init; }
    public required PagePicture? Plan { get; init; }
    /// <summary>Null when empty, like the others: what is lost if it is not done.</summary>
    public required Section? Pressing { get; init; }
    public required Section? Suits { get; init; }
    /// <summary>The days ahead and the jobs of them.</summary>
    public required Section? OnTheWay { get; init; }
    public required Section? Waiting { get; init; }
    public required Section? BeforeLeaving { get; init; }
    public required Section? YearAgo { get; init; }
    public required Section? Notes { get; init; }
    public required ImmutableArray<BedSheet> Beds { get; init; }
    public required ImmutableArray<FootLine> Foot { get; init; }
    /// <summary>The job of each number.</summary>
    public required ImmutableDictionary<int, Job> Jobs { get; init; }

    /// <param name="numbers">
    /// Those of the message that was sent last, by job: a job keeps its number there, so that both tell of one; others follow them.
    /// </param>
    public static GardenSheet Of(
        Agenda agenda, IReadOnlyList<JournalEntry> journal, UnitSystem units, ImmutableDictionary<string, int> numbers)
    {
        var words = new Words(new Speech(units, agenda.Zone, agenda.Tongue), agenda.Date, agenda.AsOf);
        var weather = new WeatherWords(words);
        var lines = new JobLines(words, numbers);
        var narrow = new Gallery(agenda, words, lines, Frame.Mail);
        var wide = new Gallery(agenda, words, lines, Frame.Page);
        var opening = new DigestOpening(agenda, DigestOccasion.OnTime, words, weather, lines);
        var sections = new DigestSections(agenda, journal, DigestOccasion.OnTime, reader: "", words, weather, lines, narrow, Room.Page);
        // Numbers run in this order, and the pictures bear those that were given.
        var (pressing, suits, onTheWay, waiting) = (sections.BeforeTooLate(), sections.TodaySuits(), sections.OnTheWay(), sections.Waiting());
        var rows = new[] { pressing, suits, onTheWay, waiting }.OfType<Section>().SelectMany(section => section.Rows).OfType<JobRow>().ToDictionary(row => row.Number);
        var jobOf = lines.Numbers.ToImmutableDictionary(number => number.Number, number => agenda.Jobs.First(job => job.Id == number.JobId));
        return new()
        {
            GardenName = Digest.NameOf(agenda),
            Headline = opening.Headline,
            Lead = opening.Lead,
            Day = PagePicture.Of("day", narrow.Day(), wide.Day()),
            Week = PagePicture.Of("week", narrow.Week(), wide.Week()),
            Plan = PagePicture.Of("plan", narrow.Beds(), wide.Beds()),
            Pressing = pressing,
            Suits = suits,
            OnTheWay = onTheWay is null ? null : onTheWay with { Rows = [.. onTheWay.Rows.Where(row => row is not PictureRow)] },
            Waiting = waiting,
            BeforeLeaving = sections.BeforeLeaving(),
            YearAgo = sections.YearAgo(),
            Notes = sections.Notes(),
            Beds = [.. agenda.Beds.Select(BedOf)],
            Foot = [.. narrow.Told(Digest.FootOf(agenda, words, answerAddress: null)).Where(line => line.Text != words.ByCommand)],
            Jobs = jobOf,
        };

        BedSheet BedOf(BedOutlook bed) => new(
            bed.Id, Words.FirstUpper(Plain.OneLine(bed.Name, Plain.NameLength)),
            [.. agenda.Sowings.Where(sowing => sowing.BedId == bed.Id).Select(sowing => (sowing.Id, DigestSections.Said(sowing)))],
            [.. jobOf.Where(job => job.Value.BedId == bed.Id).OrderBy(job => job.Key).Select(job => rows.GetValueOrDefault(job.Key)).OfType<JobRow>()],
            sections.SaidOf(bed));
    }

    /// <summary>How a sowing stands, under its name.</summary>
    public static SayingRow Said(SowingOutlook sowing) => DigestSections.Said(sowing);
}
