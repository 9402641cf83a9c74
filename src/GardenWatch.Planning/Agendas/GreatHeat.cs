using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Days on which the heat is a danger to whoever works in it: work before nine or after six, or on another day.</summary>
internal sealed class GreatHeat(GardenWeather weather)
{
    // Classes of the heat index by the current US National Weather Service chart: 90 and 103 °F.
    private const double WorkEarlyC = 32, PutItOffC = 39;
    private static readonly LocalTime From = new(9, 0), Until = new(18, 0);

    private readonly Dictionary<LocalDate, double?> _index = [];

    /// <summary>Hours of such days without the heat of the day; where nothing is left at all, they stay as they are.</summary>
    public ImmutableArray<Window> Spared(ImmutableArray<Window> slots, Instant notBefore, Duration atLeast)
    {
        var spared = ImmutableArray.CreateBuilder<Window>();
        foreach (var slot in slots)
        {
            var date = weather.Calendar.DateOf(slot.From);
            if (!(IndexOn(date) >= WorkEarlyC))
            {
                spared.Add(slot);
                continue;
            }
            var (nine, six) = (weather.Calendar.At(date, From), weather.Calendar.At(date, Until));
            foreach (var part in (Window[])[slot with { Until = Instant.Min(slot.Until, nine) }, slot with { From = Instant.Max(slot.From, six) }])
                if (part.Until - Instant.Max(part.From, notBefore) >= atLeast)
                    spared.Add(part);
        }
        return spared.Count == 0 ? slots : spared.ToImmutable();
    }

    /// <summary>What is said to whoever works on the date; null when the day is bearable, or nothing is known of it.</summary>
    public string? Caution(LocalDate date) => Caution(IndexOn(date), weather.Speech);

    public static string? Caution(double? heatIndex, Speech speech) =>
        heatIndex is not { } index || index < WorkEarlyC ? null
            : index >= PutItOffC
            ? speech.Say($"It will feel like {speech.Temperature(index)}: work only early, drink, and put off what can wait. Confusion or fainting is an emergency.")
            : speech.Say($"It will feel like {speech.Temperature(index)}: work early, drink and rest in the shade.");

    private double? IndexOn(LocalDate date)
    {
        if (!_index.TryGetValue(date, out double? index))
            _index[date] = index = DangerFacts.Most(weather.Place.Weather, Measure.HeatIndex, weather.Calendar.DayOf(date));
        return index;
    }
}
