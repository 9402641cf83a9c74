using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>When a message may be tried: a push not in the quiet hours, unless it warns of a frost and that may wake.</summary>
internal static class PushHours
{
    /// <summary>The instant itself, or the end of the quiet hours it lies in.</summary>
    public static Instant Soonest(GardenOnDuty garden, string address, bool mayWake, Instant at) =>
        address == ChannelWords.Push && !mayWake && garden.Plan.Digest.Quiet is { } quiet
            ? QuietEnd.After(quiet, garden.Place.Calendar.Zone, at)
            : at;

    /// <summary>The same for what is stored, by the plan as it is now; a garden that is not on duty has no quiet hours.</summary>
    public static Instant Soonest(IReadOnlyList<GardenOnDuty> onDuty, OutboxRow row, Instant at) =>
        onDuty.FirstOrDefault(garden => garden.Plan.GardenId == row.Key.Garden) is { } garden
            ? Soonest(garden, row.Key.Addressee, row.Urgent && garden.Plan.Digest.FrostMayWake && WarnsOfFrost(garden.Plan, row), at)
            : at;

    /// <summary>Wind, hail and heat do not wake; what is asked for against them has kinds or subjects of its own.</summary>
    public static bool IsAgainstFrost(Job job) => job is { Threat: null, Kind: JobKind.Cover or JobKind.Protect or JobKind.Drain };

    private static bool WarnsOfFrost(Plan plan, OutboxRow row) => DigestRound.JobIdsOf(row.Jobs).Any(id =>
        id.Kind is JobKind.Cover or JobKind.Drain || id.Kind == JobKind.Protect && plan.Beds.All(bed => bed.Id != id.SubjectId));
}
