using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Readings;
using NodaTime;

namespace GardenWatch.Planning.Journals;

/// <summary>An entry in words, for lists and acknowledgements.</summary>
public static class JournalWords
{
    private const int QuoteLength = 200;

    /// <summary>A sentence: "Done: Cover the tomatoes (low bed).", "Soil 14 °C at 5 cm, kitchen bed; the model had 12 °C."</summary>
    public static string Said(JournalEntry entry, Speech speech, LocalDate today)
    {
        string on = entry.Date == today ? "" : $" {Speech.DayFrom(today, entry.Date)}";
        return entry.Kind switch
        {
            EntryKind.Done => $"Done{on}: {Thing(entry, speech)}.",
            EntryKind.Skip => $"Skipped{on}: {Thing(entry, speech)}.",
            EntryKind.Later => $"Asked again from {Speech.Day(entry.Until!.Value)}: {Thing(entry, speech)}.",
            EntryKind.Note => $"Noted{on}: {Thing(entry, speech)}.",
            EntryKind.Reading => $"Read{on}: {Thing(entry, speech)}{Against(entry, speech)}.",
            EntryKind.Picked => $"Picked{on}: {Thing(entry, speech)}.",
            EntryKind.Reset => $"Readings begin anew: {Thing(entry, speech)}. Those of before stay in the journal and correct nothing any more.",
            _ => $"Taken back{on}: {Thing(entry, speech)}.",
        };
    }

    /// <summary>The same as a clause: "done, Cover the tomatoes (low bed)".</summary>
    public static string Brief(JournalEntry entry, Speech speech) => $"{EntryWords.Of(entry.Kind)}, {Thing(entry, speech)}";

    /// <summary>What it is about, without what was done with it; never ends with a stop.</summary>
    public static string Thing(JournalEntry entry, Speech speech)
    {
        string about = entry.About ?? entry.JobId ?? entry.SubjectId ?? "";
        return entry.Kind switch
        {
            EntryKind.Note when entry.Text is { } text => $"“{OneLine(text)}”{(about.Length > 0 ? $" ({about})" : "")}",
            EntryKind.Note => about.Length > 0 ? $"a picture of {about}" : "a picture",
            EntryKind.Reading when entry is { Measure: { } measure, Value: { } value } => $"{Measured(measure, value, entry.DepthMetres, speech)}{(about.Length > 0 ? $", {about}" : "")}",
            EntryKind.Reset when entry.Measure is { } measure => EntryWords.Of(measure) + (about.Length > 0 ? $", {about}" : ""),
            EntryKind.Picked => Amount(entry, speech) is { Length: > 0 } amount ? $"{amount} {about}" : about,
            _ => about.Length > 0 ? about : OneLine(entry.Text ?? EntryWords.Of(entry.Kind)),
        };
    }

    /// <summary>"1.2 kg", "3"; empty when nobody weighed or counted.</summary>
    public static string Amount(JournalEntry entry, Speech speech) => entry switch
    {
        { Grams: { } grams } => speech.Weight(grams) + " of",
        { Pieces: { } pieces } => Speech.Number(pieces),
        _ => "",
    };

    private static string Measured(ReadingKind measure, double value, double? depthMetres, Speech speech) => measure switch
    {
        ReadingKind.Soil => $"soil {speech.Temperature(value)}{(depthMetres is { } depth ? $" at {speech.Length(depth)}" : $", {speech.Length(ModelledReading.UsualDepthMetres)} deep as usual")}",
        ReadingKind.Rain => value == 0 ? "no rain" : $"rain {speech.Water(value)}",
        _ => $"night’s low {speech.Temperature(value)}",
    };

    private static string Against(JournalEntry entry, Speech speech) => entry switch
    {
        { Measure: ReadingKind.Rain, Modelled: { } mm } => $"; the weather service had {speech.Water(mm)}",
        { Measure: ReadingKind.Soil, Modelled: { } c } => $"; the model had {speech.Temperature(c)}",
        { Measure: ReadingKind.AirLow, Modelled: { } c } => $"; the weather service had {speech.Temperature(c)}",
        _ => "; nothing is known to hold it against",
    };

    private static string OneLine(string text)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return line.Length > QuoteLength ? line[..QuoteLength] + "…" : line;
    }
}
