using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Tongues;
using GardenWatch.Rounds;
using GardenWatch.Setup;

namespace GardenWatch.Web;

/// <summary>What is asked before the page opens.</summary>
/// <param name="Then">The page that was asked for, to go on to.</param>
public sealed record SignInSheet(PageFrame Frame, string Name, string Then, string? Wrong);

/// <summary>The gardens of a visitor who has several.</summary>
public sealed record HomeSheet(PageFrame Frame, ImmutableArray<(string Id, string Name)> Gardens, bool Waiting);

/// <summary>Lets people in, shows each only the gardens that are theirs, and takes forms only from their own pages.</summary>
internal sealed class PageDoor(Visitors visitors, PageGuard guard, Settings settings, Func<IEnumerable<GardenOnDuty>> onDuty)
{
    /// <summary>A try takes a processor for half a second: one at a time, so that the morning's mail is not held up.</summary>
    private static readonly SemaphoreSlim OneTry = new(1);

    private static readonly PagePassword Nobody = PagePassword.Of(Guid.NewGuid().ToString());

    /// <summary>Shows a page to whoever may see one; others are asked who they are.</summary>
    public async Task Enter(HttpContext context, Func<HttpContext, Visitor, Task> show)
    {
        if (visitors.Of(context) is not { } visitor)
            await OutOfOrder(context).ConfigureAwait(false);
        else if (visitors.AsksForPassword && visitor.Person is null)
            context.Response.Redirect(PagePaths.IsOwn(context.Request.Path) ? $"{PagePaths.SignIn}?then={Uri.EscapeDataString(context.Request.Path)}" : PagePaths.SignIn);
        else
            await show(context, visitor).ConfigureAwait(false);
    }

    /// <summary>Takes a form that this session's page has sent.</summary>
    public async Task Form(HttpContext context, Func<HttpContext, Visitor, IFormCollection, Task> take)
    {
        if (!context.Request.HasFormContentType)
        {
            await PlainPage.Write(context, StatusCodes.Status415UnsupportedMediaType, "This was not taken", "It is no form of this page.").ConfigureAwait(false);
            return;
        }
        if (visitors.Of(context) is not { } visitor)
        {
            await OutOfOrder(context).ConfigureAwait(false);
            return;
        }
        var form = await context.Request.ReadFormAsync(context.RequestAborted).ConfigureAwait(false);
        if (visitors.IsFormToken(visitor, form["token"]))
            await take(context, visitor, form).ConfigureAwait(false);
        else
            await PlainPage.Write(context, StatusCodes.Status403Forbidden, "This was not taken", "The form is older than your session. Go back, load the page again, and send it once more.").ConfigureAwait(false);
    }

    /// <summary>Whether a new garden is this visitor's to begin: one who sees all, or anybody where no password is asked for.</summary>
    public bool MayBegin(Visitor visitor) => !visitors.AsksForPassword || visitor.Person is { Gardens.IsEmpty: true };

    /// <summary>The garden of the address, if it is the visitor's; a garden of others is as one that is not.</summary>
    public Task Garden(HttpContext context, Visitor visitor, Func<GardenOnDuty, Task> show)
    {
        string id = (string)context.GetRouteValue("garden")!;
        if (visitors.AsksForPassword && visitor.Person is null)
            return PlainPage.Write(context, StatusCodes.Status403Forbidden, "This was not taken", "You are not signed in any more. Sign in and send it again.");
        if (visitors.Sees(visitor, id) && onDuty().FirstOrDefault(garden => garden.Plan.GardenId == id) is { } found)
            return show(found);
        return visitors.Sees(visitor, id) && !onDuty().Any()
            ? PlainPage.Write(context, StatusCodes.Status503ServiceUnavailable, "One moment", "The service has just started and is reading its gardens. Load the page again in a few seconds.")
            : PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such page", "The address is wrong, or what it showed is gone.");
    }

