using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>One batch of a planting and how far it is: by the record, else by the plan, else as expected.</summary>
public sealed record Sowing
{
    /// <summary>What it is a batch of.</summary>
    public required Planting Planting { get; init; }
    /// <summary>Counted from one.</summary>
    public required int Batch { get; init; }
    public required Stage Stage { get; init; }
    /// <summary>By what <see cref="Stage"/> is known.</summary>
    public Evidence By { get; init; } = Evidence.Seen;
    /// <summary>Null when not sown, or when nobody knows.</summary>
    public LocalDate? SownOn { get; init; }
    /// <summary>The first day on which the record shows it above the ground; null when it shows none.</summary>
    public LocalDate? UpOn { get; init; }
    public LocalDate? PottedOn { get; init; }
    /// <summary>The first day outdoors, by the record.</summary>
    public LocalDate? HardeningSince { get; init; }
    /// <summary>Null when not set out, or when nobody knows.</summary>
    public LocalDate? SetOutOn { get; init; }
    /// <summary>The first picking, by the record; of what bears each year, that year's.</summary>
    public LocalDate? BearingSince { get; init; }
    /// <summary>The last picking, by the record.</summary>
    public LocalDate? LastPickedOn { get; init; }
    /// <summary>The last picking that the gardener told of, beyond saying that what was asked for is done.</summary>
    public LocalDate? LastToldPickingOn { get; init; }
    /// <summary>Cleared, or out of the plan of the season since.</summary>
    public LocalDate? EndedOn { get; init; }
    /// <summary>The bed was cleared of it, by the record.</summary>
    public bool IsCleared { get; init; }
    /// <summary>The first date on which a planned batch is wanted; null for at once.</summary>
    public LocalDate? NotBefore { get; init; }
    /// <summary>When it began to gather warmth towards harvest, as far as the plan tells; null when it is not begun or nothing is told.</summary>
    public DateInterval? Begun { get; init; }

    /// <summary>Of a planned batch: when it will likely be sown, or set out if it is bought.</summary>
    public DateInterval? SowLikely { get; init; }
    /// <summary>When it comes up, or has come up unseen, by the warmth of its soil; null when not known or long past.</summary>
    public DateInterval? UpLikely { get; init; }
    /// <summary>Sown, and its soil gets hotter than its seed bears; null else.</summary>
    public (double HighC, double LimitC)? TooHotToComeUp { get; init; }
    /// <summary>Of a batch raised elsewhere: when its bed will likely be fit for it.</summary>
    public DateInterval? SetOutLikely { get; init; }
    /// <summary>First pickings by warmth.</summary>
    public DateInterval? BearingByWarmth { get; init; }
    /// <summary>First pickings by the packet's days.</summary>
    public DateInterval? BearingByPacket { get; init; }
    /// <summary>First pickings of this year by those of earlier years; of what stays and whose warmth is not told.</summary>
    public DateInterval? BearingByRecord { get; init; }
    /// <summary>Of what stays for years: the beginning of the growing year whose picking is dated; null where it can't be.</summary>
    public LocalDate? BearingYear { get; init; }
    /// <summary>The last day of that year's picking weeks, as reckoned; then it rests.</summary>
    public LocalDate? PickedUntil { get; init; }
    /// <summary>When its last picking is expected, and the bed with it free.</summary>
    public DateInterval? OverLikely { get; init; }
    /// <summary>From when on it is too cold for a tender crop to bring anything more; null where that does not come.</summary>
    public LocalDate? StandsStillFrom { get; init; }
    /// <summary>It ends as it gets too cold for a tender crop to grow, before its frost.</summary>
    public bool IsEndedByCold { get; init; }
    /// <summary>It is the last of its planting that is worth sowing, though the plan would have more.</summary>
    public bool IsLast { get; init; }
    /// <summary>Why it is over unsown, or last, as a sentence without its name; null when there is nothing to say.</summary>
    public string? Because { get; init; }

    // A seedling may stand above the ground unseen; a frost is worth a warning from then on. Common practice:
    // quick crops are through in about a week.
    private const int PerhapsUpAfterDays = 7;

