using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What of a plan the clock needs.</summary>
/// <param name="PlaceKey">Gardens of one place share its weather.</param>
/// <param name="KnownSince">When the service first saw the garden; before that it owed nothing. Null: long ago.</param>
public sealed record GardenRounds(
    string GardenId, DateTimeZone Zone, LocalTime DigestAt, LocalTime EveningLookAt, ImmutableArray<string> Addressees,
    string PlaceKey, Instant? KnownSince = null)
{
    /// <summary>Of addressees who want their digest at another hour than the garden's.</summary>
    public ImmutableDictionary<string, LocalTime> OwnHours { get; init; } = ImmutableDictionary<string, LocalTime>.Empty;

    /// <summary>Somebody's quiet hours hold back what is sent now. A first digest that waited would keep a warning back, as told.</summary>
    public bool IsQuiet { get; init; }

    public LocalTime HourOf(string addressee) => OwnHours.GetValueOrDefault(addressee, DigestAt);
}

/// <summary>Something to be done now.</summary>
public abstract record DueRound
{
    private DueRound() { }

    /// <summary>The morning's message, for those of one hour who have none of this date yet.</summary>
    /// <param name="Window">From the digest's hour until it expires.</param>
    public sealed record Digest(string GardenId, LocalDate Date, ImmutableArray<string> Addressees, Interval Window, bool Late) : DueRound
    {
        /// <summary>The garden's first, out of its hour.</summary>
        public bool First { get; init; }
    }

    /// <summary>Off from the digest's hour until noon: to be noted, so that the next digest says so.</summary>
    public sealed record DigestSkipped(string GardenId, LocalDate Date) : DueRound;

    /// <summary>Will something be lost overnight?</summary>
    public sealed record EveningLook(string GardenId, LocalDate Date) : DueRound;

    /// <summary>A forecast has come in since the last look of the day: what does it change?</summary>
    /// <param name="Evening">After the evening's look; before it only what can't wait is told.</param>
    public sealed record NewForecastLook(string GardenId, LocalDate Date, bool Evening) : DueRound;

    public sealed record Pull(string PlaceKey) : DueRound;

    /// <summary>Messages that have outlived their use.</summary>
    public sealed record Expire : DueRound;

    public sealed record Backup(LocalDate Date) : DueRound;
}

/// <summary>A message or deed of a garden's local date that has its record, whatever became of it.</summary>
/// <param name="Addressee">In lower case; empty for what has none.</param>
public readonly record struct Kept(string GardenId, string Addressee, string Kind, LocalDate Date)
{
    public static Kept Digest(string garden, string addressee, LocalDate date) =>
        new(garden, addressee.ToLowerInvariant(), Store.MessageKind.Digest, date);

    public static Kept EveningLook(string garden, LocalDate date) => new(garden, "", Store.LedgerTable.EveningLook, date);

    public static Kept DigestRested(string garden, LocalDate date) => new(garden, "", Store.LedgerTable.DigestRested, date);

    public static Kept DigestSkipped(string garden, LocalDate date) => new(garden, "", Store.LedgerTable.DigestSkipped, date);
}

/// <summary>What the store knows of rounds done, as of now.</summary>
public sealed record RoundsLedger
{
    public required IReadOnlySet<Kept> Kept { get; init; }
    public IReadOnlyDictionary<string, Instant> NewestPull { get; init; } = ImmutableDictionary<string, Instant>.Empty;
    /// <summary>Places whose weather is not asked for before an instant.</summary>
    public IReadOnlyDictionary<string, Instant> PullNotBefore { get; init; } = ImmutableDictionary<string, Instant>.Empty;
    /// <summary>By garden, when the forecast was fetched at which this service last looked; none after a start.</summary>
    public IReadOnlyDictionary<string, Instant> LookedAt { get; init; } = ImmutableDictionary<string, Instant>.Empty;
    /// <summary>Gardens that ever had a digest, or a morning without one; those of the last days are in <see cref="Kept"/> as well.</summary>
    public IReadOnlySet<string> Begun { get; init; } = ImmutableHashSet<string>.Empty;
    public Instant? NextExpiry { get; init; }
    public LocalDate? LastBackup { get; init; }
}
