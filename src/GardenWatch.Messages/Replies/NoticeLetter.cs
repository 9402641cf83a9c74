using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>A word back at once on an answer by mail: what could not be understood, or that messages stop or begin again.</summary>
public sealed record NoticeLetter : Letter
{
    /// <param name="understood">Sentences.</param>
    /// <param name="asked">What was not understood, as sentences.</param>
    /// <param name="answerAddress">Where answers by mail are read; null where none are.</param>
    public static NoticeLetter Of(
        string gardenId, string gardenName, Speech speech, LocalDate today, ImmutableArray<string> understood, ImmutableArray<string> asked, string? answerAddress)
    {
        ArgumentNullException.ThrowIfNull(speech);
        string name = Plain.OneLine(gardenName, Plain.NameLength);
        string headline = asked.IsEmpty ? speech.Say("Your answer has arrived") : speech.Say("Your answer is not clear");
        return new()
        {
            GardenId = gardenId,
            GardenName = name,
            Zone = speech.Zone,
            Tongue = speech.Tongue,
            Heading = $"{name}, {speech.Tongue.WholeDay(today)}",
            Subject = headline,
            Headline = headline,
            Lead = Plain.Cut((asked.IsEmpty ? understood : asked)[0], Plain.SentenceLength),
            Sections =
            [
                .. Lines(asked.Length > 1 ? speech.Say("Not clear either") : null, [.. asked.Skip(1)]),
                .. Lines(speech.Say("Understood"), asked.IsEmpty ? [.. understood.Skip(1)] : understood),
            ],
            Foot = asked.IsEmpty ? [] : [new(speech.Say("Answer this message, with the numbers of the last one."))],
            Numbers = [],
            AnswerAddress = answerAddress,
        };
    }

    private static IEnumerable<Section> Lines(string? title, ImmutableArray<string> lines) =>
        lines.IsEmpty ? [] : [new(title, [.. lines.Select(line => new LineRow(Plain.Cut(line, Plain.SentenceLength)))])];
}
