using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Setup;

/// <summary>One plan file as it was read.</summary>
/// <param name="Plan">Null when a fault left nothing to go by.</param>
/// <param name="Faults">What must be put right.</param>
/// <param name="Remarks">What may be put better.</param>
/// <param name="Subjects">Beds, plantings and chores with the ids that they keep.</param>
public sealed record GardenFile(
    string Path, Plan? Plan, ImmutableArray<FileFault> Faults, ImmutableArray<FileFault> Remarks, ImmutableArray<KnownSubject> Subjects)
{
    private const string GardenIdFirst = "the id decides to which garden the records belong";

    /// <param name="store">Knows the subjects of before; null where no records are kept yet.</param>
    /// <param name="channels">Those that are set up; null to take each for set up.</param>
    public static GardenFile Read(
        string path, string text, CropShelf crops, GardenStore? store, Instant now, ImmutableArray<string>? channels = null)
    {
        string name = System.IO.Path.GetFileName(path);
        var today = now.InUtc().Date;
        var reading = PlanFile.Read(text, name, crops, [], today, ConditionText.Read, channels);
        // Only the file itself says which garden it is, so the subjects known of it can be asked for only now.
        if (store is not null && reading.Plan is { } plan && KnownOf(store, plan.GardenId, now) is { IsEmpty: false } known)
            reading = PlanFile.Read(text, name, crops, known, today, ConditionText.Read, channels);
        return new(path, reading.Plan, reading.Faults, reading.Remarks, reading.Subjects);
    }

    /// <summary>All plans of a folder; two files that claim one garden are a fault of the second.</summary>
    public static ImmutableArray<GardenFile> ReadAll(
        ConfigFolder folder, CropShelf crops, GardenStore? store, Instant now, ImmutableArray<string>? channels = null)
    {
        var files = ImmutableArray.CreateBuilder<GardenFile>();
        foreach (string path in folder.PlanFiles())
            files.Add(WithoutTwin(ReadFile(path, crops, store, now, channels), files));
        return files.ToImmutable();
    }

    internal static GardenFile WithoutTwin(GardenFile file, IEnumerable<GardenFile> others) =>
        file.Plan is { } plan && others.FirstOrDefault(other => other.Plan?.GardenId == plan.GardenId) is { } twin
            ? file with
            {
                Plan = null,
                Faults = [new(System.IO.Path.GetFileName(file.Path), 1, 1,
                    $"The garden id `{plan.GardenId}` is taken by {System.IO.Path.GetFileName(twin.Path)}; {GardenIdFirst}",
                    "Write another `id:`.")],
            }
            : file;

    /// <summary>Keeps the subjects' ids, so that a later rename is recognised.</summary>
    public WriteOutcome Keep(GardenStore store, Instant now) =>
        store.Subjects.Keep(
            Plan!.GardenId,
            [.. Subjects.Select(subject => new SubjectRow(subject.Id, subject.Kind.ToString(), subject.Descriptor, now))]);

    private static GardenFile ReadFile(string path, CropShelf crops, GardenStore? store, Instant now, ImmutableArray<string>? channels)
    {
        try
        {
            return Read(path, File.ReadAllText(path), crops, store, now, channels);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return new(path, null, [new(System.IO.Path.GetFileName(path), 1, 1, $"The file cannot be read: {exception.Message}",
                "Give the account that runs this the right to read it.")], [], []);
        }
    }

    private static ImmutableArray<KnownSubject> KnownOf(GardenStore store, string gardenId, Instant now) =>
        [.. store.Subjects.AsOf(gardenId, now).Select(row => new KnownSubject(
            row.Id,
            row.Kind switch
            {
                nameof(SubjectKind.Bed) => SubjectKind.Bed,
                nameof(SubjectKind.Chore) => SubjectKind.Chore,
                _ => SubjectKind.Planting,
            },
            row.Descriptor,
            row.FirstSeen.InUtc().Date))];
}
