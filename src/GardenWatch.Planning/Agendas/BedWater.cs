using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// How dry a bed is for what drinks first in it, and whether to water now: rain, what was given by hand, and what the crop uses at its
/// age, hour by hour (FAO-56, Allen et al. 1998, ch. 6 to 8).
/// </summary>
internal sealed class BedWater
{
    public const int DaysAhead = 5;
    // Leaves over the rim of a pot shed half the rain. Common practice.
    private const double RainUnderLeaves = 0.5;
    // Beds go full into such heat: watered before it, not in it. Common practice.
    private const double HeatC = 34;
    private const int HeatDays = 3;

    private readonly Season _season;
    private readonly Drinker[] _drinkers;
    private readonly LocalDays _days;
    private readonly Dictionary<WeatherSeries, (double[] Deficit, double[] Share)> _courses = [];

    private BedWater(Season season, Bed bed)
    {
        (_season, Bed) = (season, bed);
        var series = season.Weather.Place.Weather.Series;
        _days = season.Weather.Place.Weather.Days;
        SurfaceSquareMetres = bed.ContainerLitres is { } litres ? Container.SurfaceOf(litres) : bed.AreaSquareMetres;
        Record = WateringRecord.Of(season, bed, SurfaceSquareMetres);
        _drinkers = [.. Drinker.In(season, bed)];
        int now = series.LastAtOrBefore(season.AsOf);
        IsKnownOfPlace = now >= 0 && now < series.Hours;
        if (!IsKnownOfPlace)
            return;
        // What is left to ripen dry does not call for water.
        var thirsty = _drinkers.Where(drinker => drinker.IsThereNow && drinker.DrinksOn(season.Today) && !drinker.RipensDry(season.Today)).ToList();
        foreach (var drinker in thirsty)
        {
            var (course, draws, dayOfHour) = CourseOf(series, drinker);
            var draw = draws[dayOfHour[now]];
            double deficit = course.DepletionMm[now];
            if (double.IsNaN(deficit) || Thirstiest is not null && Left <= 1 - deficit / draw.Zone.EasilyHadMm)
                continue;
            (Thirstiest, Draw, DeficitMm, RestsOnItsBeginning) = (drinker, draw, deficit, course.RestsOnItsBeginning(now));
        }
        IsUnknown = thirsty.Count > 0 && Thirstiest is null;
        if (thirsty.Count == 0)
        {
            var (course, draws, dayOfHour) = CourseOf(series, null);
            (Draw, RestsOnItsBeginning) = (draws[dayOfHour[now]], course.RestsOnItsBeginning(now));
            DeficitMm = double.IsNaN(course.DepletionMm[now]) ? null : course.DepletionMm[now];
        }
        else if (Thirstiest is not null)
        {
            Advice = AdviceAt(series, now, Thirstiest);
        }
    }

    public static BedWater Of(Season season, Bed bed) => new(season, bed);

    public Bed Bed { get; }

    public WateringRecord Record { get; }

    /// <summary>Whose easily had water is used up first; null where nothing drinks, or where nothing is known.</summary>
    public Drinker? Thirstiest { get; }

    /// <summary>Of the thirstiest today, or of the bare soil.</summary>
    public Draw Draw { get; }

    /// <summary>Water lacking to field capacity, mm; null when it is not known.</summary>
    public double? DeficitMm { get; }

    /// <summary>Null when nothing drinks, or it is not known.</summary>
    public WateringAdvice? Advice { get; private set; }

    /// <summary>What to give now, mm: back to field capacity, less the rain that is sure enough.</summary>
    public double GiveMm { get; private set; }

    /// <summary>It uses up all that is easily had within a day: once a day is not enough.</summary>
    public bool DriesInADay { get; private set; }

    /// <summary>Air of the heat that it is watered before, °C; null when there is none.</summary>
    public double? HeatAheadC { get; private set; }

    /// <summary>Of the soil that is watered; null when the plan does not say how big the bed is.</summary>
    public double? SurfaceSquareMetres { get; }

    /// <summary>Something drinks, and rain or use of some hours that matter is not known.</summary>
    public bool IsUnknown { get; }

    /// <summary>It was taken as full when the record of the weather began, and that still matters.</summary>
    public bool RestsOnItsBeginning { get; }

    private bool IsKnownOfPlace { get; }

    /// <summary>In the whole bed, litres; null when its size is not known.</summary>
    public double? Litres => Plants is { } plants ? plants : SurfaceSquareMetres is { } area ? GiveMm * area : null;

