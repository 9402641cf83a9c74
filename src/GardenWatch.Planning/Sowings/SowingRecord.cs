using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>The batches of a planting, from what the plan says and the journal tells; what the weather makes of them is not looked at.</summary>
public static class Sowings
{
    /// <summary>The batches that were begun or skipped, and the next one.</summary>
    public static ImmutableArray<Sowing> Of(Planting planting, Journal journal, LocalDate today)
    {
        var sowings = ImmutableArray.CreateBuilder<Sowing>();
        int most = planting.Sowings?.Batches ?? (planting.Sowings is null ? 1 : Succession.MostBatches);
        int known = Math.Min(SowingRecord.LastBatchIn(journal, planting), most);
        LocalDate? last = null;
        for (int batch = 1; batch <= most; batch++)
        {
            var sowing = SowingRecord.Of(planting, batch, journal, today);
            if (sowing.Stage == Stage.Planned && batch > 1)
                sowing = sowing with { NotBefore = last?.PlusDays(planting.Sowings!.EveryDays) };
            sowings.Add(sowing);
            if (sowing.Stage == Stage.Planned && batch >= known)
                break; // the next batch is counted from this one, so it is not known yet
            last = sowing.SownOn ?? sowing.SetOutOn ?? sowing.EndedOn ?? sowing.NotBefore ?? today;
        }
        return sowings.ToImmutable();
    }
}

/// <summary>One batch as the journal and the plan have it.</summary>
internal static class SowingRecord
{
    // Seed of most vegetables is through in one to two weeks in fair soil; what the plan says is up was sown before that.
    private const int SownBeforeUpFromDays = 7, SownBeforeUpToDays = 14;

    /// <summary>Jobs that only a plant above the ground can have.</summary>
    private static readonly JobKind[] ShowItUp = [JobKind.Thin, JobKind.PotOn, JobKind.EarthUp, JobKind.Stake, JobKind.Prune, JobKind.HardenOff];

    /// <summary>The highest batch that the journal speaks of; 0 when of none.</summary>
    public static int LastBatchIn(Journal journal, Planting planting) => Beginnings
        .SelectMany(kind => journal.Times(planting.Id, kind))
        .Select(BatchTime.BatchOf).DefaultIfEmpty(0).Max();

    private static readonly JobKind[] Beginnings = [JobKind.Sow, JobKind.StartIndoors, JobKind.SetOut];

    public static Sowing Of(Planting planting, int batch, Journal journal, LocalDate today)
    {
        var sown = journal.DoneOn(planting.Id, JobKind.Sow, batch) ?? journal.DoneOn(planting.Id, JobKind.StartIndoors, batch);
        var setOut = journal.DoneOn(planting.Id, JobKind.SetOut, batch);
        var by = Evidence.Seen;
        DateInterval? begun = null;
        var told = batch == 1 ? planting.OriginDate : null;
        bool growing = false;
        if (batch == 1 && sown is null && setOut is null)
            (sown, setOut, begun, growing, by) = FromPlan(planting, today);
        if (by == Evidence.Seen && (planting.Crop.Days?.Counted == CountedFrom.SettingOut ? setOut ?? sown : sown ?? setOut) is { } date)
            begun = new(date, date);

        var picked = PickedDays(planting, batch, journal).ToList();
        var up = First(ShowItUp.SelectMany(kind => Done(journal, planting, kind, batch)));
        var hardening = First(Done(journal, planting, JobKind.HardenOff, batch));
        var cleared = Last(Done(journal, planting, JobKind.Clear, batch));
        // Seed out of a ripe fruit ends nothing.
        var seed = planting.Crop.Seed?.OfRipeFruit == true ? null : Last(Done(journal, planting, JobKind.SaveSeed, batch));
        bool pickedAtOnce = planting.Crop.Picking?.Once == true;
        var harvested = pickedAtOnce ? Last(Done(journal, planting, JobKind.Harvest, batch)) : null;
        var skipped = Beginnings.Where(kind => journal.Skipped(planting.Id, kind, batch) && !(kind == JobKind.StartIndoors && sown is null && setOut is null && CanBeBought(planting)))
            .Select(kind => journal.SkippedOn(planting.Id, kind, batch)).Max();

        var stage =
            cleared is not null || harvested is not null ? Stage.Finished
            : seed is not null ? Stage.KeptForSeed
            : picked.Count > 0 ? Stage.Bearing
            : setOut is not null ? Stage.SetOut
            : skipped is not null ? Stage.Skipped
            : hardening is not null ? Stage.Hardening
            : up is not null ? Stage.Up
            : sown is not null ? Stage.Sown
            : growing ? Stage.Growing
            : Stage.Planned;
        return new Sowing
        {
            Planting = planting,
            Batch = batch,
            Stage = stage,
            By = stage is Stage.Sown or Stage.SetOut or Stage.Growing ? by : Evidence.Seen,
            SownOn = sown,
            UpOn = up ?? (growing && planting.OriginDate?.Middle is { } seenUp && seenUp <= today ? seenUp : null),
            PottedOn = Last(Done(journal, planting, JobKind.PotOn, batch)),
            HardeningSince = hardening,
            SetOutOn = setOut,
            BearingSince = First(picked),
            LastPickedOn = Last(picked),
            LastToldPickingOn = Last(journal.Picked(planting.Id).Where(each => each.Time is not { } time || BatchTime.BatchOf(time) == batch).Select(each => each.Date)),
            EndedOn = cleared ?? harvested ?? seed ?? (stage == Stage.Skipped ? skipped : null),
            IsCleared = cleared is not null,
            NotBefore = stage == Stage.Planned ? told?.From : null,
            Begun = begun,
        };
    }

