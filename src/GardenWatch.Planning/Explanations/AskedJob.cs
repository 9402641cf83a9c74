using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Explanations;

/// <summary>A job that a plan can ever ask for, open or not: one crop's job at one planting, what a bed may want, or a chore.</summary>
/// <param name="Words">All by which a gardener may call it, in lower case.</param>
public sealed record AskedJob(
    string GardenId, string SubjectId, JobKind Kind, string Name, string? BedName, ImmutableArray<string> Words)
{
    /// <summary>Without the how-manieth time, which comes and goes: "quarry-lane/tomato-low-bed/cover".</summary>
    public string Id => $"{GardenId}/{SubjectId}/{Kind.Word().Replace(' ', '-')}";

    /// <summary>"Cover the tomatoes (low bed)".</summary>
    public string FullName => BedName is null || Name.Contains(BedName, StringComparison.OrdinalIgnoreCase) ? Name : $"{Name} ({BedName})";

    public static ImmutableArray<AskedJob> AllOf(Plan plan) =>
        [
            .. plan.Plantings.SelectMany(planting => OfPlanting(plan, planting)),
            .. plan.Beds.SelectMany(bed => OfBed(plan, bed)),
            .. plan.Chores.SelectMany(chore => OfChore(plan, chore)),
            .. YearJobs.InPlan(plan).Select(job => OfYear(plan, job)),
        ];

    private static IEnumerable<AskedJob> OfPlanting(Plan plan, Planting planting)
    {
        var (crop, bed) = (planting.Crop, plan.BedOf(planting.BedId));
        foreach (var job in crop.Jobs.Where(job => !DangersTo.IsOfABed(job.Kind) && DangersTo.MayBefall(job.Kind, bed, crop)))
            yield return Of(job.Kind, job.Name.Replace("{plants}", crop.Plants, StringComparison.Ordinal));
        if (crop.Pests.Concat(crop.Diseases).Any(LookJobs.IsLookedFor))
            yield return Of(JobKind.Look, $"Look over the {crop.Plants}");

        AskedJob Of(JobKind kind, string name) => new(plan.GardenId, planting.Id, kind, name, bed.Name, WordsOf(
            [name, bed.Name, plan.Name, plan.GardenId, planting.Id, planting.Variety ?? "", Called(kind), crop.Name, crop.Plants, .. crop.AlsoCalled]));
    }

    /// <summary>Nobody calls a job "other".</summary>
    private static string Called(JobKind kind) => kind == JobKind.Other ? "" : kind.Word();

    private static IEnumerable<AskedJob> OfBed(Plan plan, Bed bed)
    {
        if (bed.Over != Overhead.Windowsill)
            yield return Of(JobKind.Water, $"Water the {bed.Name}");
        foreach (var kind in DangersTo.OfBeds.Where(kind => DangersTo.Templates(plan, bed, kind).Any()))
            yield return Of(kind, DangersTo.NameOf(kind, bed));

        AskedJob Of(JobKind kind, string name) =>
            new(plan.GardenId, bed.Id, kind, name, bed.Name, WordsOf([name, bed.Name, plan.Name, plan.GardenId, bed.Id, kind.Word()]));
    }

    private static IEnumerable<AskedJob> OfChore(Plan plan, Chore chore)
    {
        string? bed = chore.BedId is { } id ? plan.BedOf(id).Name : null;
        yield return Of(chore.Kind, chore.Name);
        if (chore.Then is { } then)
            yield return Of(JobKind.Look, $"Look for {then.LookFor}");
        else if (chore is { Kind: JobKind.Smother, BedId: not null })
            yield return Of(JobKind.Look, $"Look under the sheet of the {bed}");

        AskedJob Of(JobKind kind, string name) =>
            new(plan.GardenId, chore.Id, kind, name, bed, WordsOf([name, chore.Name, bed ?? "", plan.Name, plan.GardenId, chore.Id, kind.Word()]));
    }

    private static AskedJob OfYear(Plan plan, YearJob job)
    {
        string name = YearJobs.NameOf(job, plan, Tongues.Tongue.English);
        string? bed = plan.Beds.FirstOrDefault(bed => bed.Id == job.Subject)?.Name;
        return new(plan.GardenId, job.Subject, job.Kind, name, bed, WordsOf([name, bed ?? "", plan.Name, plan.GardenId, job.Kind.Word()]));
    }

    internal static ImmutableArray<string> WordsOf(params ReadOnlySpan<string> texts)
    {
        var words = ImmutableArray.CreateBuilder<string>();
        foreach (string text in texts)
        {
            foreach (string word in text.ToLowerInvariant().Split([' ', '-', '/', ',', '(', ')', '.', '"', '\''], StringSplitOptions.RemoveEmptyEntries))
            {
                if (!words.Contains(word))
                    words.Add(word);
            }
        }
        return words.ToImmutable();
    }
}
