using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// When the milestones that phrases count from were, are or usually are. One that is absent is unknown. A milestone
/// known by its date alone begins with its day.
/// </summary>
public sealed class Moments
{
    private readonly ImmutableDictionary<Milestone, (LocalDate? Date, Instant? Instant)> _known;
    private readonly AnnualDate? _lastSpringFrost;
    private readonly AnnualDate? _firstAutumnFrost;
    private ImmutableDictionary<Milestone, Milestone> _standIns = ImmutableDictionary<Milestone, Milestone>.Empty;

    private Moments(
        ImmutableDictionary<Milestone, (LocalDate?, Instant?)> known, AnnualDate? lastSpringFrost, AnnualDate? firstAutumnFrost, bool isFrostless) =>
        (_known, _lastSpringFrost, _firstAutumnFrost, IsFrostless) = (known, lastSpringFrost, firstAutumnFrost, isFrostless);

    private Moments(
        Moments other, ImmutableDictionary<Milestone, (LocalDate?, Instant?)> known) : this(known, other._lastSpringFrost, other._firstAutumnFrost, other.IsFrostless) =>
        _standIns = other._standIns;

    /// <summary>
    /// Frost is not usual here: the last of spring counts as long past, the first of autumn as never near.
    /// </summary>
    public bool IsFrostless { get; }

    public static Moments None { get; } = new(ImmutableDictionary<Milestone, (LocalDate?, Instant?)>.Empty, null, null, false);

    public Moments With(Milestone milestone, LocalDate date) => new(this, _known.SetItem(milestone, (date, null)));

    public Moments With(Milestone milestone, Instant instant) => new(this, _known.SetItem(milestone, (null, instant)));

    /// <summary>What never comes for a planting is counted from another milestone, and is called by its name: what is sown in its bed is never set out.</summary>
    public Moments WithStandIn(Milestone milestone, Milestone standIn) => new(this, _known) { _standIns = _standIns.SetItem(milestone, standIn) };

    /// <inheritdoc cref="WithStandIn"/>
    public Moment MeantBy(Moment moment) => moment is Moment.Of(var milestone) && _standIns.TryGetValue(milestone, out var standIn) ? new Moment.Of(standIn) : moment;

    /// <summary>
    /// The place's usual frosts, null where there is none. Which year's is meant follows the growing year, in either
    /// hemisphere: after the first autumn frost has passed, the spring frost is the next spring's; the autumn frost stays
    /// the past one until halfway to the spring frost. With only one of the two known, the nearer in time is meant.
    /// </summary>
    public Moments WithUsualFrosts(AnnualDate? lastSpringFrost, AnnualDate? firstAutumnFrost) =>
        new(_known, lastSpringFrost, firstAutumnFrost, false) { _standIns = _standIns };

    /// <inheritdoc cref="IsFrostless"/>
    public Moments WithoutFrosts() => new(_known, null, null, true) { _standIns = _standIns };

    /// <summary>The local date of a moment as meant on a date; null when not known.</summary>
    public LocalDate? DateOf(Moment moment, bool ahead, LocalDate today, LocalCalendar calendar) => MeantBy(moment) switch
    {
        Moment.OnDate(var date) => date,
        Moment.EachYear(var date) => ahead ? NextAtOrAfter(date, today) : LastAtOrBefore(date, today),
        Moment.Of(var milestone) when _known.TryGetValue(milestone, out var known) =>
            known.Date ?? calendar.DateOf(known.Instant!.Value),
        Moment.Of(Milestone.LastSpringFrost) => SpringFrost(today),
        Moment.Of(Milestone.FirstAutumnFrost) => AutumnFrost(today),
        Moment.Of(Milestone.Midwinter) => DateOf(new Moment.EachYear(MidwinterOf(calendar)), ahead, today, calendar),
        _ => null,
    };

    /// <summary>When a moment began.</summary>
    public Instant? StartOf(Moment moment, LocalDate today, LocalCalendar calendar) =>
        MeantBy(moment) is Moment.Of(var milestone) && _known.TryGetValue(milestone, out var known) && known.Instant is { } instant
            ? instant
            : DateOf(moment, ahead: false, today, calendar) is { } date ? calendar.StartOf(date) : null;

    /// <summary>The day before which no warmth counts, in either hemisphere: 21 December or 21 June.</summary>
    private static AnnualDate MidwinterOf(LocalCalendar calendar) =>
        calendar.Place.LatitudeDegrees < 0 ? new(6, 21) : new(12, 21);

    private LocalDate? SpringFrost(LocalDate today)
    {
        if (_lastSpringFrost is not { } spring)
            return null;
        return _firstAutumnFrost is { } autumn
            ? NextAtOrAfter(spring, LastAtOrBefore(autumn, today.PlusDays(-1)))
            : Nearest(spring, today);
    }

    private LocalDate? AutumnFrost(LocalDate today)
    {
        if (_firstAutumnFrost is not { } autumn)
            return null;
        if (_lastSpringFrost is not { } spring)
            return Nearest(autumn, today);
        var past = LastAtOrBefore(autumn, today);
        int winter = Period.DaysBetween(past, NextAtOrAfter(spring, past));
        return today < past.PlusDays(winter / 2) ? past : NextAtOrAfter(autumn, today);
    }

    private static LocalDate LastAtOrBefore(AnnualDate date, LocalDate today)
    {
        var thisYear = date.InYear(today.Year);
        return thisYear <= today ? thisYear : date.InYear(today.Year - 1);
    }

    private static LocalDate NextAtOrAfter(AnnualDate date, LocalDate today)
    {
        var thisYear = date.InYear(today.Year);
        return thisYear >= today ? thisYear : date.InYear(today.Year + 1);
    }

    private static LocalDate Nearest(AnnualDate date, LocalDate today)
    {
        var (past, next) = (LastAtOrBefore(date, today), NextAtOrAfter(date, today));
        return Period.DaysBetween(past, today) < Period.DaysBetween(today, next) ? past : next;
    }
}
