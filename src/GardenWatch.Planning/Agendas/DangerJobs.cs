using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// What wind, hail and heat would take: asked for without the plan asking, from what is over the beds and what stands in them.
/// </summary>
/// <remarks>
/// Decision rule, for each kind as <see cref="DecisionRule"/> has it: a tie or a shut lid asked for in vain costs twenty minutes, one
/// not asked for breaks stems and glass; so the one forecast is enough for what is near, and so is the share of its runs. What is
/// further off is announced by the share alone where there are runs. What was asked for today stands until the share has fallen
/// below the rule by more than runs waver. Where the forecast has gaps the advice becomes cautious: it is given unless the last
/// days, or what else is known of the hours, make the danger unlikely; hail, of which few models tell, is then left to the sky.
/// What lasts for days is asked for once: shade and open lids are told on the first day of a hot spell, and shade again when it
/// gets hotter by a step; in the course of a day heat is news only when it is beyond doubt.
/// </remarks>
internal sealed class DangerJobs(Plan plan, GardenWeather weather, LastSaid lastSaid, WeatherNews news, Instant asOf)
{
    // An old forecast has drifted by about this much: so much is taken off what is borne. Common practice.
    private const double StaleGust = 2, StaleKelvins = 2;
    // Gusts over the mean wind of open country. Common practice: 1.5 over the sea to 2 in a town.
    private const double GustFactor = 1.7;
    // Cooler days than this many end a hot spell.
    private const int CoolDaysEndASpell = 3;
    // After so many days even one unbroken spell is worth another word.
    private const int LongestRemembered = 14;
    private static readonly Duration Lately = Duration.FromDays(3);
    private static readonly Duration StillDone = Duration.FromHours(1);

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);
    private readonly DangerHours _hours = new(plan, weather.Calendar, asOf);

    /// <summary>The job of one danger at one place; null when nothing threatens in the next days.</summary>
    public Job? Of(DangerWanted danger)
    {
        var wanted = danger.What;
        var scene = Cautious(danger, weather.SceneOf(wanted));
        bool heat = danger.Danger == Danger.Heat;
        var stretches = heat ? _hours.Sunny(wanted.Id.Kind == JobKind.Vent) : _hours.Pieces();
        if (stretches.IsEmpty)
            return null;
        var look = new DangerLook(wanted.Conditions.Whole, scene, asOf - Lately, asOf, stretches[^1].End + Duration.FromDays(1));
        bool told = WasAskedFor(wanted);
        foreach (var stretch in stretches)
        {
            // A hot day is one stretch: the phrase speaks of its date, so it can't tell the hours.
            var sight = look.In(stretch) is var seen && heat ? seen with { Hours = stretch } : seen;
            bool near = stretch.Start < _hours.LeftToDigestFrom;
            bool threatens = Threatens(danger, scene, sight, look, near, out bool cautious);
            bool kept = !threatens && near && told && StillStands(wanted, scene, sight, stretch);
            if (!threatens && !kept)
                continue;
            if (wanted.PutOffUntil > weather.Calendar.DateOf(sight.Hours.Start))
                continue;
            var facts = new DangerFacts(scene, sight, Rule(wanted).LeastShare, danger.Danger, asOf);
            if (heat && (SaidInThisSpell(wanted, scene, facts.Value) || near && !told && !cautious && IsFlutterOfTheDay(wanted, sight, facts.Value)))
                return null;
            return new DangerWords(plan, weather, news, asOf).Described(danger, sight, facts, near, kept, cautious);
        }
        return told && !heat && !CameToday(look) ? new DangerWords(plan, weather, news, asOf).CalledOff(danger, new DangerFacts(
            scene, new(stretches[0], null, false, false), Rule(wanted).LeastShare, danger.Danger, asOf)) : null;
    }

    private bool Threatens(DangerWanted danger, Scene scene, DangerSight sight, DangerLook look, bool near, out bool cautious)
    {
        cautious = false;
        if (sight.Share >= Rule(danger.What).LeastShare || sight.InForecast && (near || sight.Share is null))
            return true;
        cautious = near && sight.Unknown && sight.Share is null && UnknownCounts(danger, scene, sight, look);
        return cautious;
    }

    private bool UnknownCounts(DangerWanted danger, Scene scene, DangerSight sight, DangerLook look)
    {
        var lately = new Interval(asOf - Lately, asOf);
        if (look.HoldsIn(lately))
            return true;
        if (danger.Danger == Danger.Hail || look.IsKnownIn(lately))
            return false;
        return danger.Danger != Danger.Wind || !danger.What.Numbers.TryGetValue("gust", out var limit)
            || DangerFacts.Most(scene.Weather, Measure.Wind, sight.Hours) is not { } wind || wind * GustFactor >= limit.Value;
    }

    /// <summary>It was asked for today, and the forecast has moved by less than forecasts waver.</summary>
    private static bool StillStands(Wanted wanted, Scene scene, DangerSight sight, Interval stretch) =>
        sight.Share >= Rule(wanted).LeastShare - DecisionRule.ShareFlutter
        || new DangerLook(wanted.Conditions.Whole, scene with { Lenient = true, Members = [] }, stretch.Start, stretch.Start, stretch.End).HoldsIn(stretch);

    /// <summary>It came earlier in the day: over, not called off.</summary>
    private bool CameToday(DangerLook look) =>
        asOf - weather.Calendar.StartOf(_today) >= StillDone && look.HoldsIn(new(weather.Calendar.StartOf(_today), asOf));

    /// <summary>A message of today asked for it.</summary>
    private bool WasAskedFor(Wanted wanted) =>
        lastSaid.Jobs.TryGetValue(wanted.Id.ToString(), out var said) && said.Standing == Standing.Now && said.LastOn == _today;

    /// <summary>An earlier day's message asked for it, it has been hot ever since, and it gets no hotter by a step.</summary>
    private bool SaidInThisSpell(Wanted wanted, Scene scene, double? value)
    {
        // Once it is answered, the next time has another id and is the same spell still.
        var said = new[] { wanted.Id, wanted.Id with { Time = wanted.Id.Time - 1 } }
            .Select(id => lastSaid.Jobs.GetValueOrDefault(id.ToString())).OfType<Said>().MaxBy(told => told.LastOn);
        if (said is null || said.Standing != Standing.Now || said.LastOn >= _today
            || Period.DaysBetween(said.LastOn, _today) > LongestRemembered || Threats.IsHotter(wanted.Id.Kind, value, said.Value))
            return false;
        var since = new DangerLook(wanted.Conditions.Whole, scene with { Members = [] }, weather.Calendar.StartOf(said.LastOn), asOf, asOf);
        int cool = 0;
        for (var date = said.LastOn.PlusDays(1); date < _today; date = date.PlusDays(1))
        {
            cool = since.HoldsIn(weather.Calendar.DayOf(date)) ? 0 : cool + 1;
            if (cool >= CoolDaysEndASpell)
                return false;
        }
        return true;
    }

    /// <summary>
    /// A message of today was made without it, and the day's high has since come to pass its number by little: the walk at noon
    /// saves less than it costs.
    /// </summary>
    private bool IsFlutterOfTheDay(Wanted wanted, DangerSight sight, double? high) =>
        weather.Calendar.DateOf(sight.Hours.Start) == _today && lastSaid.Jobs.Values.Any(said => said.LastOn == _today)
        && wanted.Numbers.TryGetValue("heat", out var number) && !Threats.IsHotBeyondDoubt(high, number.Value);

    private static DecisionRule Rule(Wanted wanted) => DecisionRule.Of(wanted.Id.Kind).With(wanted.Numbers);

    /// <summary>On an old forecast the limits give way to the careful side.</summary>
    private Scene Cautious(DangerWanted danger, Scene scene) => news.State == WeatherState.Fresh ? scene : scene with
    {
        Numbers = danger.What.Numbers.ToImmutableDictionary(
            number => number.Key,
            number => number.Value.Dimension switch
            {
                Dimension.Speed => number.Value with { Value = number.Value.Value - StaleGust },
                Dimension.Temperature => number.Value with { Value = number.Value.Value - StaleKelvins },
                _ => number.Value,
            }),
    };

    /// <summary>
    /// What is shut against a gale is not opened for warmth on the same day; and in a thunderstorm nothing is done out of doors.
    /// </summary>
    public static void Settle(List<Job> jobs, GardenWeather weather, Plan plan, Instant asOf)
    {
        foreach (var vent in jobs.Where(job => job is { Kind: JobKind.Vent, Threat: not null }).ToList())
        {
            int shut = jobs.FindIndex(job => job is { Kind: JobKind.Protect, Threat: not null } && job.SubjectId == vent.SubjectId
                && job.Threat.From < vent.Threat!.Until && vent.Threat.From < job.Threat.Until);
            if (shut < 0)
                continue;
            jobs[shut] = jobs[shut] with
            {
                Reasons = jobs[shut].Reasons.Add(new("shade-instead", ImmutableDictionary<string, double>.Empty,
                    weather.Speech.Say("It turns warm under there as well: shade the glass rather than open it."))),
            };
            jobs.Remove(vent);
        }
        for (int index = 0; index < jobs.Count; index++)
        {
            var job = jobs[index];
            bool outdoors = plan.Beds.FirstOrDefault(bed => bed.Id == job.BedId) is not { IsIndoors: true };
            if (job.Standing == Standing.Now && outdoors && job.Best is { } best && !job.Cautions.Any(caution => caution == weather.Speech.Say(DangerWords.Lightning))
                && DangerFacts.FirstThunder(weather.Place.Weather, new(best.From, best.Until)) is not null)
                jobs[index] = job with { Cautions = job.Cautions.RemoveAll(IsLightning).Add(weather.Speech.Say(DangerWords.Lightning)) };
        }

        static bool IsLightning(string caution) => caution.StartsWith("Thunder heard", StringComparison.Ordinal);
    }
}

