using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The parts of the gardener's hours that suit a kind of work by the time of day.</summary>
internal static class HoursOfDay
{
    // Young plants that are set out in the evening have a night to recover in before the sun (transplanting advice of the University
    // of Maryland and others).
    private static readonly LocalTime Afternoon = new(15, 0);
    // Thinnings smell, and the flies that the smell draws sit at night; what is left wilts less. Common practice.
    private static readonly LocalTime EarlyEvening = new(17, 0);
    private static readonly Duration WorthComing = Duration.FromMinutes(30);
    // Near night a layer of cold air keeps mist together and carries it far: from two hours before sunset until one after sunrise
    // (GRDC Spray application manual, module 10).
    private static readonly Duration BeforeSunset = Duration.FromHours(2), AfterSunrise = Duration.FromHours(1);

    /// <summary>From three in the afternoon on; a day that leaves no such hour keeps its own.</summary>
    public static ImmutableArray<Window> Late(ImmutableArray<Window> slots, LocalCalendar calendar) => FromOn(Afternoon, slots, calendar);

    /// <summary>From five on; a day that leaves no such hour keeps its own.</summary>
    public static ImmutableArray<Window> Evening(ImmutableArray<Window> slots, LocalCalendar calendar) => FromOn(EarlyEvening, slots, calendar);

    private static ImmutableArray<Window> FromOn(LocalTime time, ImmutableArray<Window> slots, LocalCalendar calendar)
    {
        var late = ImmutableArray.CreateBuilder<Window>();
        foreach (var day in slots.GroupBy(slot => calendar.DateOf(slot.From)))
        {
            var from = calendar.At(day.Key, time);
            var parts = day.Select(slot => slot with { From = Instant.Max(slot.From, from) }).Where(part => part.Until - part.From >= WorthComing).ToList();
            late.AddRange(parts.Count > 0 ? parts : day);
        }
        return late.ToImmutable();
    }

    /// <summary>Without the hours around night.</summary>
    public static ImmutableArray<Window> WithoutColdAirLayer(ImmutableArray<Window> slots, LocalCalendar calendar)
    {
        var open = ImmutableArray.CreateBuilder<Window>();
        foreach (var slot in slots)
        {
            var sun = Sun.Course(calendar.Place, calendar.DateOf(slot.From), calendar.Zone);
            var from = sun.Rise is { } rise ? Instant.Max(slot.From, rise + AfterSunrise) : slot.From;
            var until = sun.Set is { } set ? Instant.Min(slot.Until, set - BeforeSunset) : slot.Until;
            if (from < until)
                open.Add(new(from, until));
        }
        return open.ToImmutable();
    }

    /// <summary>What lies before an instant and is not over by another.</summary>
    public static ImmutableArray<Window> Until(ImmutableArray<Window> slots, Instant end, Instant notOverBy) =>
        [.. slots.Where(slot => slot.From < end).Select(slot => slot with { Until = Instant.Min(slot.Until, end) }).Where(slot => slot.From < slot.Until && slot.Until >= notOverBy)];
}
