using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>When somebody can be in the garden, and what that leaves of the hours that the weather allows.</summary>
public static class Presence
{
    /// <summary>The gardener's slots, in order, of some local dates. A sitter keeps the gardener's hours.</summary>
    public static ImmutableArray<Window> Slots(Plan plan, LocalCalendar calendar, LocalDate from, int days)
    {
        var slots = ImmutableArray.CreateBuilder<Window>();
        for (int day = 0; day < days; day++)
        {
            var date = from.PlusDays(day);
            if (plan.Away.Any(away => away.Sitter is null && away.Holds(date)))
                continue;
            foreach (var slot in plan.InTheGarden.On(date))
            {
                var start = calendar.At(date, slot.From);
                var end = slot.To == LocalTime.Midnight ? calendar.DayOf(date).End : calendar.At(date, slot.To);
                if (start < end)
                    slots.Add(new(start, end));
            }
        }
        return slots.ToImmutable();
    }

    /// <summary>Runs of hours that hold, cut to the slots and to what is still to come; too short ones are left out.</summary>
    /// <param name="course">Truth at each whole hour; it stands for the hour that begins there.</param>
    /// <param name="first">The instant of the first truth.</param>
    /// <param name="slots">In order.</param>
    /// <param name="notBefore">Nothing earlier is offered.</param>
    /// <param name="atLeast">The time that the job takes.</param>
    public static ImmutableArray<Window> Open(
        ReadOnlySpan<Truth> course, Instant first, ImmutableArray<Window> slots, Instant notBefore, Duration atLeast)
    {
        var windows = ImmutableArray.CreateBuilder<Window>();
        for (int hour = 0; hour < course.Length; hour++)
        {
            if (course[hour] != Truth.Yes)
                continue;
            int start = hour;
            while (hour + 1 < course.Length && course[hour + 1] == Truth.Yes)
                hour++;
            var run = new Window(
                Instant.Max(first + Duration.FromHours(start), notBefore), first + Duration.FromHours(hour + 1));
            foreach (var slot in slots)
            {
                var (from, until) = (Instant.Max(run.From, slot.From), Instant.Min(run.Until, slot.Until));
                if (until - from >= atLeast)
                    windows.Add(new(from, until));
            }
        }
        return windows.ToImmutable();
    }
}
