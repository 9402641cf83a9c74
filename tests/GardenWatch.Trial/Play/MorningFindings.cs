using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Trial.Play;

internal enum DeedKind
{
    Spread,
    /// <summary>Spread because no rain was in sight, and watered in by hand.</summary>
    SpreadAndWater,
    Sow,
    SetOut,
}

/// <summary>Something the gardener did because they were told that it suits.</summary>
/// <param name="Subject">Crop or chore.</param>
/// <param name="SoilNeededC">The soil it was told to want; null when it asked for none.</param>
/// <param name="SoilDepthMetres">Where that soil is; null when it asked for none.</param>
/// <param name="NightsNeededC">The nights it was told to want; null when it asked for none.</param>
internal sealed record Deed(
    DeedKind Kind, string Subject, Instant At, double? SoilNeededC, double? SoilDepthMetres = null, double? NightsNeededC = null);

/// <summary>What one look at the agenda came to, told without the agenda's own types, so that any rule can be scored alike.</summary>
/// <param name="FrostNights">Nights for which protection was asked, by the date on which they begin.</param>
/// <param name="TenderOut">Something that frost would harm stands out tonight.</param>
/// <param name="Deeds">What the gardener does on it.</param>
internal sealed record MorningFindings(ImmutableArray<LocalDate> FrostNights, bool TenderOut, ImmutableArray<Deed> Deeds)
{
    public static MorningFindings Nothing { get; } = new([], false, []);
}