    // Nobody saw the end of a crop that is only reckoned over: fruit may hang on, and the first frost would take it.
    private const int PerhapsStillThereDays = 45;
    // Who was told that nothing more will ripen has picked it within a week. Common practice.
    private const int PickedInTheColdDays = 7;
    // Stems dry where they stand for some weeks. Common practice.
    private const int SeedStandsDays = 21;

    // What stood there when the plan was written has had the care of its first weeks, and perennials that of their first year.
    private const int StoodForDays = 45, StoodForYearsDays = 400;

    /// <summary>Since when it stands, where neither the record nor the plan has a date: as reckoned, else some weeks before the plan was written.</summary>
    internal LocalDate? StandsSince => Stage is not (Stage.Growing or Stage.Bearing) || (SownOn ?? UpOn ?? SetOutOn) is not null ? null
        : Planting.Crop.Habit?.Life == PlantLife.Perennial ? Planting.FirstSeen?.PlusDays(-StoodForYearsDays)
        : Begun?.Start ?? Planting.FirstSeen?.PlusDays(-StoodForDays);

    private bool IsTender => Planting.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender;

    public string Id => $"{Planting.Id}.{Batch}";

    /// <summary>Raised in one bed and set out into another, bought as plants, or of a crop that is not sown in place.</summary>
    public bool IsSetOut => Planting.IsSetOut;

    // Two estimates of one harvest that are this far apart are both told, and neither is trusted alone.
    private const int DisagreeDays = 10;

    /// <summary>First pickings: by warmth where that is known, else by the packet; from the earlier to the later where they disagree.</summary>
    public DateInterval? BearingLikely =>
        EstimatesDisagree ? new(LocalDate.Min(BearingByWarmth!.Start, BearingByPacket!.Start), LocalDate.Max(BearingByWarmth.End, BearingByPacket.End))
        : BearingByWarmth ?? BearingByRecord ?? BearingByPacket;

    /// <summary>
    /// From when it is asked to be picked. What is taken up whole can't be put back, so both reckonings must have it ripe.
    /// </summary>
    public LocalDate? PickedFrom => BearingSince
        ?? (Planting.Crop.Picking?.Once == true && BearingByWarmth is { } warmth && BearingByPacket is { } packet ? LocalDate.Max(warmth.Start, packet.Start) : BearingLikely?.Start);

    /// <summary>Warmth and packet are more than ten days apart, by the middles of their ranges.</summary>
    public bool EstimatesDisagree => BearingByWarmth is { } warmth && BearingByPacket is { } packet
        && Math.Abs(Period.DaysBetween(Middle(warmth), Middle(packet))) > DisagreeDays;

    internal static LocalDate Middle(DateInterval range) => range.Start.PlusDays(range.Length / 2);

    /// <summary>Until when it is left standing for its seed; null when none is saved of it.</summary>
    public LocalDate? SeedRipeOn => Stage == Stage.KeptForSeed ? EndedOn?.PlusDays(SeedStandsDays) : null;

    /// <summary>Leaves stand in the planting's own bed on a date, or may do so.</summary>
    public bool StandsInItsBed(LocalDate date) => Stage switch
    {
        Stage.SetOut or Stage.Growing or Stage.Bearing => true,
        Stage.KeptForSeed => SeedRipeOn >= date,
        Stage.Finished => By == Evidence.Expected && IsTender && EndedOn?.PlusDays(IsEndedByCold ? PickedInTheColdDays : PerhapsStillThereDays) >= date,
        Stage.Up => !IsSetOut,
        Stage.Sown => !IsSetOut && SownOn is { } sown && Period.DaysBetween(sown, date) >= PerhapsUpAfterDays,
        _ => false,
    };

    /// <summary>Leaves stand in the bed in which it is raised, or may do so.</summary>
    public bool StandsInItsStartBed => IsSetOut && Planting.StartBedId is not null && Stage is Stage.Sown or Stage.Up or Stage.Hardening;

    /// <summary>When it began to gather warmth towards harvest, as its profile counts.</summary>
    public LocalDate? CountedSince =>
        Planting.Crop.Days?.Counted == CountedFrom.SettingOut ? SetOutOn ?? SownOn : SownOn ?? SetOutOn;
}
