using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Days on which the heat is a danger to whoever works in it: then before nine, or after six.</summary>
internal static class GreatHeat
{
    // Classes of the heat index by the current US National Weather Service chart: 90 and 103 °F.
    private const double WorkEarlyC = 32, PutItOffC = 39;
    private static readonly LocalTime From = new(9, 0), Until = new(18, 0);

    /// <summary>The slots without the heat of such days; a day that leaves nothing else keeps its own.</summary>
    /// <param name="at">Of the bed, or of the place.</param>
    public static ImmutableArray<Window> Spared(ImmutableArray<Window> slots, Bed? bed, BedWeather at, Instant notBefore, Duration atLeast)
    {
        if (bed is { IsIndoors: true })
            return slots;
        var spared = ImmutableArray.CreateBuilder<Window>();
        foreach (var day in slots.GroupBy(slot => at.Calendar.DateOf(slot.From)))
        {
            if (!(IndexOn(day.Key, at) >= WorkEarlyC))
            {
                spared.AddRange(day);
                continue;
            }
            var (nine, six) = (at.Calendar.At(day.Key, From), at.Calendar.At(day.Key, Until));
            var parts = day
                .SelectMany(slot => new Window[] { slot with { Until = Instant.Min(slot.Until, nine) }, slot with { From = Instant.Max(slot.From, six) } })
                .Where(part => part.Until - Instant.Max(part.From, notBefore) >= atLeast)
                .ToList();
            spared.AddRange(parts.Count > 0 ? parts : day);
        }
        return spared.ToImmutable();
    }

    /// <summary>What is said to whoever works on the date; null when the day is bearable, or nothing is known of it.</summary>
    public static string? Caution(LocalDate date, BedWeather at, Speech speech) => Caution(IndexOn(date, at), speech);

    public static string? Caution(double? heatIndex, Speech speech) =>
        heatIndex is not { } index || index < WorkEarlyC ? null
            : index >= PutItOffC
            ? speech.Say($"It will feel like {speech.Temperature(index)}: work only early, drink, and put off what can wait. Confusion or fainting is an emergency.")
            : speech.Say($"It will feel like {speech.Temperature(index)}: work early, drink and rest in the shade.");

    private static double? IndexOn(LocalDate date, BedWeather at) => DangerFacts.Most(at, Measure.HeatIndex, at.Calendar.DayOf(date));
}
