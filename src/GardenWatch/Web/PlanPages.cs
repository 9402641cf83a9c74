using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;

namespace GardenWatch.Web;

/// <summary>The plan as its file has it, with the ways to change it.</summary>
/// <param name="Faults">Why it can't be changed here now.</param>
/// <param name="Last">What the last change made here did.</param>
public sealed record PlanSheet(
    PageFrame Frame, string FileName, bool IsWritten, ImmutableArray<string> Faults,
    ImmutableArray<(string Name, string Address, ImmutableArray<(string Name, string When, string Address)> Plantings)> Beds,
    ImmutableArray<string> Chores, ImmutableArray<string> Away, ImmutableArray<string> Hours, ImmutableArray<DiffLine> Last)
{
    internal string Address(string form) => PagePaths.Of(Frame.GardenId!, "plan/" + form);
}

/// <summary>A form to fill in.</summary>
/// <param name="Wrong">What is wrong with what was written, and what to write instead.</param>
/// <param name="Endings">Ways to say of a batch that it is over.</param>
public sealed record PlanFormSheet(
    PageFrame Frame, string Heading, string Lead, string Action, string Id, ImmutableArray<PlanField> Fields, ImmutableArray<string> Wrong, ImmutableArray<BatchEnding> Endings);

/// <summary>A batch with the answer that ends it.</summary>
public sealed record BatchEnding(string Name, string JobId, string Answer, string Word);

/// <summary>What would be written, to confirm.</summary>
public sealed record PlanPreviewSheet(
    PageFrame Frame, string Heading, string FileName, string Action, ImmutableArray<DiffLine> Lines, ImmutableArray<string> Remarks, ImmutableArray<(string Name, string Value)> Fields);

/// <summary>Changes the plan by forms: filled in, shown line by line, and only then written into the file.</summary>
internal sealed class PlanPages(PageDoor door, PlanDesk desk)
{
    private const string Print = "print", Step = "step", Again = "again", Write = "write";

    public Task Show(HttpContext context, Visitor visitor, GardenLook look)
    {
        string gardenId = look.Agenda.GardenId;
        var (file, plan, faults) = desk.Look(gardenId);
        var frame = door.Frame(visitor, look, "Plan", "plan");
        bool written = context.Request.Query["written"] == "yes";
        if (plan is null)
            return context.Send(Slices.Plan.Create(new(frame, file, written, faults, [], [], [], [], [])));
        var forms = new PlanForms(plan, desk.Crops, _ => "");
        return context.Send(Slices.Plan.Create(new(
            frame, file, written, [],
            [.. plan.Beds.Select(bed => (bed.Name, At(PlanForms.Bed, bed.Id),
                plan.Plantings.Where(planting => planting.BedId == bed.Id)
                    .Select(planting => (forms.NameOf(planting)[..^(bed.Name.Length + 2)], PlanForms.DateOf(planting), At(PlanForms.Planting, planting.Id))).ToImmutableArray()))],
            [.. plan.Chores.Select(chore => $"{chore.Name}{(chore.BedId is { } bed ? $", {plan.BedOf(bed).Name}" : "")}{(chore.EveryDays is { } days ? $", every {days} days" : "")}").Distinct()],
            [.. plan.Away.Select(away => $"{Planning.Tongues.Tongue.English.Date(away.From)} to {Planning.Tongues.Tongue.English.Date(away.To)} {away.To.Year}{(away.Sitter is { } sitter ? $", {sitter}" : "")}")],
            [.. plan.Digest.To.Select(to => $"{to.Address} at {PlanForms.HourOf(to.At ?? plan.Digest.At)}")],
            desk.LastChange(gardenId))));

        string At(string form, string id) => PagePaths.Of(gardenId, $"plan/{form}?id={Uri.EscapeDataString(id)}");
    }

    public Task Form(HttpContext context, Visitor visitor, GardenLook look)
    {
        string id = context.Request.Query["id"].ToString();
        return Ask(context, visitor, look, id, _ => "", []);
    }

