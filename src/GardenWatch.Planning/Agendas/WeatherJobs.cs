using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Jobs that are right only in certain weather: sowing, setting out, chores.</summary>
internal sealed class WeatherJobs(Plan plan, GardenWeather weather, LastSaid lastSaid, WeatherNews news, Instant asOf)
{
    // Beyond a week a single forecast run tells little of one hour; later windows are left to coming mornings.
    private const int HorizonDays = 7;
    private static readonly Duration ShortestVisit = Duration.FromMinutes(10);
    // Less than this in the coming two days does not water anything in, so waiting for it is no use. Common practice.
    private const double DrySpellMm = 5;
    // A waiting job's best hour is worth a line from here on.
    private const double WorthNamingShare = 0.3;

    // Who works as long as that in great heat is told so; a short walk is early anyway. Common practice.
    private const int HeavyMinutes = 20;

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);
    private readonly ImmutableArray<Window> _slots = Presence.Slots(plan, weather.Calendar, weather.Calendar.DateOf(asOf), HorizonDays + 1);

    private readonly LikelyDates? _likely =
        weather.Climate is { } climate ? new(climate, weather.Calendar.DateOf(asOf)) : null;

    /// <summary>A job with its standing; null when there is nothing to say of it.</summary>
    public Job? Of(Wanted wanted)
    {
        if (wanted.PutOffUntil > _today)
            return null;
        var scene = weather.SceneOf(wanted);
        if (wanted.Conditions.By.FirstOrDefault(end => Evaluate.Holds(end, asOf, scene) == Truth.Yes) is { } seasonOver)
            return Missed(wanted, Evaluate.At(seasonOver, asOf, scene, lookAhead: false));

        bool withheld = news.State != WeatherState.Fresh && !wanted.Conditions.AsksNothing;
        var rule = DecisionRule.Of(wanted.Id.Kind).With(wanted.Numbers);
        var opening = withheld || wanted.WaitsFor is not null ? Opening.Closed : OpeningOf(wanted, scene, rule.LeastShare);
        Reason? kept = null;
        if (!OpensToday(opening) && !withheld && wanted.WaitsFor is null && WasAdvised(wanted) &&
            OpeningOf(wanted, scene with { Lenient = true }, rule.LeastShare - DecisionRule.ShareFlutter) is var lenient && OpensToday(lenient))
        {
            kept = Kept(wanted, lenient.Windows[0].From, scene);
            opening = lenient;
        }
        var standing =
            opening.Windows.IsEmpty ? Standing.Waiting
            : OpensToday(opening) ? Standing.Now
            : Standing.Soon;

        if (standing == Standing.Waiting && !withheld && WontCome(wanted) is { } byHand)
            return Described(wanted, scene, Standing.Now, SlotsToday(), best: null) with { Reasons = [byHand] };
        if (wanted.OnOccasion && standing != Standing.Now)
            return IsUnknown(wanted, scene) ? Described(wanted, scene, Standing.Waiting, [], best: null) : null;
        var best = BestOf(wanted, opening, scene);
        var job = Described(wanted, scene, standing, opening.Windows, best);
        double? share = best is { } window && LooksAhead(wanted, window) ? opening.ShareOf(window) : null;
        return job with
        {
            Chance = share is { } told ? new(told, ChanceSource.Members) : null,
            Reasons = kept is not null ? [kept, .. job.Reasons]
                : standing == Standing.Soon && NotToday(wanted, scene) is { } not ? [not, .. Then(job.Reasons, scene.Speech)]
                : share is not null && BorrowedHours.Of(wanted.Conditions.Whole, weather.Borrowed, weather.Speech) is { } borrowed ? [.. job.Reasons, borrowed]
                : opening.Windows.IsEmpty && opening.Nearest() is { } nearest ? [.. job.Reasons, .. NotSureEnough(nearest, rule, job)]
                : job.Reasons,
        };
    }

    /// <summary>Whether nobody can say if its weather is there.</summary>
    private bool IsUnknown(Wanted wanted, Scene scene) => news.State == WeatherState.Fresh && Evaluate.Holds(wanted.Conditions.Whole, OnceTheNightIsOver(), scene) == Truth.Unknown;

    /// <summary>What of its weather keeps a job from today, where only weather does.</summary>
    private Reason? NotToday(Wanted wanted, Scene scene)
    {
        if (wanted.NotBefore > _today || SlotsToday() is not [var slot, ..])
            return null;
        var against = wanted.Conditions.When.Concat(wanted.Conditions.Unless.Select(condition => new Condition.NoneOf([condition])))
            .Where(condition => !Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure == Measure.Days))
            .Select(condition => Evaluate.At(condition, slot.From, scene, lookAhead: false))
            .FirstOrDefault(verdict => verdict.Holds == Truth.No);
        return against is null ? null : new("not-today", Values(("value", against.Value ?? double.NaN)), scene.Speech.Say($"Not today: {against.Sentence}."));
    }

    /// <summary>After what is in the way today, what its weather will be then.</summary>
    private static IEnumerable<Reason> Then(ImmutableArray<Reason> reasons, Speech speech)
    {
        int first = 0;
        while (first < reasons.Length && reasons[first].Code != Reason.Condition)
            first++;
        return reasons.Select((reason, index) => index == first ? reason with { Text = speech.Say($"Then: {reason.Text}") } : reason);
    }

    private bool OpensToday(Opening opening) =>
        !opening.Windows.IsEmpty && weather.Calendar.DateOf(opening.Windows[0].From) == _today;

    /// <summary>A message of today or yesterday said that its time had come.</summary>
    private bool WasAdvised(Wanted wanted) =>
        lastSaid.Jobs.TryGetValue(wanted.Id.ToString(), out var said) && said.Standing == Standing.Now && said.LastOn >= _today.PlusDays(-1);

    private static Reason Kept(Wanted wanted, Instant at, Scene scene)
    {
        var verdict = Evaluate.At(wanted.Conditions.Whole, at, scene, lookAhead: false);
        string now = verdict.Holds == Truth.No ? scene.Speech.Say($"now {verdict.Sentence}") : scene.Speech.Say("fewer forecast runs have it now");
        return new("kept", Values(), scene.Speech.Say($"As said before; {now}, but it misses by less than forecasts waver."));
    }

    /// <summary>The one forecast has the weather that is asked for, but too few of its fellows.</summary>
    private IEnumerable<Reason> NotSureEnough((Instant At, double Share) nearest, DecisionRule rule, Job job)
    {
        if (nearest.Share >= rule.LeastShare || nearest.Share < WorthNamingShare && job.Needs.Any(need => need.Holds != true))
            yield break;
        var speech = weather.Speech;
        string day = speech.DayFrom(_today, weather.Calendar.DateOf(nearest.At));
        string share = speech.Chance(nearest.Share), least = speech.Chance(rule.LeastShare);
        yield return new(
            "not-sure-enough", Values(("share", nearest.Share), ("leastShare", rule.LeastShare)),
            share == least ? speech.Say($"Nearest to it: {day}, not quite {least} by the forecast runs, which is asked.")
                : speech.Say($"Nearest to it: {day}, {share} by the forecast runs; {least} is asked."));
    }

    /// <summary>Whether the weather to come decides: a measured soil of the past days needs no chance, nor does the calendar.</summary>
    private bool LooksAhead(Wanted wanted, Window window) => !wanted.Conditions.AsksNothing &&
        Evaluate.Phrases(wanted.Conditions.Whole).Any(phrase => phrase.Of.Measure != Measure.Days) &&
        (window.From > asOf + Duration.FromHours(1) ||
            Evaluate.Phrases(wanted.Conditions.Whole).Any(phrase => phrase.Window.Kind is
                WindowKind.NextHours or WindowKind.NextDays or WindowKind.NextNights or WindowKind.Today or WindowKind.Tonight or WindowKind.Tomorrow));

    /// <summary>
    /// Of the first day that has any: the one in which most wishes hold, of these the most certain (in tenths), of these the
    /// earliest. Young plants are set out in the evening of that day if they can be: a night to recover in before the sun
    /// (transplanting advice of the University of Maryland and others).
    /// </summary>
    private Window? BestOf(Wanted wanted, Opening opening, Scene scene)
    {
        if (opening.Windows.IsEmpty)
            return null;
        var date = weather.Calendar.DateOf(opening.Windows[0].From);
        var that = opening.Windows.Where(window => weather.Calendar.DateOf(window.From) == date).ToList();
        if (wanted.Id.Kind == JobKind.SetOut && wanted.Conditions.Wish.IsEmpty)
            return that[^1];
        return that
            .OrderByDescending(window => WishesIn(wanted, window, scene))
            .ThenByDescending(window => Math.Round((opening.ShareOf(window) ?? 0) * 10))
            .ThenBy(window => window.From)
            .First();
    }

    private static int WishesIn(Wanted wanted, Window window, Scene scene) =>
        wanted.Conditions.Wish.Count(wish => Evaluate.Holds(wish, window.From, scene) == Truth.Yes);

    private Opening OpeningOf(Wanted wanted, Scene scene, double leastShare)
    {
        var first = Instant.FromUnixTimeSeconds(asOf.ToUnixTimeSeconds() / 3600 * 3600);
        var notBefore = wanted.NotBefore is { } date
            ? Instant.Max(asOf, weather.Calendar.DayOf(date).Start)
            : asOf;
        var atLeast = wanted.Minutes is { } minutes ? Duration.FromMinutes(minutes) : ShortestVisit;
        var slots = WorkInLight.Of(_slots, wanted.Id.Kind, wanted.Bed, weather.Calendar);
        if (wanted.NoLaterThan is { } end && HoursOfDay.Until(slots, QuarterHour.Before(end), notBefore + atLeast) is { IsEmpty: false } before)
            slots = before;
        if (wanted.AvoidsMidday)
            slots = CoolHours.Of(slots, weather.Calendar, asOf, atLeast);
        else
            slots = GreatHeat.Spared(slots, wanted.Bed, scene.Weather, notBefore, atLeast);
        if (wanted.Conditions.AsksNothing)
            return Opening.Always(slots, notBefore, atLeast);
        int hours = (int)Math.Ceiling((weather.Calendar.DayOf(_today.PlusDays(HorizonDays)).End - first).TotalHours);
        return Opening.Of(wanted.Conditions.Whole, scene, first, hours, slots, notBefore, atLeast, leastShare);
    }

    private ImmutableArray<Window> SlotsToday() =>
        [.. _slots.Where(slot => slot.Until > asOf && weather.Calendar.DateOf(slot.From) == _today)
            .Select(slot => new Window(Instant.Max(slot.From, asOf), slot.Until))];

    private Job Described(Wanted wanted, Scene scene, Standing standing, ImmutableArray<Window> windows, Window? best)
    {
        var at = best is { } window ? Instant.Max(window.From, asOf) : OnceTheNightIsOver();
        var needs = wanted.Conditions.When.Select(condition => NeedOf(condition, at, scene)).ToList();
        needs.AddRange(wanted.Conditions.Unless
            .Where(condition => Evaluate.Holds(condition, at, scene) != Truth.No)
            .Select(condition => NeedOf(new Condition.NoneOf([condition]), at, scene)));
        if (wanted.WaitsFor is { } taken)
            needs.Insert(0, new(taken.What, false, null, null, null, taken.Likely, taken.Sentence));
        else if (standing == Standing.Waiting && wanted is { Sowing: not null, Id.Kind: JobKind.Sow or JobKind.SetOut, NotBefore: { } day } && day > _today)
            needs.Insert(0, new("planned date", false, null, null, null, new(day, day), scene.Speech.Say($"not meant before {scene.Speech.Date(day)}")));
        var today = windows.Where(w => weather.Calendar.DateOf(w.From) == _today).ToImmutableArray();
        return new Job
        {
            Id = wanted.Id.ToString(),
            SubjectId = wanted.Id.SubjectId,
            Kind = wanted.Id.Kind,
            Name = wanted.Name,
            Crop = wanted.Sowing?.Planting.Crop.Name,
            BedId = wanted.Bed?.Id,
            BedName = wanted.Bed?.Name,
            SowingId = wanted.Sowing?.Id,
            Standing = standing,
            Minutes = wanted.Minutes,
            NotBefore = wanted.NotBefore > _today ? wanted.NotBefore : null,
            Windows = windows,
            Best = best,
            ActBy = standing == Standing.Now && best is not null
                ? !IsRoutine(wanted.Id.Kind) && ClosesToday(windows) ? today[^1].Until : LastWishedFor(wanted, windows, scene)
                : null,
            // Who is there only after the night can't be before it.
            Reasons = [.. wanted.Because.Where(reason => reason.Code != Reason.ColdAhead || !(best?.From >= wanted.NoLaterThan)), .. needs.Where(need => need.Holds == true || standing != Standing.Now).Select(need =>
                new Reason(Reason.Condition, need.Value is { } value ? Values(("value", value)) : Values(), need.Sentence))],
            Cautions = best is { } hours && wanted.Minutes >= HeavyMinutes && wanted.Bed is not { IsIndoors: true } && GreatHeat.Caution(weather.Calendar.DateOf(hours.From), scene.Weather, scene.Speech) is { } heat
                ? wanted.Cautions.Add(heat)
                : wanted.Cautions,
            Needs = [.. needs],
            How = wanted.How,
            Otherwise = wanted.Otherwise,
            DecidingValue = wanted.Deciding,
        };
    }

    /// <summary>In the morning, "the next nights" are the coming ones, not the one that is just ending.</summary>
    private Instant OnceTheNightIsOver() =>
        weather.Calendar.TonightAt(asOf) is var (date, night) && date < _today ? night.End : asOf;

    /// <summary>Nothing suits tomorrow or the day after, so today is the day.</summary>
    private bool ClosesToday(ImmutableArray<Window> windows) =>
        !windows.Any(window => weather.Calendar.DateOf(window.From) is var date && date > _today && date <= _today.PlusDays(2));

    /// <summary>The end of today's hours in which all wishes hold, where they hold in none of the next two days: who waits loses that.</summary>
    private Instant? LastWishedFor(Wanted wanted, ImmutableArray<Window> windows, Scene scene)
    {
        if (wanted.Conditions.Wish.IsEmpty)
            return null;
        var wished = windows.Where(window => weather.Calendar.DateOf(window.From) <= _today.PlusDays(2) && WishesIn(wanted, window, scene) == wanted.Conditions.Wish.Length).ToList();
        return wished.Count > 0 && wished.All(window => weather.Calendar.DateOf(window.From) == _today) ? wished[^1].Until : null;
    }

    /// <summary>What any day will do: a week without its weather costs nothing, so no hour presses.</summary>
    private static bool IsRoutine(JobKind kind) =>
        kind is JobKind.Prune or JobKind.Stake or JobKind.Mulch or JobKind.Look or JobKind.Clear or JobKind.Clean or JobKind.Prepare or JobKind.SaveSeed;

    private Need NeedOf(Condition condition, Instant at, Scene scene)
    {
        var verdict = Evaluate.At(condition, at, scene, lookAhead: false);
        if (verdict.Holds == Truth.No)
            verdict = Evaluate.At(condition, at, scene);
        bool? holds = verdict.Holds == Truth.Unknown ? null : verdict.Holds == Truth.Yes;
        string? unit = condition is Condition.Phrase phrase
            ? ConditionLanguage.DimensionOf(phrase.Of.Measure, phrase.Statistic).Unit()
            : null;
        return new(ConditionText.Print(condition), holds, verdict.Value, unit, verdict.Margin,
            verdict.Holds == Truth.Yes ? null : LikelyOf(condition, verdict, scene), verdict.Sentence);
    }

    /// <summary>The forecast's own date where it shows one, else the range of past years.</summary>
    private DateInterval? LikelyOf(Condition condition, Verdict verdict, Scene scene)
    {
        if (verdict is { Holds: Truth.No, NextChange: { } change })
            return weather.Calendar.DateOf(change) is var date && date > _today ? new(date, date) : null;
        return LikelyDates.ByDaylight(condition, scene, _today) ?? _likely?.Of(condition, scene);
    }

    private static Job Missed(Wanted wanted, Verdict why) => new()
    {
        Id = wanted.Id.ToString(),
        SubjectId = wanted.Id.SubjectId,
        Kind = wanted.Id.Kind,
        Name = wanted.Name,
        Crop = wanted.Sowing?.Planting.Crop.Name,
        BedId = wanted.Bed?.Id,
        BedName = wanted.Bed?.Name,
        SowingId = wanted.Sowing?.Id,
        Standing = Standing.Missed,
        Reasons = [new("season-over", why.Value is { } value ? Values(("value", value)) : Values(), why.Sentence)],
        Otherwise = wanted.Otherwise,
    };

    /// <summary>The chore's own way out, once it has waited long enough and no rain worth waiting for is in sight.</summary>
    private Reason? WontCome(Wanted wanted)
    {
        if (wanted.WhenItWontCome is not { } otherwise || wanted.WaitsFor is not null)
            return null;
        var since = wanted.NotBefore ?? (lastSaid.Jobs.TryGetValue(wanted.Id.ToString(), out var said) ? said.FirstOn : _today);
        if (wanted.NotBefore > _today || Period.DaysBetween(since, _today) < otherwise.AfterDays)
            return null;
        if (weather.RainMm(asOf, asOf + Duration.FromHours(48)) is not { } rain || rain >= DrySpellMm || !SuitsButForRain(wanted))
            return null;
        return new("by-hand", Values(("days", Period.DaysBetween(since, _today)), ("rainMm", rain)), ByHand(otherwise, wanted.Bed, rain));
    }

    /// <summary>The can stands in for rain; cold ground or whatever else is in the way stays in the way.</summary>
    private bool SuitsButForRain(Wanted wanted)
    {
        var scene = weather.SceneOf(wanted);
        bool Is(Condition condition, Truth truth) => Evaluate.Holds(condition, asOf, scene) == truth;
        return !wanted.Conditions.When.Any(AsksForRain)
            || !wanted.Conditions.When.Any(condition => !AsksForRain(condition) && Is(condition, Truth.No)) && !wanted.Conditions.Unless.Any(bar => Is(bar, Truth.Yes));

        static bool AsksForRain(Condition condition) => Evaluate.Phrases(condition).Any(phrase => phrase.Of.Measure == Measure.Rain);
    }

    private string ByHand(Otherwise otherwise, Bed? bed, double rain)
    {
        var speech = weather.Speech;
        string dry = rain < 0.2 ? speech.Say("No rain in the next 2 days") : speech.Say($"Only {speech.Water(rain)} of rain in the next 2 days");
        if (otherwise.WaterInMm is not { } mm)
            return $"{dry}: {otherwise.Text}.";
        string water = bed?.AreaSquareMetres is { } area
            ? speech.Say($"{speech.Volume(mm * area)} for this bed")
            : plan.Units == UnitSystem.Us ? speech.Say($"{speech.Volume(mm * 9.290304)} for each 100 square feet") : speech.Say($"{speech.Volume(mm)} for each square metre");
        return speech.Say($"{dry}: {otherwise.Text}; that is {water}.");
    }

    private static ImmutableDictionary<string, double> Values(params ReadOnlySpan<(string Name, double Value)> values)
    {
        var all = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var (name, value) in values)
            all[name] = value;
        return all.ToImmutable();
    }
}
