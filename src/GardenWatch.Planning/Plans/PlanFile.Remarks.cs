using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>What an old hand would say of a plan: room, rest for the ground, neighbours. Never a refusal.</summary>
public sealed partial class PlanFile
{
    // A year and a half: what was sown before last season's end is of an earlier year.
    private const int StandsOverlapDays = 300;
    // A path's edge and a hand's width are always found. Common practice.
    private const double RoomToSpare = 1.15;

    private void RemarkOnBeds(IReadOnlyList<(Planting Planting, YamlEntries Entry)> plantings, ImmutableArray<Bed> beds)
    {
        foreach (var bed in beds)
        {
            var inBed = plantings.Where(each => each.Planting.BedId == bed.Id).ToList();
            RemarkOnRoom(bed, inBed);
            for (int later = 0; later < inBed.Count; later++)
                for (int earlier = 0; earlier < inBed.Count; earlier++)
                    if (earlier != later)
                        RemarkOnTwo(bed, inBed[earlier].Planting, inBed[later].Planting, inBed[later].Entry, later > earlier);
        }
    }

    /// <summary>What stands at the same time in a bed of known size; what follows another does not.</summary>
    private void RemarkOnRoom(Bed bed, List<(Planting Planting, YamlEntries Entry)> inBed)
    {
        if (bed.AreaSquareMetres is not { } area)
            return;
        double wanted = 0;
        foreach (var (planting, entry) in inBed.Where(each => each.Planting.AfterPlantingId is null))
        {
            if (planting.Plants is not { } plants || planting.Crop.SpacingMetres is not { } spacing)
                continue;
            double own = plants * spacing * Math.Min(spacing, planting.Crop.RowSpacingMetres ?? spacing);
            wanted += own;
            if (own > area * RoomToSpare)
                Remark(entry.Spot, $"{plants} {planting.Crop.Plants} want {Metres(own)}, {bed.Name} has {Metres(area)}",
                    $"{(int)(area / (own / plants))} of them, or a part of them elsewhere");
        }
        if (wanted > area * RoomToSpare && inBed.Count(each => each.Planting.AfterPlantingId is null && each.Planting.Plants is not null) > 1)
            Remark(inBed[0].Entry.Spot, $"what stands in {bed.Name} wants {Metres(wanted)} at a time, it has {Metres(area)}", "fewer plants, or one after the other (`after:`)");
    }

    private static string Metres(double squareMetres) =>
        Math.Round(squareMetres, squareMetres < 10 ? 1 : 0).ToString(System.Globalization.CultureInfo.InvariantCulture) + " m²";

    private void RemarkOnTwo(Bed bed, Planting earlier, Planting later, YamlEntries entry, bool once)
    {
        var rest = later.Crop.Rotation;
        bool sameFamily = earlier.Crop.Family.Equals(later.Crop.Family, StringComparison.OrdinalIgnoreCase) && later.Crop.Family.Length > 0;
        bool follows = later.AfterPlantingId == earlier.Id;
        int? years = YearsBetween(earlier, later);
        if (rest is { Years: > 0 } && sameFamily && (follows || years is > 0 && years < rest.Years))
            Remark(entry.Spot,
                $"{later.Crop.Plants} follow {earlier.Crop.Plants} of the same family in {bed.Name}" + (years is > 0 ? $" after {Tongue.English.Counted(years.Value, "year")}" : ""),
                $"another bed; {Tongue.English.Counted(rest.Years, "year")} of rest is usual{(rest.Because is { } because ? $", since {because}" : "")}");
        else if (once && !follows && later.AfterPlantingId is null && earlier.AfterPlantingId is null && Harms(earlier.Crop, later.Crop) is { } harm)
            Remark(entry.Spot, $"{later.Crop.Plants} and {earlier.Crop.Plants} stand together in {bed.Name}: {harm.What}", $"another bed, if there is one (by {Said(harm.Evidence)})");
    }

    /// <summary>Growing seasons between two beginnings; null when one has no date.</summary>
    private static int? YearsBetween(Planting earlier, Planting later)
    {
        if (earlier.OriginDate is not { } first)
            return null;
        var second = later.OriginDate?.From ?? later.FirstSeen;
        return second is { } date && Period.DaysBetween(first.From, date) is var days && days >= StandsOverlapDays / 2 ? (int)Math.Round(days / 365.25, MidpointRounding.AwayFromZero) : null;
    }

    /// <summary>Whether one of the two is known to harm the other in one bed.</summary>
    internal static bool Harm(CropProfile one, CropProfile other) => Harms(one, other) is not null;

    private static Neighbour? Harms(CropProfile one, CropProfile other) =>
        one.Neighbours.Concat(other.Neighbours).FirstOrDefault(neighbour => neighbour.Effect == NeighbourEffect.Harms && neighbour.Evidence is EvidenceGrade.Trial or EvidenceGrade.Extension
            && (Means(neighbour.With, other) && one.Neighbours.Contains(neighbour) || Means(neighbour.With, one) && other.Neighbours.Contains(neighbour)));

    private static bool Means(string with, CropProfile crop) =>
        new[] { crop.Name, crop.Plants }.Concat(crop.AlsoCalled).Any(name => name.Equals(with, StringComparison.OrdinalIgnoreCase));

    private static string Said(EvidenceGrade evidence) => evidence == EvidenceGrade.Trial ? "a trial" : "extension advice";
}
