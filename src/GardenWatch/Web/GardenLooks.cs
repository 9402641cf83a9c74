using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Messages.Pages;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>All that the pages of one garden tell, as known at one instant.</summary>
internal sealed record GardenLook(
    GardenOnDuty Garden, Instant Now, KnownWeather Known, Journal Journal, LastSaid LastSaid, Agenda Agenda, GardenSheet Sheet)
{
    public Speech Speech => new(Garden.Plan.Units, Garden.Place.Calendar.Zone);
}

/// <summary>Makes the look of a garden, and keeps it for a minute: it reads weeks of weather, and a page has several neighbours.</summary>
internal sealed class GardenLooks(GardenStore store, Mornings mornings, IClock clock)
{
    private static readonly Duration GoodFor = Duration.FromMinutes(1);

    private readonly Lock _gate = new();
    private readonly Dictionary<string, GardenLook> _made = new(StringComparer.Ordinal);

    public GardenLook Of(GardenOnDuty garden)
    {
        string id = garden.Plan.GardenId;
        lock (_gate)
        {
            var now = clock.GetCurrentInstant();
            if (_made.TryGetValue(id, out var made) && ReferenceEquals(made.Garden.Plan, garden.Plan) && now >= made.Now && now - made.Now < GoodFor)
                return made;
            return _made[id] = Made(garden, now);
        }
    }

    /// <summary>Something was written down, so the next look is a new one.</summary>
    public void Forget(string gardenId)
    {
        lock (_gate)
        {
            _made.Remove(gardenId);
        }
    }

    private GardenLook Made(GardenOnDuty garden, Instant now)
    {
        // The page speaks English, as the commands do.
        var (plan, place) = (garden.Plan with { Tongue = Tongue.English }, garden.Place);
        var known = mornings.KnownOf(place, now);
        var journal = mornings.JournalOf(plan, now);
        var said = mornings.LastSaidOf(plan, now);
        var agenda = Agenda.For(plan, place.Calendar, journal, known, said, now);
        agenda = agenda with { Notes = [.. agenda.Notes, .. garden.Notes] };
        return new(garden, now, known, journal, said, agenda, GardenSheet.Of(agenda, journal.Entries, plan.Units, NumbersOfLastMessage(plan.GardenId, now)));
    }

    /// <summary>By job id; empty before a message was sent.</summary>
    private ImmutableDictionary<string, int> NumbersOfLastMessage(string gardenId, Instant now)
    {
        var last = new[] { MessageKind.Digest, MessageKind.Warning }
            .Select(kind => store.Outbox.LastSent(gardenId, kind, now)).OfType<OutboxRow>().MaxBy(row => row.EndedAt);
        return (last?.Jobs ?? "").Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => line.Split('=', 2))
            .Where(parts => parts.Length == 2)
            .DistinctBy(parts => parts[1].Split('\t')[0])
            .ToImmutableDictionary(parts => parts[1].Split('\t')[0], parts => int.Parse(parts[0], CultureInfo.InvariantCulture));
    }
}
