using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>The page: what the digest says, at any hour, and the gardener's answers. Works without script.</summary>
/// <param name="onDuty">The gardens as of the last knock; empty before the first.</param>
/// <param name="files">The plans' files as they are now, for the status.</param>
/// <param name="plans">Where plans are changed.</param>
/// <param name="begin">How another garden is begun; null where none can be.</param>
public sealed class Page(
    Settings settings, GardenStore store, Mornings mornings, GardenPlaces places, IClock clock, Func<IEnumerable<GardenOnDuty>> onDuty, Func<IReadOnlyList<GardenFile>> files,
    PlanDesk plans, (NewGarden Garden, PlaceSearch Places)? begin = null)
{
    public void Map(WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var guard = new PageGuard(settings, clock);
        var visitors = new Visitors(settings, store, clock);
        var looks = new GardenLooks(store, mornings, clock);
        var answers = new PageAnswers(new Answering(store, mornings), looks, clock);
        var door = new PageDoor(visitors, guard, settings, onDuty);
        // The guard stands before the routes: what it refuses reaches none of them.
        app.Use(next => context => guard.Invoke(context, next));
        app.UseRouting();

        Get(PageStyle.Address, PageStyle.Write);
        Get("/", context => door.Enter(context, door.Home));
        Get(PagePaths.SignIn, door.AskWho);
        Post(PagePaths.SignIn, context => door.Form(context, door.SignIn));
        Post(PagePaths.SignOut, context => door.Form(context, door.SignOut));

        var views = new GardenPages(door, store);
        var conditions = new ConditionPages(door);
        var status = new StatusPage(door, store, places, clock, files, canBegin: begin is not null);
        const string garden = PagePaths.Gardens + "{garden}";
        View("", views.Today);
        View("/beds", views.Beds);
        View("/sowings", views.Sowings);
        View("/sowings/{sowing}", views.Sowing);
        View("/journal", views.Journal);
        View("/conditions", conditions.All);
        View("/conditions/{subject}/{kind}", conditions.One);
        View("/pictures/{picture}", views.Picture);
        View("/status", status.Show);

        var planned = new PlanPages(door, plans);
        View("/plan", planned.Show);
        View("/plan/{form}", planned.Form);
        Written("/plan/{form}", planned.Take);

        var forms = new AnswerForms(answers);
        Written("/answer", forms.Answer);
        Written("/note", forms.Note);
        Written(PagePaths.Picture, forms.Note);
        Written("/undo", forms.Undo);

        if (begin is var (newGarden, search))
        {
            var another = new NewGardenPage(door, newGarden, search, isFirst: false);
            Get(NewGardenPage.Address, context => door.Enter(context, another.Ask));
            Post(NewGardenPage.Address, context => door.Form(context, another.Take));
        }

        var links = new JobLinkPage(visitors, store, looks, answers, clock, onDuty);
        Get(JobLink.Folder + "{token}", links.Show);
        Post(JobLink.Folder + "{token}", context => door.Form(context, links.Answer));
        app.MapFallback((RequestDelegate)(context => PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no such page", "The address is wrong, or what it showed is gone.")));

        void Get(string path, RequestDelegate answer) => app.MapMethods(path, [HttpMethods.Get, HttpMethods.Head], answer);
        void Post(string path, RequestDelegate answer) => app.MapMethods(path, [HttpMethods.Post], answer);
        void View(string path, Func<HttpContext, Visitor, GardenLook, Task> show) =>
            Get(garden + path, context => door.Enter(context, (_, visitor) => door.Garden(context, visitor, onDuty => show(context, visitor, looks.Of(onDuty)))));
        void Written(string path, Func<HttpContext, Visitor, GardenLook, IFormCollection, Task> take) =>
            Post(garden + path, context => door.Form(context, (_, visitor, form) => door.Garden(context, visitor, onDuty => take(context, visitor, looks.Of(onDuty), form))));
    }
}
