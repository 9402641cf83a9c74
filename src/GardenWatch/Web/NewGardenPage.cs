using System.Collections.Immutable;
using GardenWatch.Commands;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Setup;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>The first of the five questions: where.</summary>
public sealed record NewPlaceSheet(PageFrame Frame, string Typed, string? Wrong);

/// <summary>The other four, with the towns to choose among.</summary>
/// <param name="Typed">What was answered before, by the field's name.</param>
/// <param name="Wrong">What is wrong with it, by the field's name; under "" what concerns all.</param>
public sealed record NewGardenSheet(
    PageFrame Frame, ImmutableArray<WrittenTown> Towns, ImmutableDictionary<string, string> Typed, ImmutableDictionary<string, string> Wrong)
{
    public required UnitSystem UsualUnits { get; init; }
    /// <summary>Where the service could not tell it.</summary>
    public required bool AsksZone { get; init; }
    /// <summary>Beside a plan that is there: a second garden wants a name.</summary>
    public required bool AsksName { get; init; }
    /// <summary>No mail server is set up yet.</summary>
    public required bool AsksServer { get; init; }
    /// <summary>Ways out that are set up, besides mail.</summary>
    public required ImmutableArray<string> Channels { get; init; }

    public string Answer(string field, string usual = "") => Typed.GetValueOrDefault(field) ?? usual;
}

/// <param name="Summary">The plan in plain words, line by line.</param>
/// <param name="Hint">What follows now.</param>
public sealed record NewDoneSheet(PageFrame Frame, ImmutableArray<string> Summary, ImmutableArray<string> Files, string Hint);

/// <summary>Five questions to a new gardener as two plain forms; the same answers and files as `gardenwatch new`.</summary>
/// <param name="isFirst">The service waits for this plan; it then starts anew with what the settings say. Else only a plan is added.</param>
internal sealed class NewGardenPage(PageDoor door, NewGarden garden, PlaceSearch places, bool isFirst)
{
    public const string Address = "/new";
    private const string Title = "A new garden";

    public Task Ask(HttpContext context, Visitor visitor) => door.MayBegin(visitor)
        ? context.Send(Slices.NewPlace.Create(new(door.Frame(visitor, Title), "", null)))
        : NotTheirs(context);

    public async Task Take(HttpContext context, Visitor visitor, IFormCollection form)
    {
        if (!door.MayBegin(visitor))
            await NotTheirs(context).ConfigureAwait(false);
        else if (form["known"].Count == 0)
            await TakePlace(context, visitor, form["place"].ToString()).ConfigureAwait(false);
        else
            await TakeAnswers(context, visitor, form).ConfigureAwait(false);
    }

    private static Task NotTheirs(HttpContext context) =>
        PlainPage.Write(context, StatusCodes.Status403Forbidden, "This is not yours to do", "A new garden is begun by somebody who sees all gardens of this service.");

    private async Task TakePlace(HttpContext context, Visitor visitor, string typed)
    {
        var finding = await places.Find(PlaceSaid.Read(typed), context.RequestAborted).ConfigureAwait(false);
        if (finding.Trouble is { } trouble)
        {
            await context.Send(Slices.NewPlace.Create(new(door.Frame(visitor, Title), Cut(typed), OnPage(trouble))), StatusCodes.Status400BadRequest).ConfigureAwait(false);
            return;
        }
        ImmutableArray<WrittenTown> towns = [.. finding.Towns.Select(WrittenTown.Of)];
        await context.Send(Slices.NewGarden.Create(Sheet(visitor, towns, ImmutableDictionary<string, string>.Empty, ImmutableDictionary<string, string>.Empty))).ConfigureAwait(false);
    }

