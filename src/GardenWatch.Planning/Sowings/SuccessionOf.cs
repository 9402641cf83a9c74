using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>
/// The batches of one planting, those to come as well: counted on from the last one by days or by warmth, counted back from
/// heat, frost and what follows in the bed. Who falls silent finds the list shorter, not piled up.
/// </summary>
internal sealed class SuccessionOf(Season season, Planting planting)
{
    /// <summary>Usual dates are those of a middle year: so long after them a batch may still be sown. Common practice.</summary>
    public const int GraceDays = 10;

    // Days shorten: what ripens into autumn takes two weeks longer (succession charts of seed trade and extension).
    private const int AutumnDays = 14, LongestAutumnDays = 60;
    // Looks at a morning and at an evening, when most gardeners are there.
    private static readonly LocalTime Morning = new(8, 0), Evening = new(18, 0);
    private const int ListedAhead = 12;
    private const int LongestGapDays = 90;

    private readonly JobTemplate? _beginning = Season.Beginning(planting);
    private readonly CropProfile _crop = planting.Crop;
    private readonly LocalDate _today = season.Today;
    private readonly Speech _speech = season.Weather.Speech;
    private int? _lastTold;

    public ImmutableArray<Sowing> Batches()
    {
        var batches = new List<Sowing>();
        var succession = planting.Sowings;
        int most = succession is null ? 1 : Math.Min(succession.Batches ?? Succession.MostBatches, Succession.MostBatches);
        int known = Math.Max(1, SowingRecord.LastBatchIn(season.Journal, planting));
        var last = LastUseful();
        DateInterval? next = null;
        int ahead = 0;
        for (int batch = 1; batch <= Math.Max(most, known) && ahead < ListedAhead; batch++)
        {
            var sowing = SowingRecord.Of(planting, batch, season.Journal, _today);
            if (sowing.Stage == Stage.Planned)
            {
                sowing = batch < known ? Superseded(sowing, known) : Planned(sowing, next, batch == most, last, ahead == 0);
                if (batch > 1 && sowing.Stage == Stage.Dropped && sowing.EndedOn is null)
                {
                    // Not worth sowing any more: the one before was the last. With a number of batches the rest is told as dropped.
                    MarkLast(batches, sowing.Because);
                    if (succession!.Batches is null)
                        break;
                    sowing = sowing with { EndedOn = LocalDate.Max(planting.FirstSeen ?? _today, LocalDate.Min(_today, last!.Value.Date)) };
                }
                ahead += sowing.Stage == Stage.Planned ? 1 : 0;
            }
            else
                sowing = Expectations.Of(season, sowing);
            batches.Add(sowing);
            if (succession is null)
                break;
            next = NextAfter(sowing) ?? next;
        }
        return [.. batches];
    }

    private static void MarkLast(List<Sowing> batches, string? because)
    {
        int last = batches.FindLastIndex(batch => batch.Stage != Stage.Dropped);
        if (last >= 0 && !batches[last].IsLast)
            batches[last] = batches[last] with { IsLast = true, Because = batches[last].Because ?? because };
    }

    private Sowing Superseded(Sowing sowing, int known)
    {
        // The first that was begun after it, so that what was said of it stays so when further ones follow.
        var later = Enumerable.Range(sowing.Batch + 1, known - sowing.Batch).Select(batch => SowingRecord.Of(planting, batch, season.Journal, _today)).ToList();
        var instead = later.Find(batch => batch.Stage != Stage.Planned) ?? later[^1];
        return sowing with
        {
            Stage = Stage.Dropped, By = Evidence.Expected, EndedOn = instead.SownOn ?? instead.SetOutOn ?? instead.EndedOn ?? _today,
            Because = _speech.Say($"batch {instead.Batch} was sown in its place"),
        };
    }

