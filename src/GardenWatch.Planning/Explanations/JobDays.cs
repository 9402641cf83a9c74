using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Explanations;

/// <summary>
/// How the days were and will be for one job, in the hours that the agenda looks at: those in which the gardener is there,
/// or nightfall for a job of the night, or every hour of the day for what wind, hail and heat call for. Past days are judged by the weather as it came.
/// </summary>
internal sealed class JobDays
{
    public const int DaysBack = 14;
    public const int DaysAhead = 14;

    private static readonly Duration Hour = Duration.FromHours(1);
    // As the agenda takes it for a job that does not say how long it is.
    private static readonly Duration ShortestVisit = Duration.FromMinutes(10);

    private readonly Plan _plan;
    private readonly LocalCalendar _calendar;
    private readonly Wanted _wanted;
    private readonly Scene _scene;
    private readonly Instant _asOf;
    private readonly LocalDate _today;
    private readonly ImmutableArray<(ConditionRole Role, Condition Condition)> _conditions;

    public JobDays(Plan plan, LocalCalendar calendar, Wanted wanted, Scene scene, Instant asOf)
    {
        (_plan, _calendar, _wanted, _scene, _asOf) = (plan, calendar, wanted, scene, asOf);
        _today = calendar.DateOf(asOf);
        _conditions = [.. Explanation.RolesOf(wanted.Conditions)];
        IsOfTheNight = wanted.Id.Kind == JobKind.Cover;
        IsOfTheDay = wanted.Id.Kind is JobKind.Tie or JobKind.Shade || DangersTo.IsOfABed(wanted.Id.Kind);
        JudgedAt =
            IsOfTheNight ? Instant.Max(asOf, calendar.NightOf(_today).Start)
            // In the morning, "the next nights" are the coming ones, not the one that is just ending.
            : calendar.TonightAt(asOf) is var (date, night) && date < _today ? night.End : asOf;
    }

    public bool IsOfTheNight { get; }

    /// <inheritdoc cref="Explanation.IsOfTheDay"/>
    public bool IsOfTheDay { get; }

    private bool IsCalledFor => IsOfTheNight || IsOfTheDay;

    /// <summary>The instant for which the job is judged this morning.</summary>
    public Instant JudgedAt { get; }

    public ImmutableArray<ExplainedDay> All() =>
        [.. Enumerable.Range(-DaysBack, DaysBack + DaysAhead).Select(day => _today.PlusDays(day)).Where(_calendar.Exists).Select(Of)];

    private ExplainedDay Of(LocalDate date)
    {
        var slots = IsCalledFor ? [] : GreatHeat.Spared(
                WorkInLight.Of(Presence.Slots(_plan, _calendar, date, 1), _wanted.Id.Kind, _wanted.Bed, _calendar), _wanted.Bed, _scene.Weather, _asOf, AtLeast)
            .Where(slot => date != _today || slot.Until > _asOf)
            .Select(slot => date == _today ? slot with { From = Instant.Max(slot.From, _asOf) } : slot).ToImmutableArray();
        var hours = IsOfTheNight
            ? [date == _today ? JudgedAt : _calendar.NightOf(date).Start]
            : IsOfTheDay ? [.. HoursOf(WholeDay(date))]
            : slots.SelectMany(HoursOf).Distinct().ToImmutableArray();
        var windows = IsCalledFor ? [] : WindowsOf(date, slots);
        return new(
            date, date < _today, WholeOf(hours, windows), windows,
            [.. _conditions.Select(each => ConditionDayOf(each.Role, each.Condition, hours))]);
    }

    private Window WholeDay(LocalDate date) =>
        _calendar.DayOf(date) is var day ? new(date == _today ? Instant.Max(day.Start, _asOf) : day.Start, day.End) : default;

    /// <summary>The whole hours that a slot touches: each truth stands for the hour that begins there.</summary>
    private static IEnumerable<Instant> HoursOf(Window slot)
    {
        for (var hour = Whole(slot.From); hour < slot.Until; hour += Hour)
            yield return hour;
    }

    private ImmutableArray<Window> WindowsOf(LocalDate date, ImmutableArray<Window> slots)
    {
        if (slots.IsEmpty || SeasonEnded(HoursOf(slots[0]).First()))
            return [];
        if (_wanted.Conditions.AsksNothing)
            return [.. slots.Where(slot => slot.Until - slot.From >= AtLeast)];
        var first = Whole(slots[0].From);
        int hours = (int)Math.Ceiling((slots[^1].Until - first).TotalHours);
        var course = Evaluate.Course(_wanted.Conditions.Whole, first, hours, _scene);
        return Presence.Open(course.AsSpan(), first, slots, date == _today ? _asOf : first, AtLeast);
    }

    private Duration AtLeast => _wanted.Minutes is { } minutes ? Duration.FromMinutes(minutes) : ShortestVisit;

    private DayMark WholeOf(ImmutableArray<Instant> hours, ImmutableArray<Window> windows)
    {
        if (hours.IsEmpty)
            return DayMark.NobodyThere;
        if (!windows.IsEmpty)
            return DayMark.Held;
        if (SeasonEnded(hours[0]))
            return DayMark.Missed;
        var truths = hours.Select(hour => Evaluate.Holds(_wanted.Conditions.Whole, hour, _scene)).ToList();
        return IsCalledFor && truths.Contains(Truth.Yes) ? DayMark.Held
            : truths.Contains(Truth.Unknown) ? DayMark.Unknown
            : DayMark.Missed;
    }

    private bool SeasonEnded(Instant at) =>
        _wanted.Conditions.By.Any(end => Evaluate.Holds(end, at, _scene) == Truth.Yes);

    private ConditionDay ConditionDayOf(ConditionRole role, Condition condition, ImmutableArray<Instant> hours)
    {
        if (hours.IsEmpty)
            return new(DayMark.NobodyThere, null, null, null);
        ConditionDay? best = null;
        foreach (var hour in hours)
        {
            var verdict = Evaluate.At(condition, hour, _scene, lookAhead: false);
            var mark =
                verdict.Holds == Truth.Unknown ? DayMark.Unknown
                : verdict.Holds == Truth.Yes == (role == ConditionRole.When) ? DayMark.Held
                : DayMark.Missed;
            double? margin = role == ConditionRole.When ? verdict.Margin : -verdict.Margin;
            if (best is null || Rank(mark) > Rank(best.Mark) || mark == best.Mark && margin > best.Margin)
                best = new(mark, verdict.Value, margin, hour);
        }
        return best!;
    }

    /// <summary>One hour that suits is enough; an hour that can't be known might have been one.</summary>
    private static int Rank(DayMark mark) => mark switch { DayMark.Held => 2, DayMark.Unknown => 1, _ => 0 };

    private static Instant Whole(Instant instant) => Instant.FromUnixTimeSeconds((long)Math.Floor(instant.ToUnixTimeSeconds() / 3600.0) * 3600);
}