    public static bool CanBeBought(Planting planting) => planting.StartBedId is not null;

    /// <summary>Dates on which a job of a batch was done, whichever time it was.</summary>
    public static IEnumerable<LocalDate> Done(Journal journal, Planting planting, JobKind kind, int batch) =>
        journal.Done(planting.Id, kind).Where(done => BatchTime.BatchOf(done.Time) == batch).Select(done => done.Date);

    /// <summary>
    /// A date of the plan that has passed is taken as done. What the plan says is sown, set out or growing without a date
    /// stands there since nobody knows when.
    /// </summary>
    private static (LocalDate? Sown, LocalDate? SetOut, DateInterval? Begun, bool Growing, Evidence By) FromPlan(Planting planting, LocalDate today)
    {
        var dates = planting.OriginDate;
        bool passed = dates is { } range && range.Middle <= today;
        DateInterval? told = passed ? new(dates!.Value.From, LocalDate.Max(dates.Value.From, LocalDate.Min(dates.Value.To, today))) : null;
        return planting.Origin switch
        {
            Origin.Sown when passed => (dates!.Value.Middle, null, told, false, Evidence.Told),
            Origin.SetOut when passed => (null, dates!.Value.Middle, told, false, Evidence.Told),
            Origin.SetOut or Origin.Sown when dates is null => (null, null, null, true, Evidence.Told),
            Origin.Growing => (null, null, told is null || planting.Crop.Days?.Counted == CountedFrom.SettingOut ? told : SownBefore(told), true, Evidence.Told),
            _ => (null, null, null, false, Evidence.Seen),
        };
    }

    private static DateInterval SownBefore(DateInterval up) => new(up.Start.PlusDays(-SownBeforeUpToDays), up.End.PlusDays(-SownBeforeUpFromDays));

    /// <summary>
    /// Harvests of the batch's own job, and pickings that name only the planting: those belong to the oldest batch that was
    /// begun by then and not cleared before.
    /// </summary>
    public static IEnumerable<LocalDate> PickedDays(Planting planting, int batch, Journal journal)
    {
        foreach (var date in Done(journal, planting, JobKind.Harvest, batch))
            yield return date;
        foreach (var (time, date) in journal.Picked(planting.Id))
            if ((time is { } own ? BatchTime.BatchOf(own) : BatchPickedOn(planting, journal, date)) == batch)
                yield return date;
    }

    private static int BatchPickedOn(Planting planting, Journal journal, LocalDate date)
    {
        for (int batch = 1; batch <= LastBatchIn(journal, planting); batch++)
        {
            var begun = journal.DoneOn(planting.Id, JobKind.Sow, batch) ?? journal.DoneOn(planting.Id, JobKind.StartIndoors, batch)
                ?? journal.DoneOn(planting.Id, JobKind.SetOut, batch);
            bool isBegun = begun <= date || begun is null && batch == 1 && planting.Origin != Origin.ToSow;
            bool over = Last(Done(journal, planting, JobKind.Clear, batch)) < date
                || begun is { } from && planting.Crop.Days is { } days && from.PlusDays(days.To + PickingDays.Of(planting.Crop)) < date;
            if (isBegun && !over)
                return batch;
        }
        return 1;
    }

    private static LocalDate? First(IEnumerable<LocalDate> dates) => dates.Select(date => (LocalDate?)date).Min();

    private static LocalDate? Last(IEnumerable<LocalDate> dates) => dates.Select(date => (LocalDate?)date).Max();
}

/// <summary>How long a crop is picked.</summary>
internal static class PickingDays
{
    // For crops whose profile does not say. Common practice: roots and heads stand three weeks, leaves and pods are picked six.
    private const int Usual = 30;

    /// <summary>From the first picking to the last, at the longest.</summary>
    public static int Of(CropProfile crop) => crop.Picking?.OverDays?.To ?? Usual;

    /// <summary>The same at the shortest.</summary>
    public static int AtLeast(CropProfile crop) => crop.Picking?.OverDays?.From ?? Usual / 2;
}