    private Sowing Planned(Sowing sowing, DateInterval? next, bool isLastAsked, (LocalDate Date, string Because)? last, bool isNext)
    {
        var (notBefore, window) = Opening(sowing, next?.Start);
        var likely = Likely(notBefore, next?.End, window);
        sowing = sowing with { NotBefore = notBefore, SowLikely = likely };
        var earliest = LocalDate.Max(likely?.Start ?? notBefore ?? _today, _today);
        if (sowing.Batch > 1 && last is var (date, because) && (notBefore ?? earliest) > date)
            return sowing with { Stage = Stage.Dropped, By = Evidence.Expected, Because = because };
        bool HasNext(LocalDate sown) => !isLastAsked && !(last is { } end && sown.PlusDays(planting.Sowings!.EveryDays) > end.Date);
        bool another = HasNext(earliest);
        if (isNext && planting.Sowings is { } succession && OfferedUntil(sowing, notBefore, succession.EveryDays) is { } until
            && (until <= _today || sowing.Batch < LastToldBatch()) && HasNext(until.PlusDays(-succession.EveryDays)))
            return sowing with
            {
                Stage = Stage.Dropped, By = Evidence.Expected, EndedOn = until,
                Because = _speech.Say($"not sown in its {_speech.Counted(succession.EveryDays, "day")}; batch {sowing.Batch + 1} takes its place"),
            };
        if (isNext && TooLate(sowing, window, last) is var (over, why))
            return sowing with { Stage = Stage.Missed, By = Evidence.Expected, EndedOn = over, Because = why };
        if (sowing.Batch > 1 && !another && !isLastAsked && last is { } final)
            sowing = sowing with { IsLast = true, Because = final.Because };
        var begun = planting.IsSetOut && planting.StartBedId is not null ? Expectations.SetOutLikely(season, planting, null) : likely;
        sowing = sowing with { SetOutLikely = planting.IsSetOut ? begun : null };
        return Expectations.Harvest(season, sowing, planting.IsSetOut && _crop.Days?.Counted != CountedFrom.SettingOut ? likely : begun);
    }

    /// <summary>Not before the plan's date, nor the last batch's successor, nor the growing year in which it can still be sown.</summary>
    private (LocalDate? NotBefore, UsualWindow Window) Opening(Sowing sowing, LocalDate? next)
    {
        var from = planting.FirstSeen ?? _today;
        var window = season.BeginningWindow(planting, from);
        var notBefore = next ?? sowing.NotBefore;
        if (sowing.Batch == 1 && planting.OriginDate is null && EndOf(window, from) < from)
        {
            var newYear = season.Usual.StartOf(from).PlusYears(1);
            window = season.BeginningWindow(planting, newYear);
            notBefore = newYear;
        }
        return (notBefore, window);
    }

    private LocalDate? EndOf(UsualWindow window, LocalDate from) =>
        window.Closes is { } closes ? closes
        : planting.StartBedId is not null ? null
        : LastBeforeFrost(from) is { Last: var last } ? last
        : _crop.Days is { } days && season.Usual.LastReadyBy(_crop, season.Plan.BedOf(planting.BedId), from) is { } ready ? ready.PlusDays(-days.From)
        : null;

    /// <summary>The last sowing in the open where growers count it from the usual first frost; null where the days to maturity tell it.</summary>
    private (LocalDate Last, int Days, LocalDate Frost)? LastBeforeFrost(LocalDate from) =>
        _crop.Successions?.LastBeforeFrostDays is { } before && season.Usual.MiddleFirstFrost(season.Plan.BedOf(planting.BedId), from) is { } frost
            ? (frost.PlusDays(-before), before, frost)
            : null;

    /// <summary>As usual for the place and not earlier than it may be; from the forecast's side it can only be later.</summary>
    private DateInterval? Likely(LocalDate? notBefore, LocalDate? atLatest, UsualWindow window)
    {
        var free = season.Taken(planting)?.Free;
        var floor = LocalDate.Max(_today, notBefore ?? _today);
        var start = window.Opens is { } opens ? LocalDate.Max(opens.Start, floor) : notBefore;
        var end = window.Opens is { } opensBy ? LocalDate.Max(opensBy.End, floor) : notBefore;
        if (atLatest is { } latest)
            end = end is null ? latest : LocalDate.Max(end.Value, latest);
        if (planting.StartBedId is not null && _beginning?.Kind == JobKind.StartIndoors && season.Indoors(planting) is { } counted)
            (start, end) = (LocalDate.Max(counted.Start, floor), LocalDate.Max(counted.End, floor));
        else if (free is not null && planting.StartBedId is null)
            (start, end) = (LocalDate.Max(start ?? free.Start, free.Start), LocalDate.Max(end ?? free.End, Sowing.Middle(free)));
        if (season.NewGround(planting.BedId)?.Ready is { } ready && planting.StartBedId is null)
            (start, end) = (LocalDate.Max(start ?? ready.Start, ready.Start), LocalDate.Max(end ?? ready.End, ready.End));
        return start is { } a && end is { } b ? new(a, LocalDate.Max(a, b)) : null;
    }

    /// <summary>
    /// The day on which the next batch takes its place. Once the next one was told, that stays so: what the weather was then may
    /// be forgotten.
    /// </summary>
    private LocalDate? OfferedUntil(Sowing sowing, LocalDate? notBefore, int everyDays) =>
        sowing.Batch < LastToldBatch() && Told(sowing.Batch + 1) is { } told ? told : OfferedOn(notBefore)?.PlusDays(everyDays);