/// <summary>The numbers behind one danger's sight.</summary>
internal sealed class DangerFacts
{
    private static readonly Duration Hour = Duration.FromHours(1);
    // Thunder so long before keeps people in, and what must be done must be done before it.
    private static readonly Duration SameStorm = Duration.FromHours(6);

    public DangerFacts(Scene scene, DangerSight sight, double rule, Danger danger, Instant asOf)
    {
        var hours = sight.Hours;
        Forecast = danger switch
        {
            Danger.Wind => Most(scene.Weather, Measure.Gust, hours),
            Danger.Heat => Most(scene.Weather, Measure.Air, DayOf(scene, hours)),
            _ => ClassOf(scene.Weather, hours),
        };
        if (danger != Danger.Hail)
            InRuns = Exceeded(scene, danger == Danger.Wind ? Measure.Gust : Measure.Air, danger == Danger.Wind ? hours : DayOf(scene, hours), rule);
        HeatIndex = Most(scene.Weather, Measure.HeatIndex, DayOf(scene, hours));
        Gust = Most(scene.Weather, Measure.Gust, hours);
        RainPeakMm = Most(scene.Weather, Measure.Rain, hours);
        Thunder = FirstThunder(scene.Weather, new(Instant.Max(asOf, hours.Start - SameStorm), hours.End));
    }

