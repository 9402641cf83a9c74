using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Rounds;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>What the gardener's own readings taught, and the last of them.</summary>
internal static class ReadingsText
{
    public static IEnumerable<string> Of(GardenStanding garden, Speech speech, LocalDate today)
    {
        foreach (var bed in (Bed?[])[null, .. garden.Plan.Beds])
        {
            string where = bed is null ? "the garden" : bed.Name;
            if (Count(garden, ReadingKind.Soil, bed) is > 0 and var soils)
                yield return $"Soil of {where}: {speech.Counted(soils, "reading")}; {Soil(garden.Corrections.SoilOf(bed?.Id)?.Kelvins, speech)}.";
            if (Count(garden, ReadingKind.AirLow, bed) is > 0 and var lows)
                yield return $"Nights’ lows of {where}: {speech.Counted(lows, "reading")}; {Low(garden.Corrections.FrostPocketOf(bed).Kelvins, speech)}.";
        }
        if (Count(garden, ReadingKind.Rain, null) is > 0 and var falls)
            yield return $"Rain gauge: {speech.Counted(falls, "reading")}; rain that was not measured is taken {speech.Tongue.Number(garden.Corrections.RainFactor, 2)} times.";
        foreach (var entry in garden.Readings)
            yield return $"  {speech.DayFrom(today, entry.Date)}: {JournalWords.Thing(entry, speech)}{(entry.Modelled is { } modelled ? $" (the weather alone said {Value(entry.Measure!.Value, modelled, speech)})" : "")}";
    }

    private static int Count(GardenStanding garden, ReadingKind kind, Bed? bed) => garden.Corrections.Counting(kind, bed?.Id).Count;

    private static string Soil(double? kelvins, Speech speech) => kelvins switch
    {
        null => "none can be held against the model yet, so nothing is learned",
        > 0 => $"taken {speech.Difference(kelvins.Value)} warmer than the model",
        < 0 => $"taken {speech.Difference(-kelvins.Value)} colder than the model",
        _ => "as the model has it",
    };

    private static string Low(double kelvins, Speech speech) => kelvins switch
    {
        > 0 => $"on clear, calm nights taken {speech.Difference(kelvins)} colder than the forecast",
        < 0 => $"on clear, calm nights taken {speech.Difference(-kelvins)} warmer than the forecast",
        _ => "as the forecast has it",
    };

    private static string Value(ReadingKind kind, double value, Speech speech) => kind == ReadingKind.Rain ? speech.Water(value) : speech.Temperature(value);
}