    /// <summary>The highest batch whose beginning a message has asked for, or will ask for next; 0 for none.</summary>
    private int LastToldBatch() => _lastTold ??= FindLastToldBatch();

    private int FindLastToldBatch()
    {
        int last = 0;
        for (int batch = 1; batch <= (planting.Sowings?.Batches ?? Succession.MostBatches); batch++)
            if (Told(batch) is not null)
                last = batch;
        return last;
    }

    private LocalDate? Told(int batch) => _beginning is not null
        && season.LastSaid.Jobs.TryGetValue(new JobId(season.Plan.GardenId, planting.Id, _beginning.Kind, batch).ToString(), out var said) ? said.FirstOn : null;

    /// <summary>
    /// The first day on which it could be sown by its conditions, from the day on which it was wanted; null while there was
    /// none. Where the weather of a day is not known any more, the place's usual window stands for it.
    /// </summary>
    private LocalDate? OfferedOn(LocalDate? notBefore)
    {
        var from = notBefore ?? planting.FirstSeen ?? _today;
        if (season.Journal.PutOffUntil(planting.Id, _beginning?.Kind ?? JobKind.Sow, SowingRecord.LastBatchIn(season.Journal, planting) + 1) is { } later && later > from)
            from = later;
        if (season.Taken(planting) is { } taken && season.MustWait(planting, taken))
            return null;
        var scene = _beginning is null ? null : SceneOf(_beginning);
        var opens = season.BeginningWindow(planting, from).Opens?.End;
        for (var date = from; date < _today; date = date.PlusDays(1))
            if (scene is null || IsFit(scene, date) is var fit && (fit == Truth.Yes || fit == Truth.Unknown && date >= opens))
                return date;
        return null;
    }

    private Scene SceneOf(JobTemplate job) => new(
        season.Weather.BedOf(season.Plan.BedOf(planting.StartBedId ?? planting.BedId)).Weather,
        Moments.None.With(season.Weather.Climate), JobNumbers.InForce(JobNumbers.Of(planting, job)), season.Weather.Speech);

    private Truth IsFit(Scene scene, LocalDate date)
    {
        var conditions = _beginning!.Conditions;
        var best = Truth.No;
        foreach (var time in new[] { Morning, Evening })
        {
            var at = season.Weather.Calendar.At(date, time);
            if (conditions.By.Any(end => Evaluate.Holds(end, at, scene) == Truth.Yes))
                continue;
            var holds = Evaluate.Holds(conditions.Whole, at, scene);
            if (holds == Truth.Yes)
                return Truth.Yes;
            best = holds == Truth.Unknown ? Truth.Unknown : best;
        }
        return best;
    }

    /// <summary>When the next batch is due: not before the start, and by the end if this one is as late as it may be.</summary>
    private DateInterval? NextAfter(Sowing sowing)
    {
        if (planting.Sowings is not { } succession)
            return null;
        if (sowing.Stage == Stage.Dropped)
            return sowing.EndedOn is { } ended ? new(ended, ended) : null;
        var date = sowing.SownOn ?? sowing.SetOutOn ?? (sowing.Stage == Stage.Skipped ? sowing.EndedOn : null)
            ?? sowing.Begun?.Start ?? sowing.SowLikely?.Start ?? sowing.NotBefore ?? _today;
        if (sowing.Stage != Stage.Planned)
            return After(date) is var due ? new(due, due) : null;
        var from = LocalDate.Max(date, _today);
        var until = sowing.SowLikely is { } likely ? LocalDate.Max(likely.End, from) : from;
        return After(from) is var start && After(until) is var end ? new(start, LocalDate.Max(start, end)) : null;

        LocalDate After(LocalDate sown) =>
            sown.PlusDays(succession.ForEvenHarvests ? EvenGap(sown, succession.EveryDays) : succession.EveryDays);
    }

    /// <summary>So long that the next harvest comes the wanted days after this one: warmth decides when.</summary>
    private int EvenGap(LocalDate sown, int everyDays)
    {
        if (season.WarmthOf(planting) is not { } warmth || WarmthToHarvest(warmth, sown) is not { } needed
            || Ripe(sown) is not { } ripe)
            return everyDays;
        for (int gap = 1; gap < LongestGapDays; gap++)
            if (Ripe(sown.PlusDays(gap)) is not { } then || then >= ripe.PlusDays(everyDays))
                return gap;
        return everyDays;

        LocalDate? Ripe(LocalDate from) => warmth.Reached(new(from, from), (needed, needed))?.Start;
    }