    private async Task TakeAnswers(HttpContext context, Visitor visitor, IFormCollection form)
    {
        ImmutableArray<WrittenTown> towns = [.. form["known"].Take(WrittenTown.Most).Select(text => new WrittenTown(text ?? "")).Where(town => town.Read() is not null)];
        // Never given back, and so not kept: the secret.
        var typed = ((string[])["town", "zone", "name", "units", "beds", "crops", "leave", "to", "server", "user"])
            .ToImmutableDictionary(field => field, field => Cut(form[field].ToString()));
        var wrong = ImmutableDictionary.CreateBuilder<string, string>();
        if (Answers(towns, typed, form["secret"].ToString(), wrong) is var (first, wayOut))
        {
            // Where the zone had to be typed, the service did not answer: it is not waited for once more.
            if (typed["zone"].Length == 0)
                first = first with { Place = await places.Completed(first.Place, context.RequestAborted).ConfigureAwait(false) };
            switch (garden.Write(first, wayOut))
            {
                case NewGardenOutcome.Written(var plan, var files):
                    await context.Send(Slices.NewDone.Create(Done(visitor, plan, files))).ConfigureAwait(false);
                    return;
                case NewGardenOutcome.Refused(var sentence):
                    wrong[""] = sentence;
                    break;
            }
        }
        await context.Send(Slices.NewGarden.Create(Sheet(visitor, towns, typed, wrong.ToImmutableDictionary(each => each.Key, each => OnPage(each.Value)))), StatusCodes.Status400BadRequest).ConfigureAwait(false);
    }

