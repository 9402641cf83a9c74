using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// The stretches of time in which a danger is looked for, and which of them can be left to the next digest. What is asked for
/// now is what comes before the gardener, after the next digest, has had time to do something about it; all else can wait for
/// that digest and is only announced. So heat tomorrow afternoon is no evening's warning, and a gale before dawn is.
/// </summary>
internal sealed class DangerHours
{
    public const int DaysAhead = 3;

    // From so long after sunrise the sun heats what is shut: common practice.
    private static readonly Duration SunBites = Duration.FromHours(2);
    // Shade is wanted from about two hours before the sun stands highest. Common practice ("from noon to five").
    private static readonly Duration BeforeNoon = Duration.FromHours(2);
    // Two hours before sunset the day's heat is over.
    private static readonly Duration DayCools = Duration.FromHours(2);
    // Of what is left of a hot day, less than this is not worth a walk.
    private static readonly Duration WorthAWalk = Duration.FromHours(2);
    private static readonly Duration QuickWork = Duration.FromMinutes(15);
    private static readonly LocalTime PolarMorning = new(9, 0), PolarEvening = new(18, 0);

    private readonly Plan _plan;
    private readonly LocalCalendar _calendar;
    private readonly Instant _asOf;
    private readonly LocalDate _today;

    public DangerHours(Plan plan, LocalCalendar calendar, Instant asOf)
    {
        (_plan, _calendar, _asOf) = (plan, calendar, asOf);
        _today = calendar.DateOf(asOf);
        LeftToDigestFrom = FirstChanceAfterDigest();
    }

    /// <summary>What begins from then on can be left to the next digest.</summary>
    public Instant LeftToDigestFrom { get; }

    /// <summary>Now until the next digest can be acted on, then day by day: for what may come at any hour.</summary>
    public ImmutableArray<Interval> Pieces()
    {
        var pieces = ImmutableArray.CreateBuilder<Interval>();
        pieces.Add(new(_asOf, LeftToDigestFrom));
        for (int day = 1; day < DaysAhead; day++)
            pieces.Add(new(pieces[^1].End, pieces[^1].End + Duration.FromDays(1)));
        return pieces.ToImmutable();
    }

    /// <summary>The hours of each coming day in which the sun heats what is shut, or burns what is bare.</summary>
    public ImmutableArray<Interval> Sunny(bool underGlass)
    {
        var days = ImmutableArray.CreateBuilder<Interval>();
        for (int day = 0; day <= DaysAhead; day++)
            if (SunnyOn(_today.PlusDays(day), underGlass) is { } hours && hours.End - _asOf >= WorthAWalk)
                days.Add(new(Instant.Max(hours.Start, _asOf), hours.End));
        return days.ToImmutable();
    }

    private Interval? SunnyOn(LocalDate date, bool underGlass)
    {
        var course = Sun.Course(_calendar.Place, date, _calendar.Zone);
        var (rise, set) = course is { Rise: { } up, Set: { } down } && up < down ? (up, down)
            : course.DayLength > Duration.FromHours(12) ? (_calendar.At(date, PolarMorning) - SunBites, _calendar.At(date, PolarEvening) + DayCools)
            : (Instant.MaxValue, Instant.MinValue);
        if (set <= rise)
            return null;
        var from = underGlass ? rise + SunBites : rise + (set - rise) / 2 - BeforeNoon;
        return set - DayCools > from ? new Interval(from, set - DayCools) : null;
    }

    private Instant FirstChanceAfterDigest()
    {
        // Who is told last can act last.
        var hour = _plan.Digest.To.Select(told => told.At ?? _plan.Digest.At).Append(_plan.Digest.At).Max();
        var date = _calendar.At(_today, hour) > _asOf ? _today : _today.PlusDays(1);
        var digest = _calendar.At(date, hour);
        var chances = Presence.Slots(_plan, _calendar, date, 2)
            .Where(slot => slot.Until - digest >= QuickWork)
            .Select(slot => Instant.Max(slot.From, digest) + QuickWork);
        // With no hour of the gardener's in sight a day's notice is given all the same.
        var latest = digest + Duration.FromDays(1);
        return chances.Append(latest).Min();
    }
}