    /// <summary>New plants are watered at the stem, a litre each; null where the whole bed is.</summary>
    public int? Plants => Thirstiest is { Sowing.Planting.Plants: { } plants } && Age == DrinkerAge.New && Bed.ContainerLitres is null ? plants : null;

    public DrinkerAge Age => Thirstiest?.AgeOn(_season.Today) ?? DrinkerAge.Grown;

    /// <summary>In how many goes the soil takes it in: no more at once than it takes in two hours. At most four.</summary>
    public int Goes => Bed.ContainerLitres is not null || Plants is not null ? 1
        : (int)Math.Clamp(Math.Ceiling(GiveMm / (2 * Drinker.SoilOf(Bed).IntakeMmPerHour) - 1e-9), 1, 4);

    /// <summary>Share of the easily had water that is still there.</summary>
    private double Left => DeficitMm is { } deficit ? 1 - deficit / Draw.Zone.EasilyHadMm : 1;

    /// <summary>The deficit in each hour, mm, in the forecast or in a run of it.</summary>
    public double[] DeficitIn(WeatherSeries series) => In(series).Deficit;

    /// <summary>The same over what is easily had.</summary>
    public double[] DeficitShareIn(WeatherSeries series) => In(series).Share;

    private (double[] Deficit, double[] Share) In(WeatherSeries series)
    {
        lock (_courses)
        {
            if (_courses.TryGetValue(series, out var known))
                return known;
            var (course, draws, dayOfHour) = CourseOf(series, Thirstiest);
            double[] share = [.. course.DepletionMm.Select((deficit, hour) => deficit / draws[dayOfHour[hour]].Zone.EasilyHadMm)];
            return _courses[series] = (course.DepletionMm, share);
        }
    }

    private WateringAdvice? AdviceAt(WeatherSeries series, int now, Drinker drinker)
    {
        double spread = drinker.SpreadOn(_season.Today), share = RainShare(spread);
        double over = Draw.UseOverReference;
        double[] use = [.. Daily(series[WeatherVariable.ReferenceEvapotranspiration], now, over)];
        if (use.Length == 0 || double.IsNaN(use[0]))
            return null;
        List<double[]> runs = [];
        if (share > 0)
        {
            runs.AddRange(_season.Weather.PlaceInRuns.Select(run => Useful(Daily(run.Weather.Series[WeatherVariable.Rain], now, share), use, over)));
            if (runs.Count == 0)
                runs.Add(Useful(Daily(series[WeatherVariable.Rain], now, share), use, over));
        }
        int lead = DaysToTheNextVisit();
        if (HeatAhead() is { } heat)
            (lead, HeatAheadC) = (Math.Max(lead, HeatDays), heat);
        double asked = 1 - DecisionRule.OfWatering(_season.Plan).LeastShare;
        // What was asked for this morning is not called off by a run or two of the noon's forecast.
        bool wasSaid = _season.LastSaid.Jobs.TryGetValue(new JobId(_season.Plan.GardenId, Bed.Id, Crops.JobKind.Water, Record.Time).ToString(), out var said)
            && said.Standing == Standing.Now && said.LastOn == _season.Today;
        double deficit = DeficitMm!.Value;
        var advice = WateringDecision.For(Draw.Zone, deficit, use, runs, lead, wasSaid ? Math.Min(1, asked + DecisionRule.ShareFlutter) : asked);
        // Rain that comes too late does not help today: enough for a day is given all the same.
        GiveMm = advice.Watering == Watering.Now ? Math.Max(advice.GiveMm, Math.Min(deficit, use[0])) : 0;
        DriesInADay = use[0] > Draw.Zone.EasilyHadMm;
        return advice;
    }

    /// <summary>A bed is level and loose, so what ponds on it sinks in; only what evaporates at once does not count.</summary>
    private static double[] Useful(double[] rain, double[] use, double over) =>
        [.. rain.Select((mm, day) => double.IsNaN(mm) || double.IsNaN(use[day]) || over <= 0 ? mm : Rain.EffectiveOfDay(mm, use[day] / over))];

    private double RainShare(double spread) => Bed.Over != Overhead.Open ? 0 : spread > 1 ? RainUnderLeaves : 1;

    /// <summary>Days of use from now until somebody is in the garden again on another day.</summary>
    private int DaysToTheNextVisit()
    {
        var slots = Presence.Slots(_season.Plan, _season.Weather.Calendar, _season.Today.PlusDays(1), DaysAhead);
        if (slots.IsEmpty)
            return DaysAhead - 1;
        var next = slots[0].From.InZone(_season.Weather.Calendar.Zone);
        // Who is there in the morning waters before that day has used anything.
        return Period.DaysBetween(_season.Today, next.Date) - (next.TimeOfDay < UsesFrom ? 1 : 0);
    }