    public double? Forecast { get; }

    /// <summary>What the share of runs that the rule asks for reaches or passes.</summary>
    public double? InRuns { get; }

    /// <summary>What decides: the larger of the two, since either is enough.</summary>
    public double? Value => Forecast is { } one && InRuns is { } many ? Math.Max(one, many) : Forecast ?? InRuns;

    public double? HeatIndex { get; }

    public double? Gust { get; }

    public double? RainPeakMm { get; }

    public Instant? Thunder { get; }

    /// <summary>The most of the hours that lie in a span; null when none is known.</summary>
    public static double? Most(BedWeather bed, Measure measure, Interval span)
    {
        var column = bed.Column(new(measure));
        double? most = null;
        // A stamp tells of the hour that ends with it.
        int last = Math.Min(bed.Series.Hours - 1, bed.Series.FirstAtOrAfter(span.End));
        for (int hour = Math.Max(0, bed.Series.FirstAtOrAfter(span.Start + Duration.Epsilon)); hour <= last; hour++)
            if (!double.IsNaN(column[hour]) && !(most >= column[hour]))
                most = column[hour];
        return most;
    }

    /// <summary>When the first hour with a thunderstorm in it begins; null when none is told.</summary>
    public static Instant? FirstThunder(BedWeather bed, Interval span)
    {
        var column = bed.Column(new(Measure.Thunder));
        int last = Math.Min(bed.Series.Hours - 1, bed.Series.FirstAtOrAfter(span.End));
        for (int hour = Math.Max(0, bed.Series.FirstAtOrAfter(span.Start + Duration.Epsilon)); hour <= last; hour++)
            if (column[hour] > 0)
                return Instant.Max(bed.Series.StampOf(hour) - Hour, span.Start);
        return null;
    }

    private static Interval DayOf(Scene scene, Interval hours) => scene.Weather.Calendar.DayOf(scene.Weather.Calendar.DateOf(hours.Start));

    private static double? ClassOf(BedWeather bed, Interval span)
    {
        if (Most(bed, Measure.Hail, span) is not { } hail)
            return null;
        var codes = bed.Series[WeatherVariable.WeatherCode];
        int last = Math.Min(bed.Series.Hours - 1, bed.Series.FirstAtOrAfter(span.End));
        for (int hour = Math.Max(0, bed.Series.FirstAtOrAfter(span.Start + Duration.Epsilon)); hour <= last; hour++)
            if (PresentWeather.HasHeavyHail(codes[hour]) == true)
                return HailClass.Heavy;
        return hail > 0 ? HailClass.Told : HailClass.Possible;
    }

    private static double? Exceeded(Scene scene, Measure measure, Interval span, double share)
    {
        var most = scene.Members.Select(run => Most(run, measure, span)).OfType<double>().OrderDescending().ToList();
        return most.Count == 0 || most.Count * 2 < scene.Members.Length ? null : most[Math.Clamp((int)Math.Ceiling(share * most.Count) - 1, 0, most.Count - 1)];
    }
}