    /// <summary>Null when something is wrong, which is then told by its field.</summary>
    private (FirstPlan First, WayOut? WayOut)? Answers(
        ImmutableArray<WrittenTown> towns, ImmutableDictionary<string, string> typed, string secret, ImmutableDictionary<string, string>.Builder wrong)
    {
        var place = towns.FirstOrDefault(town => town.Text == typed["town"])?.Read() ?? (towns.Length == 1 ? towns[0].Read() : null);
        if (place is null)
            wrong["town"] = "Choose one of the towns.";
        if (typed["zone"].Trim() is { Length: > 0 } zone)
        {
            if (DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) is { } known)
                place = place is null ? null : place with { ZoneId = known.Id };
            else
                wrong["zone"] = $"`{zone}` is no time zone{(Spelling.Nearest(zone, DateTimeZoneProviders.Tzdb.Ids) is { } near ? $"; did you mean {near}?" : ", such as Europe/Berlin.")}";
        }
        string name = typed["name"].Trim() is { Length: > 0 } given ? given : FirstPlan.UsualName;
        if (garden.Folder.PlanFiles().Count > 0 && garden.InTheWay(typed["name"].Trim() is { Length: > 0 } ? name : null) is { } inTheWay)
            wrong["name"] = typed["name"].Trim().Length > 0 ? inTheWay : "Another garden wants a name of its own.";
        var units = UnitsSaid.Read(typed["units"]) ?? UnitsSaid.Usual(place?.CountryCode, place?.ZoneId);
        var beds = Beds(typed["beds"], units, wrong);
        var crops = CropsSaid.Read(typed["crops"], garden.Crops, [.. beds.Select(bed => bed.Name)]);
        bool leave = typed["leave"] == "yes";
        if (!leave && !crops.Doubts.IsEmpty)
            wrong["crops"] = string.Join(" ", crops.Doubts.Select(doubt => $"{doubt}{(doubt.Better is null ? "." : "")}"));
        var (to, wayOut) = Told(typed, secret, wrong);
        return wrong.Count > 0 ? null : (new()
        {
            Name = name, Place = place!, Units = units, Beds = beds, Crops = crops.Crops, LeftOut = [.. crops.Doubts.Select(doubt => doubt.Item)], To = to,
        }, wayOut);
    }

    private static ImmutableArray<FirstBed> Beds(string typed, UnitSystem units, ImmutableDictionary<string, string>.Builder wrong)
    {
        switch (BedsSaid.Read(typed.Trim().Length > 0 ? typed : FirstPlan.UsualBeds(units), units))
        {
            case BedsReading.Ok ok:
                return ok.Beds;
            case BedsReading.Fault(var problem, var instead):
                wrong["beds"] = $"{problem}: {instead}";
                break;
        }
        return [];
    }

    private (string? To, WayOut? WayOut) Told(ImmutableDictionary<string, string> typed, string secret, ImmutableDictionary<string, string>.Builder wrong)
    {
        switch (ToldSaid.Read(typed["to"], garden.Settings.ChannelsSetUp))
        {
            case ToldSaid.ByChannel(var word):
                return (word, null);
            case ToldSaid.ByMail mail when !garden.NeedsWayOut:
                return (mail.Address, null);
            case ToldSaid.ByMail or ToldSaid.ByPush when !isFirst:
                wrong["to"] = "The service has no way out for it: set one up in gardenwatch.yaml first, or leave this empty.";
                return (null, null);
            case ToldSaid.ByMail mail:
                return (mail.Address, Server(mail, typed, secret, wrong));
            case ToldSaid.ByPush push:
                return (ChannelWords.Push, new WayOut.ByPush(push.Address, secret.Length > 0 ? secret : null));
            case ToldSaid.Fault(var problem, var instead):
                wrong["to"] = $"{problem}: {instead}";
                return (null, null);
            default:
                return (null, null);
        }
    }

    private static WayOut.ByMail? Server(ToldSaid.ByMail mail, ImmutableDictionary<string, string> typed, string secret, ImmutableDictionary<string, string>.Builder wrong)
    {
        if (MailServerSaid.Read(typed["server"].Trim() is { Length: > 0 } said ? said : mail.UsualServer) is not { } server)
        {
            wrong["server"] = "The name of a server, such as smtp.example.org.";
            return null;
        }
        string user = typed["user"].Trim() is { Length: > 0 } typedUser ? typedUser : server.Security == "none" && secret.Length == 0 ? "-" : mail.Address;
        if (user == "-")
            return new(server, null, null, mail.Address);
        if (secret.Length is 0 or > PagePassword.MostLength)
            wrong["secret"] = "The user name wants its password; it is never shown again, so type it each time.";
        return new(server, user, secret, user.Contains('@', StringComparison.Ordinal) ? user : mail.Address);
    }

    private NewGardenSheet Sheet(Visitor visitor, ImmutableArray<WrittenTown> towns, ImmutableDictionary<string, string> typed, ImmutableDictionary<string, string> wrong)
    {
        var place = towns.Select(town => town.Read()).FirstOrDefault();
        bool asksZone = place is { ZoneId: null };
        if (asksZone && !typed.ContainsKey("zone") && FirstQuestions.MachineZone() is { } zone)
            typed = typed.Add("zone", zone);
        return new(door.Frame(visitor, Title), towns, typed, wrong)
        {
            UsualUnits = UnitsSaid.Usual(place?.CountryCode, place?.ZoneId ?? typed.GetValueOrDefault("zone")),
            AsksZone = asksZone, AsksName = garden.Folder.PlanFiles().Count > 0, AsksServer = garden.NeedsWayOut && isFirst, Channels = garden.Settings.ChannelsSetUp,
        };
    }

    private NewDoneSheet Done(Visitor visitor, Plan plan, ImmutableArray<string> files) => new(
        door.Frame(visitor, Title),
        [.. PlanSummary.Of(plan, new Speech(plan.Units, DateTimeZone.Utc)).Split('\n', StringSplitOptions.RemoveEmptyEntries)], files,
        (isFirst ? "The service takes it up now; in half a minute the page shows your garden." : "The service takes it up within a minute.") + FirstDigestOf(plan));

    private static string FirstDigestOf(Plan plan) => plan.Digest.To is [var told, ..]
        ? $" Its first digest goes out within ten minutes, {(ChannelWords.IsOne(told.Address) ? "by" : "to")} {told.Address}."
        : "";

    /// <summary>A sentence as the terminal says it, set as on paper: what was typed stands in quotation marks.</summary>
    private static string OnPage(string sentence)
    {
        string[] parts = sentence.Split('`');
        string set = string.Concat(parts.Select((part, i) => i == 0 ? part : (i % 2 == 1 ? "“" : "”") + part));
        return set.Length == 0 ? set : char.ToUpperInvariant(set[0]) + set[1..] + (set[^1] is '.' or '?' ? "" : ".");
    }

    private static string Cut(string text) => text.Length > 2000 ? text[..2000] : text;
}
