using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Planning.Journals;

/// <summary>What a gardener measures by hand; temperatures in °C, rain in mm.</summary>
public enum ReadingKind { Soil, AirLow, Rain }

/// <summary>One thing a gardener answered, whichever way it came, before it is held against the message or the plan.</summary>
/// <param name="On">The local date it is about, where one was told; null is the day on which it was written.</param>
public abstract record Answer(LocalDate? On)
{
    /// <param name="Jobs">Each the number of a job in the message answered, or a whole job id.</param>
    public sealed record Done(ImmutableArray<string> Jobs, LocalDate? On = null) : Answer(On);

    /// <inheritdoc cref="Done"/>
    public sealed record Skip(ImmutableArray<string> Jobs, LocalDate? On = null) : Answer(On);

    /// <param name="Jobs">As in <see cref="Done"/>.</param>
    /// <param name="Until">The first local date on which to ask again; null is the next one.</param>
    public sealed record Later(ImmutableArray<string> Jobs, LocalDate? Until) : Answer((LocalDate?)null);

    /// <param name="Text">The gardener's own words.</param>
    /// <param name="About">The bed, crop or job number it was said to be about, as written.</param>
    public sealed record Note(string Text, string? About = null, LocalDate? On = null) : Answer(On);

    /// <param name="Value">°C or mm, by <paramref name="Kind"/>.</param>
    /// <param name="DepthMetres">For soil, where told.</param>
    /// <param name="Bed">The bed as written; null is the garden.</param>
    public sealed record Reading(ReadingKind Kind, double Value, double? DepthMetres = null, string? Bed = null, LocalDate? On = null) : Answer(On);

    /// <param name="What">The crop, planting or bed as written, or a job number.</param>
    /// <param name="Grams">By weight; null when counted, or not told.</param>
    /// <param name="Pieces">By count; null when weighed, or not told.</param>
    public sealed record Picked(string What, double? Grams = null, double? Pieces = null, LocalDate? On = null) : Answer(On);

    /// <summary>What was measured so far no longer corrects the weather: the thermometer was moved, the bed mulched or dug.</summary>
    /// <param name="Bed">The bed as written; null is the garden with all its beds.</param>
    public sealed record Reset(ReadingKind Kind, string? Bed = null) : Answer((LocalDate?)null);

    /// <summary>Takes back what was recorded last for this person and garden.</summary>
    public sealed record Undo() : Answer((LocalDate?)null);

    /// <summary>No more messages to this person.</summary>
    public sealed record Stop() : Answer((LocalDate?)null);

    /// <summary>Messages to this person again, who had stopped them.</summary>
    public sealed record Start() : Answer((LocalDate?)null);

    /// <summary>Meant as an answer, but not clear: asked back, with what is unclear.</summary>
    public sealed record Unclear(string Text, string Question) : Answer((LocalDate?)null);
}
