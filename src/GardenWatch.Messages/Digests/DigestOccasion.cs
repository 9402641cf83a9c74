using System.Collections.Immutable;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>What a digest has to say of its own sending, beyond the agenda.</summary>
public sealed record DigestOccasion
{
    /// <summary>Sent at its hour, after one that was sent.</summary>
    public static DigestOccasion OnTime { get; } = new();

    /// <summary>The hour it was due, if it goes out later than that; null when on time.</summary>
    public Instant? DueAt { get; init; }

    /// <summary>The hour of those to come, for a garden's first that was made at another; null for any other.</summary>
    public LocalTime? NextAt { get; init; }

    /// <summary>Local dates just before this one whose digests were skipped, both included.</summary>
    public DateInterval? Skipped { get; init; }

    /// <summary>
    /// When the digest before was made: what was recorded since is acknowledged in this one. Null to acknowledge nothing.
    /// </summary>
    public Instant? NotedSince { get; init; }

    /// <summary>Where the service reads answers by mail; null when it reads none.</summary>
    public string? AnswerAddress { get; init; }

    /// <summary>The absence in which this is written for a sitter; null for the gardener.</summary>
    public Absence? Sitting { get; init; }

    /// <summary>The date of the next digest where the garden rests; null when one comes each day.</summary>
    public LocalDate? NextOn { get; init; }

    /// <summary>
    /// Stages as the last digest said them (<see cref="Digest.StagesOf"/>), by sowing. <i>Growing</i> then names what
    /// changed; null, and on Sundays, it names all.
    /// </summary>
    public ImmutableDictionary<string, string>? StagesLastSaid { get; init; }
}
