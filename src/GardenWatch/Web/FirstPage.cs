using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using Microsoft.Extensions.Hosting.Systemd;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>What the service shows while there is no plan: the five questions, under the same rules as the whole page.</summary>
internal static class FirstPage
{
    private static readonly TimeSpan LookEvery = TimeSpan.FromSeconds(1);

    /// <summary>Serves until a plan is written, by the page or otherwise; false when the service was stopped before.</summary>
    public static async Task<bool> Serve(WebApplicationBuilder builder, Household household, GardenStore store, IClock clock, CancellationToken ct)
    {
        var app = builder.Build();
        await using (app.ConfigureAwait(false))
        {
            using var places = new PlaceSearch(ServiceLine.Handler(), household.Settings.Weather, clock, TimeProvider.System);
            Map(app, household, store, clock, places);
            await app.StartAsync(ct).ConfigureAwait(false);
            app.Logger.NoPlanYet(household.Folder.Path, household.Settings.WebListen.ToString());
            bool written = await PlanIsThere(household.Folder, store, app.Lifetime.ApplicationStopping, ct).ConfigureAwait(false);
            // Waits for the page that says so to be sent.
            await app.StopAsync(CancellationToken.None).ConfigureAwait(false);
            return written;
        }
    }

    public static void Map(WebApplication app, Household household, GardenStore store, IClock clock, PlaceSearch places)
    {
        var guard = new PageGuard(household.Settings, clock);
        var visitors = new Visitors(household.Settings, store, clock);
        var door = new PageDoor(visitors, guard, household.Settings, () => []);
        var page = new NewGardenPage(door, new NewGarden(household.Folder, household.Settings, household.Crops, clock), places, isFirst: true);
        app.Use(next => context => guard.Invoke(context, next));
        app.UseRouting();
        app.MapHealth(() => new HealthState(clock.GetCurrentInstant(), store.Answers(), null, null, null, store.Outbox.Stands()));
        string[] get = [HttpMethods.Get, HttpMethods.Head], post = [HttpMethods.Post];
        app.MapMethods(PageStyle.Address, get, (RequestDelegate)PageStyle.Write);
        app.MapMethods("/", get, (RequestDelegate)(context => door.Enter(context, (_, _) =>
        {
            context.Response.Redirect(NewGardenPage.Address);
            return Task.CompletedTask;
        })));
        app.MapMethods(PagePaths.SignIn, get, (RequestDelegate)door.AskWho);
        app.MapMethods(PagePaths.SignIn, post, (RequestDelegate)(context => door.Form(context, door.SignIn)));
        app.MapMethods(PagePaths.SignOut, post, (RequestDelegate)(context => door.Form(context, door.SignOut)));
        app.MapMethods(NewGardenPage.Address, get, (RequestDelegate)(context => door.Enter(context, page.Ask)));
        app.MapMethods(NewGardenPage.Address, post, (RequestDelegate)(context => door.Form(context, page.Take)));
        app.MapFallback((RequestDelegate)(context => PlainPage.Write(context, StatusCodes.Status404NotFound, "There is no garden here yet", "It begins with five questions.")));
    }

    /// <summary>The host itself tells the service manager nothing here: its end is not the service's.</summary>
    private static async Task<bool> PlanIsThere(ConfigFolder folder, GardenStore store, CancellationToken stopping, CancellationToken ct)
    {
        var notifier = new SystemdNotifier();
        if (notifier.IsEnabled)
            notifier.Notify(ServiceState.Ready);
        var watchdog = new Watchdog(notifier);
        using var either = CancellationTokenSource.CreateLinkedTokenSource(stopping, ct);
        using var look = new PeriodicTimer(LookEvery);
        try
        {
            while (folder.PlanFiles().Count == 0)
            {
                watchdog.TickFinished(store.Answers());
                await look.WaitForNextTickAsync(either.Token).ConfigureAwait(false);
            }
            return true;
        }
        catch (OperationCanceledException)
        {
            return false;
        }
    }
}
