using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>When a job's conditions are usually met in a season, and when its season is usually over.</summary>
/// <param name="Opens">From an early year to a late one; null when past years do not tell.</param>
/// <param name="Closes">The last day of a middle year, by what the date alone decides: heat comes and goes. Null when nothing known ends it.</param>
/// <param name="Because">What ends it, as a clause; null when nothing does.</param>
internal sealed record UsualWindow(DateInterval? Opens, LocalDate? Closes, string? Because)
{
    public static UsualWindow Unknown { get; } = new(null, null, null);
}

/// <summary>What past years say of one growing year of a place, for a plan that looks far ahead.</summary>
/// <param name="climate">Null when past years are not known: then nothing is.</param>
internal sealed class UsualSeason(ClimateSummary? climate, LocalCalendar calendar, Speech speech)
{
    private const int Year = 365;
    // A crop of these classes is harmed by the first frosts, or stands so long after the usual first one. Common practice.
    private const int HardyStandsDays = 28, HalfHardyStandsDays = 7;

    private readonly Dictionary<(string, JobKind, int), UsualWindow> _windows = [];
    private readonly Moments _moments = Moments.None.With(climate);

    /// <summary>The day on which the growing year of a date began; no season of the place crosses it.</summary>
    public LocalDate StartOf(LocalDate date)
    {
        var start = climate?.SeasonStart ?? (calendar.Place.LatitudeDegrees < 0 ? new AnnualDate(7, 1) : new AnnualDate(1, 1));
        return date >= start.InYear(date.Year) ? start.InYear(date.Year) : start.InYear(date.Year - 1);
    }

    /// <summary>Midsummer of the growing year of a date, or the date itself where that has passed.</summary>
    public LocalDate MidsummerFrom(LocalDate date) => LocalDate.Max(date, StartOf(date).PlusMonths(6));

    /// <summary>The window of a planting's job in the growing year of a date.</summary>
    public UsualWindow WindowOf(Planting planting, JobTemplate job, BedWeather weather, LocalDate date)
    {
        var start = StartOf(date);
        if (climate is null)
            return UsualWindow.Unknown;
        if (_windows.TryGetValue((planting.Id, job.Kind, start.Year), out var known))
            return known;
        var scene = new Scene(weather, _moments, JobNumbers.InForce(JobNumbers.Of(planting, job)), speech);
        var likely = new LikelyDates(climate, start);
        var opening = job.Conditions.When.Select(condition => likely.Of(condition, scene)).OfType<DateInterval>().ToList();
        DateInterval? opens = opening.Count == 0 ? null : new(opening.Max(range => range.Start), opening.Max(range => range.End));
        var ends = job.Conditions.By
            .SelectMany(Evaluate.Phrases)
            .Where(phrase => phrase.Of.Measure == Measure.Days)
            .Select(phrase => EndBy(phrase, scene, opens?.Start ?? start))
            .OfType<(LocalDate Date, string Because)>()
            .Where(end => opens is null || end.Date >= opens.Start)
            .ToList();
        (LocalDate Date, string Because)? end = ends.Count == 0 ? null : ends.MinBy(each => each.Date);
        return _windows[(planting.Id, job.Kind, start.Year)] = new(opens, end?.Date, end?.Because);
    }

    /// <summary>The first day on which it is usually too warm for a crop's sowing; null when that never comes or is not said.</summary>
    public (LocalDate Date, string Because)? TooWarmFrom(Planting planting, JobTemplate job, BedWeather weather, LocalDate from)
    {
        if (climate is null)
            return null;
        var scene = new Scene(weather, _moments, JobNumbers.InForce(JobNumbers.Of(planting, job)), speech);
        var ends = job.Conditions.By.SelectMany(Evaluate.Phrases)
            .Where(phrase => phrase.Of.Measure is Measure.Air or Measure.Soil or Measure.Daylight && phrase.Comparison is Comparison.Above or Comparison.AtLeast)
            .Select(phrase => EndBy(phrase, scene, from)).OfType<(LocalDate, string)>().ToList();
        foreach (var limit in planting.Crop.Limits.Where(limit => limit.Upset is Upset.Bolting or Upset.Bitterness && limit.DaysAbove is not null))
            if (FirstDay(from, air => air.HighC > limit.DaysAbove!.Value.Celsius) is { } hot)
                ends.Add((hot, speech.Say("in the heat it runs to seed")));
        return ends.Count == 0 ? null : ends.MinBy(end => end.Item1);
    }

    /// <summary>The middle year's first frost from a date on; null under cover, and where most years have none.</summary>
    public LocalDate? MiddleFirstFrost(Bed bed, LocalDate from)
    {
        if (bed.IsIndoors || climate?.Frosts.FirstOrDefault(frost => !frost.OfLeaf && frost.ThresholdC == 0)?.FirstOfAutumn is not { } date
            || date.YearsWith * 2 < date.Years)
            return null;
        int season = date.SeasonOf(from);
        var first = date.DateIn(season, date.MiddleDay);
        return first < from ? date.DateIn(season + 1, date.MiddleDay) : first;
    }

