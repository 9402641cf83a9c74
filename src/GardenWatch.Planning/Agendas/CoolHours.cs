using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// Water given in the early morning or the evening reaches the roots; at midday much of it is lost to sun and wind, and wet leaves
/// in the night are prone to mildew, so the morning comes first (extension advice).
/// </summary>
internal static class CoolHours
{
    private static readonly LocalTime From = new(10, 0), Until = new(17, 0);

    /// <summary>The slots without the midday; a day that leaves nothing else keeps its own.</summary>
    public static ImmutableArray<Window> Of(ImmutableArray<Window> slots, LocalCalendar calendar, Instant notBefore, Duration atLeast)
    {
        var cool = ImmutableArray.CreateBuilder<Window>();
        foreach (var day in slots.GroupBy(slot => calendar.DateOf(slot.From)))
        {
            var (ten, five) = (calendar.At(day.Key, From), calendar.At(day.Key, Until));
            var parts = day
                .SelectMany(slot => new Window[] { new(slot.From, Instant.Min(slot.Until, ten)), new(Instant.Max(slot.From, five), slot.Until) })
                .Where(part => part.Until - Instant.Max(part.From, notBefore) >= atLeast)
                .ToList();
            cool.AddRange(parts.Count > 0 ? parts : day);
        }
        return cool.ToImmutable();
    }
}
