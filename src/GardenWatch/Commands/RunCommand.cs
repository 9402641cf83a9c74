using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using GardenWatch.Weather.OpenMeteo;
using GardenWatch.Web;
using Microsoft.Extensions.Hosting.Systemd;
using Microsoft.Extensions.Logging.Console;
using NodaTime;
using Quartz;

namespace GardenWatch.Commands;

/// <summary>The service: a scheduler that only knocks, and the health page.</summary>
internal static class RunCommand
{
    // Often enough that a digest comes in its minute; each knock costs a few reads of the store.
    private static readonly TimeSpan KnockEvery = TimeSpan.FromSeconds(15);
    private static readonly TimeSpan EndWithin = TimeSpan.FromSeconds(20);
    // For a mail that is on its way when the service is stopped.
    private static readonly TimeSpan SendingEndsWithin = TimeSpan.FromSeconds(10);

    public static async Task<int> Run(Terminal terminal, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        bool mayBegin = IsToBegin(terminal, household);
        if (!mayBegin && !CanRun(terminal, household))
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Run);
        if (store is null)
            return ExitCode.Unusable;
        // Records of a plan that is gone are no beginning.
        if (mayBegin && !store.PlanTexts.IsEmpty)
        {
            Console.Error.WriteLine(Terminal.NoPlan(household.Folder));
            return ExitCode.Unusable;
        }
        try
        {
            if (mayBegin)
            {
                if (!await FirstPage.Serve(Builder(household.Settings), household, store, terminal.RealClock, ct).ConfigureAwait(false))
                    return ExitCode.Fine;
                // There may be a way out now.
                if (terminal.OpenHousehold() is not { } begun || !CanRun(terminal, begun))
                    return ExitCode.Unusable;
                household = begun;
            }
            if (await ClockOf(terminal, household, store, ct).ConfigureAwait(false) is not { } clock)
                return ExitCode.Unusable;
            var app = Build(terminal, household, store, clock, household.Settings.Mail is { } mail ? new SmtpPostbox(mail) : new NoPostbox());
            await using (app.ConfigureAwait(false))
                await app.RunAsync(ct).ConfigureAwait(false);
            return ExitCode.Fine;
        }
        catch (IOException exception)
        {
            Console.Error.WriteLine($"The page cannot listen on {household.Settings.WebListen} ({exception.Message}) Set another `web: {{ listen: }}`.");
            return ExitCode.Unusable;
        }
    }

    /// <summary>No plan yet, and a page of the settings' own on which one can be begun.</summary>
    private static bool IsToBegin(Terminal terminal, Household household) =>
        terminal.AsOf is null && household.Folder.PlanFiles().Count == 0
        && household.Shown.Any(setting => setting.Name.StartsWith("web: ", StringComparison.Ordinal) && setting.From != "default");

    /// <summary>There is a plan, and a way out for it where it names anybody; else what is missing is told.</summary>
    private static bool CanRun(Terminal terminal, Household household)
    {
        bool isThere = household.Folder.PlanFiles().Count > 0;
        bool tellsNobody = isThere && GardenFile.ReadAll(household.Folder, household.Crops, null, terminal.RoughNow).All(file => file.Plan is { Digest.To.IsEmpty: true });
        if (household.Settings.Mail is null && household.Settings.ChannelsSetUp.IsEmpty && !tellsNobody)
        {
            Console.Error.WriteLine($"{household.Folder.SettingsFile} names no mail server, so there is no way out for a digest. Add `mail: {{ host: mail.example.org, user: ..., password file: ..., from: ... }}`, or one of `push:`, `webhook:` and `home hub:`.");
            return false;
        }
        if (!isThere)
            Console.Error.WriteLine(Terminal.NoPlan(household.Folder));
        return isThere;
    }

    /// <summary>The machine's clock, or one that ticks on from <c>--as-of</c>; null, with the reason told, when that is no time of the gardens.</summary>
    private static async Task<IClock?> ClockOf(Terminal terminal, Household household, GardenStore store, CancellationToken ct)
    {
        if (terminal.AsOf is not { } asOf)
            return terminal.RealClock;
        if (asOf.IsInstant)
            return new ClockFrom(terminal.RealClock, asOf.In(DateTimeZone.Utc)!.Value);
        using var finding = Terminal.LookingHouse(household, store, terminal.RealClock);
        var zones = new HashSet<DateTimeZone>();
        foreach (var file in GardenFile.ReadAll(household.Folder, household.Crops, store, terminal.RealClock.GetCurrentInstant()))
            if (file.Plan is { } plan && await finding.Places.Settle(plan.Place, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false) is PlaceOutcome.Settled settled)
                zones.Add(settled.Place.Calendar.Zone);
        if (zones.Count == 1)
            return terminal.NowIn(zones.Single()) is { } start ? new ClockFrom(terminal.RealClock, start) : null;
        Console.Error.WriteLine($"--as-of {asOf} is a local time, and {(zones.Count == 0 ? "no garden's time zone is known yet" : "the gardens are in several time zones")}; write it in UTC, as --as-of 2026-04-21T06:00:00Z.");
        return null;
    }

    private static WebApplicationBuilder Builder(Settings settings)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.WebHost.UseUrls($"http://{settings.WebListen}");
        // What serves the page is nobody's business.
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.AddServerHeader = false);
        builder.Logging.ClearProviders();
        builder.Logging.AddSimpleConsole(console =>
        {
            console.SingleLine = true;
            console.ColorBehavior = LoggerColorBehavior.Disabled;
            console.TimestampFormat = "yyyy-MM-dd HH:mm:ss ";
        });
        builder.Logging.SetMinimumLevel(LogLevel.Warning).AddFilter("GardenWatch", LogLevel.Information);
        return builder;
    }

    private static WebApplication Build(
        Terminal terminal, Household household, GardenStore store, IClock clock, IPostbox postbox)
    {
        var builder = Builder(household.Settings);
        builder.Services.AddSystemd();
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = EndWithin);
        builder.Services.AddSingleton(services =>
        {
            var loggers = services.GetRequiredService<ILoggerFactory>();
            var notifier = services.GetService<ISystemdNotifier>();
            return new House(household.Folder, household.Settings, household.Crops, store, postbox, new(
                clock, TimeProvider.System, ServiceLine.Handler(), loggers)
            {
                ClockIsGiven = terminal.AsOf is not null,
                Released = ClockTrust.Released,
                Synchronised = ClockWatch.ReportedBySystem,
                Jitter = Random.Shared.NextDouble,
                Channels = HouseChannels.Of(household.Settings, clock),
                Watchdog = notifier is null ? null : new Watchdog(notifier),
                Heartbeat = household.Settings.Heartbeat is { } address ? new Heartbeat(new HttpClient(), address, loggers.CreateLogger("GardenWatch")) : null,
            });
        });
        builder.Services.AddHostedService<ReplyLine>();
        // Before the scheduler, and so stopped after it.
        builder.Services.AddHostedService<SendingEnd>();
        builder.Services.AddQuartz(quartz =>
        {
            quartz.AddJob<Knock>(job => job.WithIdentity(nameof(Knock)));
            quartz.AddTrigger(trigger => trigger.ForJob(nameof(Knock)).StartNow()
                .WithSimpleSchedule(schedule => schedule.WithInterval(KnockEvery).RepeatForever()));
        });
        builder.Services.AddQuartzHostedService(quartz => quartz.WaitForJobsToComplete = true);
        var app = builder.Build();
        var house = app.Services.GetRequiredService<House>();
        app.MapHealth(() => (house.Round!.Health ?? new HealthState(default, true, null, null, null, store.Outbox.Stands())) with
        {
            Now = clock.GetCurrentInstant(), StoreAnswers = store.Answers(), Mail = store.Outbox.Stands(), SinceItWentOn = house.Round.SinceItWentOn,
        });
        new CalendarPage(store, house.Mornings, clock, () => house.Round!.OnDuty).Map(app);
        new Page(
            household.Settings, store, house.Mornings, house.Places, clock, () => house.Round!.OnDuty,
            () => GardenFile.ReadAll(household.Folder, household.Crops, store, clock.GetCurrentInstant(), household.Settings.ChannelsSetUp), house.Plans!,
            (new NewGarden(household.Folder, household.Settings, household.Crops, clock), new PlaceSearch(ServiceLine.Handler(), household.Settings.Weather, clock, TimeProvider.System))).Map(app);
        return app;
    }

    /// <summary>Reads replies beside the knocks.</summary>
    private sealed class ReplyLine(House house) : BackgroundService
    {
        protected override Task ExecuteAsync(CancellationToken stoppingToken) => house.Replies?.Run(stoppingToken) ?? Task.CompletedTask;
    }

    /// <summary>A mail that the server has and we have not marked comes twice; so a stop waits for its answer.</summary>
    private sealed class SendingEnd(House house) : IHostedService
    {
        public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) => house.Round!.EndSending(SendingEndsWithin);
    }

    /// <summary>What Quartz calls a job is a knock here: it looks whether anything is due.</summary>
    [DisallowConcurrentExecution]
    private sealed class Knock(House house, IHostApplicationLifetime life) : IJob
    {
        public async ValueTask Execute(IJobExecutionContext context, CancellationToken cancellationToken)
        {
            try
            {
                // The scheduler's own token is cancelled only when its patience is over.
                await house.Round!.Knock(life.ApplicationStopping).ConfigureAwait(false);
            }
            catch (OperationCanceledException) when (life.ApplicationStopping.IsCancellationRequested)
            {
                // Stopping is no error.
            }
        }
    }
}
