using GardenWatch.Messages.Calendars;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>A garden's agenda as a calendar file, with each entry's revisions kept.</summary>
public sealed class Calendars(GardenStore store)
{
    public byte[] FileOf(Agenda agenda, UnitSystem units, Instant now)
    {
        ArgumentNullException.ThrowIfNull(agenda);
        // In other units the same entry has other words, and neither is a change of the other.
        string told = $"{agenda.GardenId} {units}";
        return CalendarFile.Write(agenda.GardenName, store.Calendar.Revised(told, GardenCalendar.EntriesOf(agenda, units), now));
    }
}
