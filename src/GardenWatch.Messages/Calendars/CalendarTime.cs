using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Calendars;

/// <summary>When an entry is: hours between two instants, or whole local days.</summary>
public abstract record CalendarTime
{
    private CalendarTime() { }

    public sealed record Hours(Instant From, Instant Until) : CalendarTime
    {
        public override string ToString() => $"{Stamp(From)}/{Stamp(Until)}";
    }

    /// <summary>Both included, of the garden's own calendar.</summary>
    public sealed record Days(LocalDate First, LocalDate Last) : CalendarTime
    {
        public override string ToString() => $"{Date(First)}/{Date(Last)}";
    }

    /// <summary>What <see cref="object.ToString"/> of an <see cref="Hours"/> wrote; null when it is something else.</summary>
    public static Hours? ReadHours(string text) =>
        text.Split('/') is [var from, var until] && Stamps.Parse(from) is { Success: true, Value: var a } && Stamps.Parse(until) is { Success: true, Value: var b }
            ? new(a, b)
            : null;

    /// <summary>RFC 5545, 3.3.5, form 2: in UTC, so that no zone has to be described.</summary>
    internal static string Stamp(Instant instant) => Stamps.Format(instant);

    internal static string Date(LocalDate date) => Dates.Format(date);

    private static readonly InstantPattern Stamps = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");
    private static readonly LocalDatePattern Dates = LocalDatePattern.CreateWithInvariantCulture("uuuuMMdd");
}