    public Task Take(HttpContext context, Visitor visitor, GardenLook look, IFormCollection sent)
    {
        string form = FormOf(context), id = sent["id"].ToString(), gardenId = look.Agenda.GardenId;
        string Value(string name) => sent[name].ToString().ReplaceLineEndings("\n").Trim();
        var (file, plan, faults) = desk.Look(gardenId);
        if (plan is null)
            return Ask(context, visitor, look, id, Value, faults);
        var forms = new PlanForms(plan, desk.Crops, Value);
        if (forms.Of(form, id) is not var (heading, _, fields))
            return NoSuchForm(context);
        if (forms.Missing(form, id) is { } missing)
            return Ask(context, visitor, look, id, Value, [missing]);
        if (sent[Step] == Again)
            return Ask(context, visitor, look, id, Value, []);
        var change = forms.ChangeOf(form, id);
        switch (sent[Step] == Write ? desk.Write(gardenId, change, sent[Print].ToString()) : desk.Try(gardenId, change))
        {
            case PlanChanging.Written:
                context.Response.StatusCode = StatusCodes.Status303SeeOther;
                context.Response.Headers.Location = PagePaths.Of(gardenId, "plan?written=yes");
                return Task.CompletedTask;
            case PlanChanging.Ready(var print, var lines, var remarks):
                return context.Send(Slices.PlanPreview.Create(new(
                    door.Frame(visitor, look, heading, "plan"), heading, file, PagePaths.Of(gardenId, "plan/" + form), lines, remarks,
                    [(Print, print), ("id", id), .. fields.Select(field => (field.Name, Value(field.Name)))])));
            case PlanChanging.Refused(var reasons):
                return Ask(context, visitor, look, id, Value, reasons);
            default:
                throw new InvalidOperationException("No such outcome.");
        }
    }

    private Task Ask(HttpContext context, Visitor visitor, GardenLook look, string id, Func<string, string> value, ImmutableArray<string> wrong)
    {
        string form = FormOf(context), gardenId = look.Agenda.GardenId;
        // While the file has faults its form is shown by the plan in force, with the faults.
        var (_, plan, faults) = desk.Look(gardenId);
        var forms = new PlanForms(plan ?? look.Garden.Plan, desk.Crops, value);
        if (forms.Of(form, id) is not var (heading, lead, fields))
            return NoSuchForm(context);
        return context.Send(
            Slices.PlanForm.Create(new(
                door.Frame(visitor, look, heading, "plan"), heading, lead, PagePaths.Of(gardenId, "plan/" + form), id, fields, wrong.IsEmpty ? faults : wrong,
                form == PlanForms.Planting ? EndingsOf(look, id) : [])),
            wrong.IsEmpty ? StatusCodes.Status200OK : StatusCodes.Status422UnprocessableEntity);
    }

    private static string FormOf(HttpContext context) => (string)context.GetRouteValue("form")!;

    private static Task NoSuchForm(HttpContext context) =>
        PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such form", "The address is wrong, or the plan has no more what it was to change.");

    /// <summary>What the journal has answers for: a batch that is out of its bed, and one that will not be begun.</summary>
    private static ImmutableArray<BatchEnding> EndingsOf(GardenLook look, string plantingId)
    {
        if (look.Garden.Plan.Plantings.FirstOrDefault(each => each.Id == plantingId) is not { } planting)
            return [];
        string JobOf(JobKind kind, string batch) => $"{look.Agenda.GardenId}/{plantingId}/{kind.Word().Replace(' ', '-')}/{batch}";
        IEnumerable<(SowingOutlook Sowing, string Batch)> Batches(ImmutableArray<SowingOutlook> sowings) =>
            sowings.Where(sowing => sowing.Id.StartsWith(plantingId + ".", StringComparison.Ordinal)).Select(sowing => (sowing, sowing.Id[(plantingId.Length + 1)..]));
        return
        [
            .. Batches(look.Agenda.Sowings).Select(each => new BatchEnding(each.Sowing.Name, JobOf(JobKind.Clear, each.Batch), "done", "It is over, the bed is cleared")),
            .. Batches(look.Agenda.Ahead).Take(1).Select(each => new BatchEnding(each.Sowing.Name, JobOf(planting.IsSetOut ? JobKind.SetOut : JobKind.Sow, each.Batch), "skip", "Leave it out")),
        ];
    }
}
