using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Setup;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What becomes of a plan when a form changes it.</summary>
public abstract record PlanChanging
{
    private PlanChanging() { }

    /// <param name="Print">Of the file that the change was made in.</param>
    /// <param name="Lines">What differs, with a neighbour.</param>
    /// <param name="Remarks">What may be put better in it.</param>
    public sealed record Ready(string Print, ImmutableArray<DiffLine> Lines, ImmutableArray<string> Remarks) : PlanChanging;

    public sealed record Written : PlanChanging;

    public sealed record Refused(ImmutableArray<string> Reasons) : PlanChanging;
}

/// <summary>
/// Where plans are changed for those who do it by a form. The file is the plan: it is written, and taken at a knock as any
/// edit by hand is.
/// </summary>
public sealed class PlanDesk(GardensInForce gardens, IClock clock)
{
    public CropShelf Crops => gardens.Crops;

    /// <summary>The garden's plan as its file says it now; null, with what is wrong, when it has faults or can't be read.</summary>
    public (string FileName, Plan? Plan, ImmutableArray<string> Faults) Look(string gardenId)
    {
        if (Open(gardenId, out string? trouble) is not { } file)
            return ("the plan’s file", null, [trouble!]);
        var read = gardens.Read(file.Path, file.Text, clock.GetCurrentInstant());
        return read.Plan is { } plan && read.Faults.IsEmpty
            ? (Path.GetFileName(file.Path), plan, [])
            : (Path.GetFileName(file.Path), null, [.. read.Faults.Select(fault => fault.ToString())]);
    }

    /// <summary>Shows what a change would do; writes nothing.</summary>
    public PlanChanging Try(string gardenId, PlanChange change)
    {
        if (Open(gardenId, out string? trouble) is not { } file)
            return new PlanChanging.Refused([trouble!]);
        return Edited(file, gardenId, change) switch
        {
            PlanEditing.Done done when done.Text == file.Text => new PlanChanging.Refused(["That is how it stands already, so there is nothing to change."]),
            PlanEditing.Done done => new PlanChanging.Ready(file.Print, PlanDiff.Of(file.Text, done.Text), done.Remarks),
            PlanEditing.Refused refused => new PlanChanging.Refused(refused.Reasons),
            _ => throw new InvalidOperationException("No such outcome."),
        };
    }

    /// <param name="print">Of the file as the person saw it; another one is refused.</param>
    public PlanChanging Write(string gardenId, PlanChange change, string print)
    {
        if (Open(gardenId, out string? trouble) is not { } file)
            return new PlanChanging.Refused([trouble!]);
        if (file.Print != print)
            return new PlanChanging.Refused(["The file was changed since you opened the form, so nothing was written. Look at the change again and confirm it."]);
        return Edited(file, gardenId, change) switch
        {
            PlanEditing.Done done => file.Replace(done.Text) is { } fault ? new PlanChanging.Refused([fault]) : new PlanChanging.Written(),
            PlanEditing.Refused refused => new PlanChanging.Refused(refused.Reasons),
            _ => throw new InvalidOperationException("No such outcome."),
        };
    }

    /// <summary>What the last change made here did to the file, as far as it still stands; empty where none was made.</summary>
    public ImmutableArray<DiffLine> LastChange(string gardenId) =>
        Open(gardenId, out _) is { } file && File.Exists(file.Before) && PlanOnDisk.Open(file.Before, out _) is { } before ? PlanDiff.Of(before.Text, file.Text) : [];

    private PlanEditing Edited(PlanOnDisk file, string gardenId, PlanChange change)
    {
        var now = clock.GetCurrentInstant();
        var edited = PlanEdit.Of(file.Text, change, text =>
        {
            var read = gardens.Read(file.Path, text, now);
            return new(read.Faults.IsEmpty ? read.Plan : null, read.Faults, read.Remarks, read.Subjects);
        });
        return edited is PlanEditing.Done { Reading.Plan.GardenId: var id } && id != gardenId
            ? new PlanEditing.Refused([$"The file is of another garden now (`{id}`)."])
            : edited;
    }

    private PlanOnDisk? Open(string gardenId, out string? trouble)
    {
        if (gardens.Gardens.FirstOrDefault(garden => garden.Plan.GardenId == gardenId) is not { } inForce)
        {
            trouble = "The service has no such garden any more.";
            return null;
        }
        var file = PlanOnDisk.Open(inForce.Path, out string? why);
        trouble = file is null ? $"{Path.GetFileName(inForce.Path)} can’t be read: {why}." : null;
        return file;
    }
}