    /// <summary>The one garden, or a choice of several.</summary>
    public Task Home(HttpContext context, Visitor visitor)
    {
        var gardens = Gardens(visitor);
        if (gardens is [var (id, _)])
        {
            context.Response.Redirect(PagePaths.Of(id));
            return Task.CompletedTask;
        }
        return context.Send(Slices.Home.Create(new(Frame(visitor, "Gardens"), gardens, !onDuty().Any())));
    }

    public PageFrame Frame(Visitor visitor, string title) => new(title)
    {
        Person = visitor.Person?.Name,
        Token = visitors.FormToken(visitor),
    };

    public PageFrame Frame(Visitor visitor, GardenLook look, string title, string current) => Frame(visitor, $"{title}, {look.Sheet.GardenName}") with
    {
        GardenId = look.Agenda.GardenId,
        GardenName = look.Sheet.GardenName,
        Clock = $"{Tongue.English.Day(look.Agenda.Date)}, {look.Speech.Hour(look.Now)}",
        Current = current,
        Others = [.. Gardens(visitor).Where(garden => garden.Id != look.Agenda.GardenId)],
        Foot = look.Sheet.Foot,
    };

    private ImmutableArray<(string Id, string Name)> Gardens(Visitor visitor) =>
        [.. onDuty().Where(garden => visitors.Sees(visitor, garden.Plan.GardenId)).Select(garden => (garden.Plan.GardenId, garden.Plan.Name))];

    public Task AskWho(HttpContext context)
    {
        if (visitors.Of(context) is not { } visitor)
            return OutOfOrder(context);
        if (!visitors.AsksForPassword || visitor.Person is not null)
        {
            context.Response.Redirect("/");
            return Task.CompletedTask;
        }
        string? then = context.Request.Query["then"];
        return context.Send(Slices.SignIn.Create(new(Frame(visitor, "Sign in"), "", PagePaths.IsOwn(then) ? then! : "", null)));
    }

    public async Task SignIn(HttpContext context, Visitor visitor, IFormCollection form)
    {
        string name = form["name"].ToString().Trim(), password = form["password"].ToString(), then = form["then"].ToString();
        if (!guard.MaySignIn(name, out var wait))
        {
            context.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
            await Again(StatusCodes.Status429TooManyRequests, $"Too many tries. Wait {Tongue.English.Counted(Math.Ceiling(wait.TotalSeconds), "second")} and try again.").ConfigureAwait(false);
            return;
        }
        var person = settings.People.FirstOrDefault(known => known.Name.Equals(name, StringComparison.OrdinalIgnoreCase));
        if (!await Fits(person, password, context.RequestAborted).ConfigureAwait(false))
        {
            await Again(StatusCodes.Status403Forbidden, "Name and password do not go together.").ConfigureAwait(false);
            return;
        }
        if (visitors.SignIn(context, person!) is null)
            await OutOfOrder(context).ConfigureAwait(false);
        else
            context.Response.Redirect(PagePaths.IsOwn(then) ? then : "/");

        Task Again(int status, string wrong) =>
            context.Send(Slices.SignIn.Create(new(Frame(visitor, "Sign in"), name, PagePaths.IsOwn(then) ? then : "", wrong)), status);
    }

    public Task SignOut(HttpContext context, Visitor visitor, IFormCollection form)
    {
        visitors.SignOut(context, visitor);
        context.Response.Redirect(PagePaths.SignIn);
        return Task.CompletedTask;
    }

    /// <summary>Takes as long for a name that nobody has.</summary>
    private static async Task<bool> Fits(WebPerson? person, string password, CancellationToken ct)
    {
        if (password.Length is 0 or > PagePassword.MostLength)
            return false;
        await OneTry.WaitAsync(ct).ConfigureAwait(false);
        try
        {
            bool fits = await Task.Run(() => (person?.Password ?? Nobody).Fits(password), ct).ConfigureAwait(false);
            return fits && person is not null;
        }
        finally
        {
            OneTry.Release();
        }
    }

    private static Task OutOfOrder(HttpContext context) =>
        PlainPage.Write(context, StatusCodes.Status503ServiceUnavailable, "The page is out of order", "Its records can’t be read or written; `gardenwatch status` says more.");
}
