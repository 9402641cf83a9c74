using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Which work needs to see what it does, and what of the gardener's hours is light enough for it.</summary>
public static class WorkInLight
{
    /// <summary>A cover is laid and a stem tied by torchlight, and indoors there is a lamp; seedlings, weeds and blight want the day. Common practice.</summary>
    public static bool IsNeededFor(JobKind kind) => kind is not (
        JobKind.OrderSeed or JobKind.TestSeed or JobKind.StartIndoors or JobKind.PotOn or JobKind.Cover or JobKind.Uncover or
        JobKind.Vent or JobKind.Protect or JobKind.Tie or JobKind.Shelter or JobKind.Water or JobKind.Cure or JobKind.Drain or JobKind.Clean);

    /// <summary>What of the gardener's slots suits the work at a bed; null is the whole garden.</summary>
    public static ImmutableArray<Window> Of(ImmutableArray<Window> slots, JobKind kind, Bed? bed, LocalCalendar calendar)
    {
        if (!IsNeededFor(kind) || bed is { IsIndoors: true })
            return slots;
        var light = Of(slots, calendar);
        return kind switch
        {
            JobKind.SetOut => HoursOfDay.Late(light, calendar),
            JobKind.Thin => HoursOfDay.Evening(light, calendar),
            JobKind.Spray => HoursOfDay.WithoutColdAirLayer(light, calendar),
            _ => light,
        };
    }

    /// <summary>The parts of slots that lie between the beginning and the end of civil twilight.</summary>
    public static ImmutableArray<Window> Of(ImmutableArray<Window> slots, LocalCalendar calendar)
    {
        var light = ImmutableArray.CreateBuilder<Window>(slots.Length);
        foreach (var slot in slots)
        {
            var course = Sun.CivilTwilight(calendar.Place, calendar.DateOf(slot.From), calendar.Zone);
            if (course.Rise is not { } dawn || course.Set is not { } dusk)
            {
                // The sun stays above twilight all day, or below it: there is no dawn to cut by, only light or none.
                if (Sun.AltitudeDegrees(slot.From + (slot.Until - slot.From) / 2, calendar.Place) >= Sun.CivilTwilightAltitudeDegrees)
                    light.Add(slot);
                continue;
            }
            var window = new Window(Instant.Max(slot.From, QuarterHour.After(dawn)), Instant.Min(slot.Until, QuarterHour.Before(dusk)));
            if (window.From < window.Until)
                light.Add(window);
        }
        return light.ToImmutable();
    }
}
