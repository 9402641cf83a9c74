using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>The agenda as the morning's message. The order is by what can't wait.</summary>
public sealed record Digest : Letter
{
    public required LocalDate Date { get; init; }

    /// <summary>The same agenda, journal, addressee and occasion give the same digest.</summary>
    public static Digest Of(
        Agenda agenda, IReadOnlyList<JournalEntry> journal, Addressee addressee, DigestOccasion occasion)
    {
        foreach (var room in Room.Sizes[..^1])
        {
            var digest = Of(agenda, journal, addressee, occasion, room);
            if (MailWeight.OfWords(digest) <= Room.MostBytes)
                return digest;
        }
        return Of(agenda, journal, addressee, occasion, Room.Sizes[^1]);
    }

    private static Digest Of(
        Agenda agenda, IReadOnlyList<JournalEntry> journal, Addressee addressee, DigestOccasion occasion, Room room)
    {
        var words = new Words(new Speech(addressee.Units, agenda.Zone, agenda.Tongue), agenda.Date, agenda.AsOf);
        var weather = new WeatherWords(words);
        var jobs = new JobLines(words, silent: agenda.SilentForDays is not null);
        var gallery = new Gallery(agenda, words, jobs, Frame.Mail);
        var opening = new DigestOpening(agenda, occasion, words, weather, jobs);
        var sections = new DigestSections(agenda, OwnOf(journal, addressee), occasion, addressee.Address, words, weather, jobs, gallery, room).All(opening.IsQuiet);
        var day = opening.IsQuiet ? null : gallery.Day();
        return new Digest
        {
            GardenId = agenda.GardenId,
            GardenName = NameOf(agenda),
            Date = agenda.Date,
            Zone = agenda.Zone,
            Tongue = agenda.Tongue,
            Heading = HeadingOf(agenda, ""),
            Subject = opening.Subject,
            Headline = opening.Headline,
            Lead = opening.Lead,
            Opening = day,
            Sections = sections,
            Foot = gallery.Told(FootOf(agenda, words, occasion.AnswerAddress)),
            Numbers = jobs.Numbers,
            AnswerAddress = occasion.AnswerAddress,
        };
    }

    /// <summary>What concerns someone who tends some of the beds: their entries, and those that belong to no bed.</summary>
    private static IReadOnlyList<JournalEntry> OwnOf(IReadOnlyList<JournalEntry> journal, Addressee addressee) => addressee.BedIds.IsEmpty
        ? journal
        : [.. journal.Where(entry => entry.BedId is null || addressee.BedIds.Contains(entry.BedId))];

    /// <summary>Stages to keep, so that the next digest can say what changed.</summary>
    public static ImmutableDictionary<string, string> StagesOf(Agenda agenda) =>
        agenda.Sowings.ToImmutableDictionary(sowing => sowing.Id, sowing => sowing.Stage);

    internal static string NameOf(Agenda agenda) => Plain.OneLine(agenda.GardenName, Plain.NameLength);

    internal static string HeadingOf(Agenda agenda, string hour) =>
        $"{NameOf(agenda)}, {agenda.Tongue.WholeDay(agenda.Date)}{hour}";

    /// <summary>Where the weather is from and how old, how to answer, and what comes before our advice.</summary>
    internal static ImmutableArray<FootLine> FootOf(Agenda agenda, Words words, string? answerAddress)
    {
        const string service = "Open-Meteo.com", licence = "CC\u00A0BY\u00A04.0";
        string credit = $"{service} ({licence})";
        string weather = agenda.Weather.FetchedAt is { } fetched
            ? words.Speech.Say($"Weather of {words.OnDay(fetched)} from {credit}, {words.Age(agenda.Weather.Age ?? agenda.AsOf - fetched)} old.")
            : words.Speech.Say($"No weather has come yet from {credit}.");
        return
        [
            agenda.Weather.IsInvented
                ? new(words.Speech.Say($"The weather is invented, for a demonstration."))
                : new(weather, [(service, "https://open-meteo.com/"), (licence, "https://creativecommons.org/licenses/by/4.0/")]),
            new(answerAddress is null ? words.ByCommand : words.ByReply),
            new(words.LabelFirst),
        ];
    }
}
