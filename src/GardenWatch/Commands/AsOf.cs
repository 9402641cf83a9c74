using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Commands;

/// <summary>The instant that stands for now: a local time, in each garden's own zone, or an instant with its offset.</summary>
public sealed record AsOf
{
    private static readonly LocalDateTimePattern[] LocalForms =
    [
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm:ss"),
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm:ss"),
    ];

    private readonly LocalDateTime? _local;
    private readonly Instant? _instant;

    private AsOf(LocalDateTime? local, Instant? instant) => (_local, _instant) = (local, instant);

    /// <summary>The same for every zone.</summary>
    public bool IsInstant => _instant is not null;

    /// <summary>Null when the text is no date and time.</summary>
    public static AsOf? Read(string text)
    {
        if (InstantPattern.ExtendedIso.Parse(text) is { Success: true } instant)
            return new(null, instant.Value);
        if (OffsetDateTimePattern.ExtendedIso.Parse(text) is { Success: true } offset)
            return new(null, offset.Value.ToInstant());
        foreach (var form in LocalForms)
            if (form.Parse(text) is { Success: true } local)
                return new(local.Value, null);
        // A date alone is its morning.
        return LocalDatePattern.Iso.Parse(text) is { Success: true } date ? new(date.Value + new LocalTime(6, 0), null) : null;
    }

    /// <summary>A repeated hour means the first; null when the clocks leave the hour out.</summary>
    public Instant? In(DateTimeZone zone)
    {
        if (_instant is { } instant)
            return instant;
        var mapping = zone.MapLocal(_local!.Value);
        return mapping.Count == 0 ? null : mapping.First().ToInstant();
    }

    public override string ToString() => _instant?.ToString() ?? _local!.Value.ToString("uuuu-MM-dd HH:mm", null);
}

/// <summary>Ticks on from an instant that stands for now.</summary>
public sealed class ClockFrom(IClock real, Instant start) : IClock
{
    private readonly Duration _offset = start - real.GetCurrentInstant();

    public Instant GetCurrentInstant() => real.GetCurrentInstant() + _offset;
}