    private static readonly LocalTime UsesFrom = new(9, 0);

    private double? HeatAhead() => Bed.IsIndoors || Bed.ContainerLitres is not null ? null
        : _season.Weather.Place.Highest(BedMeasure.Air, new(_season.AsOf, _season.AsOf + Duration.FromDays(HeatDays))) is { } high and >= HeatC
            && DeficitMm >= Draw.Zone.EasilyHadMm / 2 ? high : null;

    private static double[] Daily(ReadOnlySpan<double> hours, int now, double share)
    {
        double[] totals = new double[Math.Clamp((hours.Length - now - 1) / 24, 0, DaysAhead)];
        for (int hour = 0; hour < totals.Length * 24; hour++)
            totals[hour / 24] += Math.Max(0, hours[now + 1 + hour]) * share;
        return totals;
    }

    /// <summary>The course for one that stands there: before its time for whoever else did, else for bare soil.</summary>
    private (BedCourse Course, Draw[] Draws, int[] DayOfHour) CourseOf(WeatherSeries series, Drinker? drinker)
    {
        var rain = series[WeatherVariable.Rain];
        var reference = series[WeatherVariable.ReferenceEvapotranspiration];
        int[] dayOfHour = new int[series.Hours];
        // An hour belongs to the day in which it ends, midnight to the day before.
        int first = series.Hours == 0 ? 0 : DayOf(0);
        for (int hour = 0; hour < series.Hours; hour++)
            dayOfHour[hour] = DayOf(hour) - first;
        int days = series.Hours == 0 ? 0 : dayOfHour[^1] + 1;
        double[] rainOfDay = new double[days], referenceOfDay = new double[days];
        for (int hour = 0; hour < series.Hours; hour++)
        {
            rainOfDay[dayOfHour[hour]] += rain[hour];
            referenceOfDay[dayOfHour[hour]] += Math.Max(0, reference[hour]);
        }
        var draws = new Draw[days];
        double[] shares = new double[days];
        var bare = Draw.Bare(Drinker.SoilOf(Bed).TopSoil(), Drinker.UseShareOf(Bed) * (Bed.Mulch is Mulch.None or Mulch.BlackFilm or Mulch.ClearFilm ? 1 : UnderStraw));
        for (int day = 0; day < days; day++)
        {
            var date = LocalDays.DateOf(first + day);
            var there = drinker is not null && drinker.DrinksOn(date) ? drinker
                : _drinkers.Where(other => other.DrinksOn(date)).MaxBy(other => other.On(date, referenceOfDay[day]).UseOverReference);
            draws[day] = there?.On(date, referenceOfDay[day]) ?? (Bed.ContainerLitres is { } litres ? Draw.Of(Container.RootZone(litres), BarePot) : bare);
            // Less than a fifth of the day's ET0 evaporates where it falls (FAO-56 p. 170).
            shares[day] = rainOfDay[day] < 0.2 * referenceOfDay[day] ? 0 : RainShare(there?.SpreadOn(date) ?? 1);
        }
        var hours = new BedHour[series.Hours];
        for (int hour = 0; hour < hours.Length; hour++)
        {
            double share = shares[dayOfHour[hour]];
            hours[hour] = new(Bed.Over != Overhead.Open ? 0 : share == 0 && !double.IsNaN(rain[hour]) ? 0 : rain[hour] * share, 0, reference[hour]);
        }
        foreach (var water in Record.Given)
            Pour(series.FirstAtOrAfter(water.At), water.Mm ?? double.PositiveInfinity);
        if (drinker?.WateredInOn is { } setOut)
            Pour(series.FirstAtOrAfter(_season.Weather.Calendar.At(setOut, WateredInAt)), double.PositiveInfinity);
        return (BedCourse.Of(hours, draws, dayOfHour), draws, dayOfHour);

        int DayOf(int hour) => _days.DayAt(LocalDays.Seconds(series.StampOf(hour)) - 1);

        void Pour(int hour, double mm)
        {
            if (hour >= 0 && hour < hours.Length)
                hours[hour] = hours[hour] with { Watered = hours[hour].Watered + mm };
        }
    }

    private static readonly LocalTime WateredInAt = new(18, 0);
    // A pot without leaves dries from its surface only, after some days hardly at all (FAO-56 table 12, bare soil rarely wetted).
    private const double BarePot = 0.3;
    // FAO-56 ch. 10: evaporation is half where organic mulch covers all.
    private const double UnderStraw = 0.5;
}
