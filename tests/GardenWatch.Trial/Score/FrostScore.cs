using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Trial.Score;

/// <summary>A night and the lowest that the grass thermometer read in it.</summary>
internal readonly record struct ColdNight(LocalDate Night, double GroundLowC);

/// <summary>How well frosts were announced, in the nights in which something tender stood out.</summary>
internal sealed record FrostScore
{
    public required ImmutableArray<ColdNight> Hit { get; init; }

    /// <summary>The worst that can happen.</summary>
    public required ImmutableArray<ColdNight> Missed { get; init; }

    public required ImmutableArray<ColdNight> FalselyAnnounced { get; init; }

    /// <summary>Neither frost nor announced.</summary>
    public required int Quiet { get; init; }

    /// <summary>Announced although nothing tender stood out.</summary>
    public required int NothingToProtect { get; init; }

    /// <summary>Not measured: counted nowhere else.</summary>
    public required int NotMeasured { get; init; }

    /// <param name="announced">Nights by the date on which they begin.</param>
    /// <param name="frostAtC">At this or below it is a frost.</param>
    public static FrostScore Of(
        IReadOnlySet<LocalDate> announced, IReadOnlyDictionary<LocalDate, double> groundLow, IReadOnlySet<LocalDate> tenderOut, double frostAtC)
    {
        ColdNight[] nights =
            [.. tenderOut.Where(groundLow.ContainsKey).Order().Select(night => new ColdNight(night, groundLow[night]))];
        bool Froze(ColdNight night) => night.GroundLowC <= frostAtC;
        bool Announced(ColdNight night) => announced.Contains(night.Night);

        return new()
        {
            Hit = [.. nights.Where(night => Froze(night) && Announced(night))],
            Missed = [.. nights.Where(night => Froze(night) && !Announced(night))],
            FalselyAnnounced = [.. nights.Where(night => !Froze(night) && Announced(night))],
            Quiet = nights.Count(night => !Froze(night) && !Announced(night)),
            NothingToProtect = announced.Count(night => !tenderOut.Contains(night)),
            NotMeasured = tenderOut.Count(night => !groundLow.ContainsKey(night)),
        };
    }

    public override string ToString()
    {
        string missed = Missed.IsEmpty ? "" : $" ({string.Join(", ", Missed.Select(night => FormattableString.Invariant($"{night.Night:d MMM uuuu} {night.GroundLowC:0.0} °C")))})";
        return $"frosts {Hit.Length} announced, {Missed.Length} missed{missed}; {FalselyAnnounced.Length} announced falsely, " +
            $"{Quiet} quiet nights, {NothingToProtect} announced with nothing to protect, {NotMeasured} not measured";
    }
}