    /// <summary>The last day by which a crop must be ready in the open: what its leaves bear of the usual first frosts.</summary>
    public LocalDate? LastReadyBy(CropProfile crop, Bed bed, LocalDate from)
    {
        int allowed = crop.Hardiness switch
        {
            Hardiness.Hardy => HardyStandsDays,
            Hardiness.HalfHardy => HalfHardyStandsDays,
            _ => 0,
        };
        return MiddleFirstFrost(bed, from.PlusDays(-allowed))?.PlusDays(allowed);
    }

    /// <summary>When the first frost usually takes what is tender: in nine years of ten between these days.</summary>
    public DateInterval? FirstFrost(LocalDate from)
    {
        if (climate?.Frosts.FirstOrDefault(frost => !frost.OfLeaf && frost.ThresholdC == 0) is not { } frost)
            return null;
        var date = frost.FirstOfAutumn;
        for (int season = date.SeasonOf(from); season <= date.SeasonOf(from) + 1; season++)
            if (date.DateIn(season, date.EarlyDay) is { } early && date.DateIn(season, date.LateDay) is { } late && late >= from)
                return new(early, late);
        return null;
    }

    private (LocalDate Date, string Because)? EndBy(Condition.Phrase phrase, Scene scene, LocalDate from)
    {
        var limit = phrase.Limit.Name is { } name
            ? Evaluate.Numbers(phrase, scene.Numbers).First(number => number.Name == name).InForce
            : phrase.Limit.Default;
        if (limit is not { Value: var needed })
            return null;
        bool rises = phrase.Comparison is Comparison.AtLeast or Comparison.Above;
        switch (phrase.Of.Measure)
        {
            case Measure.Days when phrase.Window.Kind == WindowKind.Until && !rises:
                return scene.Moments.DateOf(phrase.Window.Moment!, ahead: true, from, calendar)?.PlusDays(-(int)Math.Floor(needed)) is { } before
                    ? (before, speech.Say("too little of the season is left")) : null;
            case Measure.Days when phrase.Window.Kind != WindowKind.Until && rises:
                return phrase.Window.Moment is Moment.Of(Milestone.LastSpringFrost or Milestone.FirstAutumnFrost or Milestone.Midwinter)
                    && scene.Moments.DateOf(phrase.Window.Moment, ahead: false, from, calendar)?.PlusDays((int)Math.Ceiling(needed)) is { } after
                    ? (after, speech.Say("it is late for it")) : null;
            case Measure.Air when rises && phrase.Statistic is Statistic.Mean:
                return HotFrom(needed, from) is { } hot ? (hot, speech.Say("it is usually too warm")) : null;
            case Measure.Air when rises:
                return FirstDay(from, air => air.HighC > needed) is { } high ? (high, speech.Say("it is usually too warm")) : null;
            case Measure.Daylight when rises:
                return FirstLongDay(needed, from) is { } day ? (day, speech.Say("the days are too long")) : null;
            default:
                return null;
        }
    }

    /// <summary>The middle year's first week above a mean: as past years tell, between the thresholds on either side; else by the normals.</summary>
    private LocalDate? HotFrom(double meanC, LocalDate from)
    {
        var rows = climate!.HotWeeks.OrderBy(week => week.ThresholdC).ToList();
        int above = rows.FindIndex(week => week.ThresholdC >= meanC);
        if (above >= 0 && At(rows[above]) is { } high)
        {
            if (above == 0 || rows[above].ThresholdC == meanC)
                return rows[above].ThresholdC == meanC ? high : Earlier(FirstDay(from, air => air.MeanC > meanC), high);
            if (At(rows[above - 1]) is { } low)
                return low.PlusDays((int)(Period.DaysBetween(low, high) * (meanC - rows[above - 1].ThresholdC) / (rows[above].ThresholdC - rows[above - 1].ThresholdC)));
        }
        return FirstDay(from, air => air.MeanC > meanC);

        LocalDate? At(HotWeek week) => week.First.YearsWith * 2 >= week.First.Years && week.First.DateIn(week.First.SeasonOf(from), week.First.MiddleDay) is { } date && date >= from ? date : null;
    }

    private static LocalDate Earlier(LocalDate? a, LocalDate b) => a is { } date ? LocalDate.Min(date, b) : b;

    private LocalDate? FirstDay(LocalDate from, Func<NormalAir, bool> holds)
    {
        for (int day = 0; day < Year; day++)
            if (holds(climate!.AirOn(from.PlusDays(day))))
                return from.PlusDays(day);
        return null;
    }

    private LocalDate? FirstLongDay(double hours, LocalDate from)
    {
        for (int day = 0; day < Year; day++)
            if (Sun.Course(calendar.Place, from.PlusDays(day), calendar.Zone).DayLength.TotalHours > hours)
                return from.PlusDays(day);
        return null;
    }
}
