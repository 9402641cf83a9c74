using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
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
        string on = entry.Date == today ? "" : " " + speech.DayFrom(today, entry.Date), thing = Thing(entry, speech);
        return entry.Kind switch
        {
            EntryKind.Done => speech.Say($"Done{on}: {thing}."),
            EntryKind.Skip => speech.Say($"Skipped{on}: {thing}."),
            EntryKind.Later => speech.Say($"Asked again from {speech.Day(entry.Until!.Value)}: {thing}."),
            EntryKind.Note => speech.Say($"Noted{on}: {thing}."),
            EntryKind.Reading => speech.Say($"Read{on}: {thing}; {Against(entry, speech)}."),
            EntryKind.Picked => speech.Say($"Picked{on}: {thing}."),
            EntryKind.Reset => speech.Say($"Readings begin anew: {thing}. Those of before stay in the journal and correct nothing any more."),
            _ => speech.Say($"Taken back{on}: {thing}."),
        };
    }

    /// <summary>The same as a clause: "done, Cover the tomatoes (low bed)".</summary>
    public static string Brief(JournalEntry entry, Speech speech) => $"{EntryWords.Of(entry.Kind)}, {Thing(entry, speech)}";

    /// <summary>What it is about, without what was done with it; never ends with a stop.</summary>
    public static string Thing(JournalEntry entry, Speech speech)
    {
        string about = entry.About ?? (entry.JobId is { } job ? OfId(job) : entry.SubjectId?.Replace('-', ' ')) ?? "";
        return entry.Kind switch
        {
            EntryKind.Note when entry.Text is { } text => $"“{OneLine(text)}”{(about.Length > 0 ? $" ({about})" : "")}",
            EntryKind.Note => about.Length > 0 ? speech.Say($"a picture of {about}") : speech.Say("a picture"),
            EntryKind.Reading when entry is { Measure: { } measure, Value: { } value } => $"{Measured(measure, value, entry.DepthMetres, speech)}{(about.Length > 0 ? $", {about}" : "")}",
            EntryKind.Reset when entry.Measure is { } measure => Name(measure, speech) + (about.Length > 0 ? $", {about}" : ""),
            EntryKind.Picked when entry.Grams is { } grams => speech.Say($"{speech.Weight(grams)} of {about}"),
            EntryKind.Picked when entry.Pieces is { } pieces => $"{speech.Number(pieces)} {about}",
            _ => about.Length > 0 ? about : OneLine(entry.Text ?? EntryWords.Of(entry.Kind)),
        };
    }

    /// <summary>What was recorded before names were kept: the id's own words, "set out: winter squash long bed".</summary>
    private static string OfId(string job) =>
        JobId.TryParse(job, out var id) ? $"{id.Value.Kind.Word()}: {id.Value.SubjectId.Replace('-', ' ')}" : job;

    private static string Name(ReadingKind measure, Speech speech) => measure switch
    {
        ReadingKind.Soil => speech.Say("soil"),
        ReadingKind.Rain => speech.Say("rain"),
        _ => speech.Say("the night’s low"),
    };

    private static string Measured(ReadingKind measure, double value, double? depthMetres, Speech speech) => measure switch
    {
        ReadingKind.Soil when depthMetres is { } depth => speech.Say($"soil {speech.Temperature(value)} at {speech.Length(depth)}"),
        ReadingKind.Soil => speech.Say($"soil {speech.Temperature(value)}, taken as {speech.Length(ModelledReading.UsualDepthMetres)} down"),
        ReadingKind.Rain when value == 0 => speech.Say("no rain"),
        ReadingKind.Rain => speech.Say($"{speech.Water(value)} of rain"),
        _ => speech.Say($"the night’s low {speech.Temperature(value)}"),
    };

    private static string Against(JournalEntry entry, Speech speech) => entry switch
    {
        { Measure: ReadingKind.Rain, Modelled: { } mm } => speech.Say($"the weather service had {speech.Water(mm)}"),
        { Measure: ReadingKind.Soil, Modelled: { } c } => speech.Say($"the model had {speech.Temperature(c)}"),
        { Measure: ReadingKind.AirLow, Modelled: { } c } => speech.Say($"the weather service had {speech.Temperature(c)}"),
        _ => speech.Say("nothing is known to hold it against"),
    };

    private static string OneLine(string text)
    {
        string line = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
        return line.Length > QuoteLength ? line[..QuoteLength] + "…" : line;
    }
}