    /// <summary>As the profile has it; else what the packet's days usually bring from the middle of the warm season on.</summary>
    private double? WarmthToHarvest(WarmthCourse warmth, LocalDate sown)
    {
        if (_crop.Warmth?.HarvestCd is var (from, to))
            return (from + to) / 2;
        if (_crop.Days is not { } days)
            return null;
        var middle = season.Usual.StartOf(sown).PlusDays(MidSeasonDay);
        return warmth.Sum(middle, (days.From + days.To) / 2);
    }

    // Packets speak of fair growing weather: late spring. Common practice.
    private const int MidSeasonDay = 135;

    /// <summary>The last day on which one more batch is worth sowing, and what ends it.</summary>
    private (LocalDate Date, string Because)? LastUseful()
    {
        var from = planting.FirstSeen ?? _today;
        if (planting.OriginDate is { } told)
            from = LocalDate.Max(from, told.From);
        if (EndOf(season.BeginningWindow(planting, from), from) < from && planting.OriginDate is null)
            from = season.Usual.StartOf(from).PlusYears(1);
        int days = _crop.Days?.From ?? 0;
        var bed = season.Plan.BedOf(planting.BedId);
        var ends = new List<(LocalDate Date, string Because)>();
        if (season.BeginningWindow(planting, from) is { Closes: { } closes, Because: { } because })
            ends.Add((closes, because));
        if (planting.Sowings is { UntilTooWarm: true } && _beginning is not null
            && season.Usual.TooWarmFrom(planting, _beginning, season.Weather.BedOf(bed).Weather, from) is var (hot, why))
            ends.Add((hot.PlusDays(-days), _speech.Say($"{why} from about {_speech.Date(hot)} on")));
        if (LastBeforeFrost(from) is var (last, before, frost))
            ends.Add((last, _speech.Say($"{_speech.Counted(before / 7, "week")} before the usual first frost (about {_speech.Date(frost)}) its last sowing is made")));
        else if (_crop.Days is not null && season.Usual.LastReadyBy(_crop, bed, from) is { } ready)
        {
            int more = AutumnDays;
            while (more < LongestAutumnDays && PacketDays.Counted(season, planting, ready.PlusDays(-days - more), days) > ready)
                more++;
            ends.Add((ready.PlusDays(-days - more),
                _speech.Say($"a later one would not be ready by about {_speech.Date(ready)}, in its {_speech.Counted(days, "day")} and {more} more as days shorten")));
        }
        foreach (var follower in season.Followers(planting))
            if (season.WindowOf(follower, Season.TakesTheBed(follower), from).Opens is { } wanted && wanted.End >= from)
                ends.Add((Sowing.Middle(wanted).PlusDays(-MiddleDays), _speech.Say($"the {_speech.Word(follower.Crop.Plants)} want the bed about {_speech.Dates(wanted.Start, wanted.End)}")));
        return ends.Count == 0 ? null : ends.MinBy(end => end.Date);
    }

    private int MiddleDays => _crop.Days is { } days ? (days.From + days.To) / 2 : 0;

    /// <summary>Young plants can be bought until their bed's own season is over.</summary>
    private (LocalDate Date, string Because)? LastSetOut(LocalDate from)
    {
        var begin = from == LocalDate.MinIsoValue ? _today : from;
        var window = season.WindowOf(planting, Season.TakesTheBed(planting), begin);
        return window.Closes is { } closes ? (closes, window.Because!) : (season.Usual.StartOf(begin).PlusYears(1), _speech.Say("its year is over"));
    }

    /// <summary>The day since which a batch that was not begun is too late, and why; null while it is not.</summary>
    private (LocalDate Over, string Because)? TooLate(Sowing sowing, UsualWindow window, (LocalDate Date, string Because)? last)
    {
        var from = LocalDate.Max(sowing.NotBefore ?? LocalDate.MinIsoValue, planting.FirstSeen ?? LocalDate.MinIsoValue);
        (LocalDate Date, string Because)? end =
            planting.Sowings is not null && sowing.Batch > 1 && last is { } useful ? useful
            : Season.IsRaised(planting) ? LastSetOut(from)
            : window.Closes is { } closes ? (closes, window.Because!)
            : EndOf(window, from == LocalDate.MinIsoValue ? _today : from) is { } ready ? (ready, _speech.Say("sown later it would come to nothing before the frosts"))
            : planting.FirstSeen is { } seen ? (season.Usual.StartOf(LocalDate.Max(seen, sowing.NotBefore ?? seen)).PlusYears(1), _speech.Say("its year is over"))
            : null;
        return end is var (date, because) && date.PlusDays(GraceDays) < _today && date.PlusDays(GraceDays) >= from ? (date.PlusDays(GraceDays), because) : null;
    }
}
