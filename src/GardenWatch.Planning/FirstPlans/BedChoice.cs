using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>
/// Puts each crop into a bed where it was not said: room is shared out, families stay together so that they can move on
/// together next year, and bad neighbours are kept apart where there is another bed. A guess, for the gardener to put right.
/// </summary>
internal static class BedChoice
{
    // What a crop is given where nobody counts plants. Common practice.
    private const double UsualSquareMetres = 1;
    private const double UnmeasuredBedSquareMetres = 4;

    /// <summary>Names of the beds, one for each crop.</summary>
    public static ImmutableArray<string> Of(ImmutableArray<FirstCrop> crops, ImmutableArray<FirstBed> beds)
    {
        var chosen = new string?[crops.Length];
        for (int i = 0; i < crops.Length; i++)
            chosen[i] = crops[i].BedName;
        // The large ones first: what is small still finds room.
        foreach (int i in Enumerable.Range(0, crops.Length).Where(i => chosen[i] is null).OrderByDescending(i => Wants(crops[i])).ThenBy(i => i))
        {
            var stands = crops.Zip(chosen).Where(each => each.Second is not null).Select(each => (Crop: each.First, Bed: each.Second!)).ToList();
            chosen[i] = beds.MinBy(bed => Against(bed, crops[i], stands))!.Name;
        }
        return [.. chosen.Select(name => name!)];
    }

    /// <summary>What speaks against the bed: how full it would be, and what it is not made for.</summary>
    private static double Against(FirstBed bed, FirstCrop crop, List<(FirstCrop Crop, string Bed)> stands)
    {
        var inBed = stands.Where(each => each.Bed == bed.Name).Select(each => each.Crop).ToList();
        double room = bed.SizeMetres is var (width, length) ? width * length : UnmeasuredBedSquareMetres;
        double against = (inBed.Sum(Wants) + Wants(crop)) / room;
        if (inBed.Any(other => PlanFile.Harm(other.Crop, crop.Crop)))
            against += 3;
        if (crop.Crop.Family.Length > 0 && inBed.Any(other => other.Crop.Family == crop.Crop.Family))
            against -= 0.4;
        bool likesRoof = crop.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender && crop.Crop.Start == StartedIn.Indoors;
        against += bed.Over switch
        {
            Overhead.Windowsill => 50,
            Overhead.Greenhouse or Overhead.Tunnel => likesRoof ? -1 : 2,
            Overhead.Frame => 2,
            _ => 0,
        };
        if (bed.ContainerLitres is { } litres)
        {
            double needs = crop.Crop.Roots?.PotLitres ?? 15;
            // What is low and cut again and again is at home in a pot by the door; the rest only where there is nothing else.
            bool likesPot = needs <= 5 && crop.Crop is { Picking.Once: false, Habit.Form: GrowthForm.Low or GrowthForm.Leafy };
            against += needs > litres ? 20 : likesPot ? -0.5 + 0.4 * inBed.Count : 3;
        }
        return against;
    }

    private static double Wants(FirstCrop crop) =>
        crop is { Plants: { } plants, Crop.SpacingMetres: { } spacing } ? plants * spacing * Math.Min(spacing, crop.Crop.RowSpacingMetres ?? spacing) : UsualSquareMetres;
}
