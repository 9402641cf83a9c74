using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;

namespace GardenWatch.Messages.Pictures;

/// <summary>Where each bed stands on the paper, in metres from its corner.</summary>
/// <param name="LeftOut">Without a size, where others have one.</param>
/// <param name="ToScale">False when no bed has a size.</param>
/// <param name="Placed">Each drawn bed stands where the plan says.</param>
internal sealed record BedLayout(
    ImmutableArray<(BedOutlook Bed, Box Ground)> Beds, ImmutableArray<BedOutlook> LeftOut, bool ToScale, bool Placed)
{
    private const double PathMetres = 0.6, RowMetres = 3.4;
    private const int MostBeds = 24;

    /// <summary>Null when there is no bed to draw.</summary>
    public static BedLayout? Of(ImmutableArray<BedOutlook> beds)
    {
        if (beds.IsEmpty)
            return null;
        var sized = beds.Where(bed => bed.Size is (> 0, > 0)).Take(MostBeds).ToImmutableArray();
        if (sized.IsEmpty)
            return new([.. InOrder(beds.Take(MostBeds), _ => (1.4, 1.2), 0)], [.. beds.Skip(MostBeds)], ToScale: false, Placed: false);

        var placed = sized.Where(bed => bed.At is not null).ToArray();
        double west = placed.Select(bed => bed.At!.Value.EastMetres).DefaultIfEmpty(0).Min();
        double north = placed.Select(bed => bed.At!.Value.SouthMetres).DefaultIfEmpty(0).Min();
        var where = placed.Select(bed => (bed, new Box(
            bed.At!.Value.EastMetres - west, bed.At.Value.SouthMetres - north, bed.Size!.Value.WidthMetres, bed.Size.Value.LengthMetres))).ToList();
        double below = where.Count == 0 ? 0 : where.Max(bed => bed.Item2.Bottom) + 2 * PathMetres;
        where.AddRange(InOrder(sized.Where(bed => bed.At is null), bed => bed.Size!.Value, below));
        return new([.. where], [.. beds.Except(sized)], ToScale: true, Placed: placed.Length == sized.Length);
    }

    /// <summary>As one reads: along a row, then the next below it.</summary>
    private static IEnumerable<(BedOutlook, Box)> InOrder(IEnumerable<BedOutlook> beds, Func<BedOutlook, (double Width, double Length)> size, double top)
    {
        double x = 0, y = top, deepest = 0;
        foreach (var bed in beds)
        {
            var (width, length) = size(bed);
            if (x > 0 && x + width > RowMetres)
                (x, y, deepest) = (0, y + deepest + PathMetres, 0);
            yield return (bed, new(x, y, width, length));
            x += width + PathMetres;
            deepest = Math.Max(deepest, length);
        }
    }
}
