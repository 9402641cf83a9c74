using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Agendas;

/// <summary>The water of all beds of a garden, each reckoned when it is first asked for.</summary>
internal sealed class GardenWater(Season season)
{
    private readonly Dictionary<string, BedWater> _beds = [];

    public BedWater Of(Bed bed)
    {
        lock (_beds)
            return _beds.TryGetValue(bed.Id, out var water) ? water : _beds[bed.Id] = BedWater.Of(season, bed);
    }
}
