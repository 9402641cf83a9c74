using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Explanations;

/// <summary>A job that a plan can ever ask for, open or not: one crop's job at one planting, or a chore.</summary>
/// <param name="Words">All by which a gardener may call it, in lower case.</param>
public sealed record AskedJob(
    string GardenId, string SubjectId, JobKind Kind, string Name, string? BedName, ImmutableArray<string> Words)
{
    /// <summary>Without the how-manieth time, which comes and goes: "quarry-lane/tomato-low-bed/cover".</summary>
    public string Id => $"{GardenId}/{SubjectId}/{Kind.Word().Replace(' ', '-')}";

    /// <summary>"Cover the tomatoes (low bed)".</summary>
    public string FullName => BedName is null ? Name : $"{Name} ({BedName})";

    public static ImmutableArray<AskedJob> AllOf(Plan plan) =>
        [
            .. plan.Plantings.SelectMany(planting => planting.Crop.Jobs.Where(job => !IsOfABed(job.Kind)).Select(job => OfPlanting(plan, planting, job))),
            .. plan.Chores.Select(chore => OfChore(plan, chore)),
        ];

    /// <summary>Asked for by bed, or by weather alone: the agenda's reasons say all there is.</summary>
    private static bool IsOfABed(JobKind kind) => kind is JobKind.Tie or JobKind.Protect or JobKind.Shelter or JobKind.Vent or JobKind.Shade
        or JobKind.SowGreenCover;

    private static AskedJob OfPlanting(Plan plan, Planting planting, JobTemplate job)
    {
        string name = job.Name.Replace("{plants}", planting.Crop.Plants, StringComparison.Ordinal);
        string bed = plan.BedOf(planting.BedId).Name;
        return new(plan.GardenId, planting.Id, job.Kind, name, bed, WordsOf(
            [name, bed, plan.Name, plan.GardenId, planting.Id, planting.Variety ?? "", job.Kind.Word(), planting.Crop.Name, planting.Crop.Plants, .. planting.Crop.AlsoCalled]));
    }

    private static AskedJob OfChore(Plan plan, Chore chore)
    {
        string? bed = chore.BedId is { } id ? plan.BedOf(id).Name : null;
        return new(plan.GardenId, chore.Id, chore.Kind, chore.Name, bed, WordsOf([chore.Name, bed ?? "", plan.Name, plan.GardenId, chore.Id, chore.Kind.Word()]));
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
