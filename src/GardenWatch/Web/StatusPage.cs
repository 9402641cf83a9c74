using GardenWatch.Commands;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <param name="WholeHouse">False for one who has only some of the gardens: what is others' is left out.</param>
/// <param name="CanBegin">Whether the reader may begin another garden.</param>
public sealed record StatusSheet(PageFrame Frame, StatusLines Lines, bool WholeHouse, bool CanBegin);

/// <summary>How the service stands, as the command says it.</summary>
internal sealed class StatusPage(PageDoor door, GardenStore store, GardenPlaces places, IClock clock, Func<IReadOnlyList<GardenFile>> files, bool canBegin)
{
    public Task Show(HttpContext context, Visitor visitor, GardenLook look)
    {
        bool whole = visitor.Person is null or { Gardens.IsEmpty: true };
        var theirs = files().Where(file => whole || file.Plan is { } plan && visitor.Person!.Sees(plan.GardenId)).ToList();
        var standing = HouseStanding.Of(store, places, theirs, clock.GetCurrentInstant());
        if (!whole)
        {
            standing = standing with
            {
                Recent = [.. standing.Recent.Where(row => visitor.Person!.Sees(row.Key.Garden))],
                Faults = [.. standing.Faults.Where(fault => standing.Gardens.Any(garden => fault.StartsWith(garden.Plan.Name + ":", StringComparison.Ordinal)))],
            };
        }
        return context.Send(Slices.Status.Create(new(
            door.Frame(visitor, look, "Status", "status"), StatusText.LinesOf(standing, look.Garden.Place.Calendar.Zone), whole, canBegin && door.MayBegin(visitor))));
    }
}
