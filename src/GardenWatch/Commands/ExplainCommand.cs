using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Why a job is asked for or not, from what is stored: no weather is fetched and nothing is written.</summary>
internal static class ExplainCommand
{
    private const string NoWeather = "No weather is stored for this garden yet; `gardenwatch today` fetches it.";

    /// <param name="asked">A job's id, or words of its name, kind, crop or bed.</param>
    /// <param name="tryOut">Numbers to try out, each as "soil: 14 °C".</param>
    public static async Task<int> Run(Terminal terminal, string asked, string[] tryOut, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        bool hasRecords = File.Exists(new StoreFolder(household.Settings.DataFolder).Database);
        using var store = hasRecords ? terminal.OpenStore(household.Settings, StoreUse.Command) : null;
        if (hasRecords && store is null || terminal.OpenGardens(household, store) is not { } files)
            return ExitCode.Unusable;
        var plans = files.Select(file => file.Plan!).ToList();
        if (Choose(plans, asked) is not { } job)
            return ExitCode.Unusable;

        var plan = plans.First(each => each.GardenId == job.GardenId);
        if (await PapersOf(terminal, household, store, plan, ct).ConfigureAwait(false) is not { } papers)
            return ExitCode.Unusable;
        Explanation Explained(Dictionary<string, Quantity>? changed) => Explanation.Of(
            plan, job, papers.Calendar, papers.Journal, papers.Known, papers.LastSaid, papers.Now, changed);
        var explanation = Explained(null);
        if (Tried(explanation, tryOut) is not { } changed)
            return ExitCode.Unusable;
        if (changed.Count > 0)
            explanation = Explained(changed);

        if (terminal.Json)
            Console.Out.WriteLine(ExplanationJson.Of(explanation));
        else
        {
            if (papers.Known.News.State == WeatherState.Missing)
                Console.Out.WriteLine(NoWeather);
            Console.Out.Write(ExplanationText.Write(explanation));
        }
        return ExitCode.Fine;
    }

    private sealed record Papers(LocalCalendar Calendar, Journal Journal, KnownWeather Known, LastSaid LastSaid, Instant Now);

    /// <summary>What is stored of a garden, as it was known at the time that stands for now.</summary>
    private static async Task<Papers?> PapersOf(Terminal terminal, Household household, GardenStore? store, Plan plan, CancellationToken ct)
    {
        if (store is not null)
        {
            using var house = Terminal.LookingHouse(household, store, terminal.RealClock);
            if (await house.Places.Settle(plan.Place, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false) is PlaceOutcome.Settled settled)
            {
                return terminal.NowIn(settled.Place.Calendar.Zone) is { } now
                    ? new(settled.Place.Calendar, house.Mornings.JournalOf(plan, now), house.Mornings.KnownOf(settled.Place, now), house.Mornings.LastSaidOf(plan, now), now)
                    : null;
            }
        }
        // Without records the place may be known by its town alone; then hours are told in universal time, and no day is told of.
        var zone = plan.Place.ZoneId is { } id ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) : null;
        var calendar = new LocalCalendar(
            zone ?? DateTimeZone.Utc, new GeoPosition(plan.Place.LatitudeDegrees ?? 0, plan.Place.LongitudeDegrees ?? 0, plan.Place.ElevationMetres ?? 0));
        return terminal.NowIn(calendar.Zone) is { } asOf
            ? new(calendar, Journal.Empty, new(WeatherSeries.Empty, new(null, null, WeatherState.Missing)), LastSaid.Nothing, asOf)
            : null;
    }

    /// <summary>The one job that the words mean; null, with what there is told, when they mean none or several.</summary>
    private static AskedJob? Choose(List<Plan> plans, string asked)
    {
        switch (JobSearch.Find([.. plans.SelectMany(plan => AskedJob.AllOf(plan))], asked))
        {
            case JobMatch.One(var job):
                return job;
            case JobMatch.Several(var jobs):
                Console.Error.WriteLine($"\"{asked}\" fits {jobs.Length} jobs; add a word, or take an id:");
                List(jobs);
                return null;
            case JobMatch.None({ IsEmpty: true }):
                Console.Error.WriteLine("The plan has no jobs yet: it wants a planting or a chore.");
                return null;
            case JobMatch.None(var nearest):
                Console.Error.WriteLine($"No job is called \"{asked}\". The nearest:");
                List(nearest);
                return null;
            default:
                throw new InvalidOperationException("No such match.");
        }

        static void List(IReadOnlyCollection<AskedJob> jobs)
        {
            int width = jobs.Max(job => job.FullName.Length) + 2;
            foreach (var job in jobs)
                Console.Error.WriteLine($"  {job.FullName.PadRight(width)}{job.Id}");
        }
    }

    /// <summary>Null, with the fault told, when one is no number of the job.</summary>
    private static Dictionary<string, Quantity>? Tried(Explanation explanation, string[] tryOut)
    {
        var changed = new Dictionary<string, Quantity>();
        foreach (string written in tryOut)
        {
            string[] parts = written.Split([':', '='], 2, StringSplitOptions.TrimEntries);
            switch (parts.Length == 2 ? JobNumbers.Read(explanation.Numbers, parts[0], parts[1]) : new QuantityReading.Fault($"`{written}` is no number with its name", "such as --with \"soil: 14 °C\""))
            {
                case QuantityReading.Ok(var quantity):
                    changed[explanation.Numbers.First(number => number.Name.Equals(parts[0], StringComparison.OrdinalIgnoreCase)).Name] = quantity;
                    break;
                case QuantityReading.Fault(var problem, var instead):
                    Console.Error.WriteLine(instead is null ? $"{problem}." : $"{problem}; {instead}");
                    return null;
            }
        }
        return changed;
    }
}
