using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>A garden's file as it is meant: checked, in plain records, with stable ids.</summary>
public sealed record Plan
{
    /// <summary>Fixed by the gardener (<c>id:</c>); the name may change, the history stays.</summary>
    public required string GardenId { get; init; }
    public required string Name { get; init; }
    public required PlanPlace Place { get; init; }
    public required UnitSystem Units { get; init; }
    /// <summary>The language of messages.</summary>
    public Tongue Tongue { get; init; } = Tongue.English;
    public required GardenHours InTheGarden { get; init; }
    public ImmutableArray<Absence> Away { get; init; } = [];
    public required DigestSettings Digest { get; init; }
    public ImmutableArray<Bed> Beds { get; init; } = [];
    public ImmutableArray<Planting> Plantings { get; init; } = [];
    public ImmutableArray<Chore> Chores { get; init; } = [];
    /// <summary>The garden's word on jobs that belong to no planting and no chore: waterings, and those of the year.</summary>
    public Tuning Tuning { get; init; } = Tuning.None;

    public Bed BedOf(string bedId) => Beds.First(bed => bed.Id == bedId);
}

/// <summary>As far as the file tells it. Zone, height or position may be left for the weather service to find.</summary>
public sealed record PlanPlace(
    string? Town, double? LatitudeDegrees, double? LongitudeDegrees, double? ElevationMetres, string? ZoneId);

/// <summary>A stretch of a local day, whole minutes; <paramref name="To"/> may be midnight at the end of the day.</summary>
public readonly record struct DaySlot(LocalTime From, LocalTime To);

/// <summary>When the gardener can be there. Windows are cut to it.</summary>
public sealed record GardenHours(ImmutableArray<DaySlot> Weekdays, ImmutableArray<DaySlot> Weekends)
{
    /// <summary>For a plan that does not say: early, evening, and the weekend's daylight.</summary>
    public static GardenHours Usual { get; } = new(
        [new(new(6, 0), new(8, 0)), new(new(17, 0), new(20, 30))],
        [new(new(8, 0), new(19, 0))]);

    /// <summary>Days of the week that have hours of their own.</summary>
    public ImmutableDictionary<IsoDayOfWeek, ImmutableArray<DaySlot>> OwnHours { get; init; } =
        ImmutableDictionary<IsoDayOfWeek, ImmutableArray<DaySlot>>.Empty;

    /// <summary>How long the gardener wants to work on a weekday; null when the plan does not say.</summary>
    public int? Minutes { get; init; }
    /// <summary>The same of Saturdays and Sundays; null for as long as on a weekday.</summary>
    public int? WeekendMinutes { get; init; }

    public ImmutableArray<DaySlot> On(LocalDate date) =>
        OwnHours.TryGetValue(date.DayOfWeek, out var own) ? own : IsWeekend(date) ? Weekends : Weekdays;

    public int? MinutesOn(LocalDate date) => IsWeekend(date) ? WeekendMinutes ?? Minutes : Minutes;

    private static bool IsWeekend(LocalDate date) => date.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday;
}

/// <summary>Days on which the gardener is not there, both included; a sitter gets the digest instead.</summary>
public sealed record Absence(LocalDate From, LocalDate To, string? Sitter)
{
    public bool Holds(LocalDate date) => From <= date && date <= To;
}

/// <param name="At">The hour of those who name none of their own.</param>
public sealed record DigestSettings(LocalTime At, ImmutableArray<Addressee> To)
{
    /// <summary>Channels that get an urgent message when the first way out did not take it in time.</summary>
    public ImmutableArray<string> UrgentToo { get; init; } = [];
    /// <summary>No push sounds in these hours, which may run over midnight; null for none.</summary>
    public QuietHours? Quiet { get; init; }
    /// <summary>A warning of frost is pushed in the quiet hours, too.</summary>
    public bool FrostMayWake { get; init; }
    /// <summary>A calendar file goes with each digest by mail.</summary>
    public bool AttachCalendar { get; init; }
    /// <summary>One a day also where nothing grows and nothing is asked for, instead of one a week.</summary>
    public bool DailyAtRest { get; init; }
}

/// <summary>From the one local time to the other, over midnight where the second is the earlier.</summary>
public readonly record struct QuietHours(LocalTime From, LocalTime To);

public enum Overhead { Open, Frame, Tunnel, Greenhouse, Windowsill }

public enum SoilTexture { Sand, LoamySand, SandyLoam, Loam, SiltLoam, Silt, SiltyClayLoam, ClayLoam, SiltyClay, Clay }

/// <summary>What lies on the bed: changes how fast its soil warms.</summary>
public enum Mulch { None, Straw, WoodChips, Compost, Leaves, Grass, BlackFilm, ClearFilm }

/// <summary>What the gardener has at hand to lay over this bed on a cold night.</summary>
public enum CoverAtHand { None, LightFleece, MediumFleece, HeavyFleece, Sheet, Cloche, Frame }

/// <summary>Ground or container.</summary>
public sealed record Bed
{
    public required string Id { get; init; }
    public required string Name { get; init; }
    public Overhead Over { get; init; } = Overhead.Open;
    /// <summary>Metres east-west and north-south; null when not said.</summary>
    public (double WidthMetres, double LengthMetres)? Size { get; init; }
    public (double EastMetres, double SouthMetres)? At { get; init; }
    public double? ContainerLitres { get; init; }
    public SoilTexture? Soil { get; init; }
    public Mulch Mulch { get; init; } = Mulch.None;
    /// <summary>Null when the plan does not say.</summary>
    public CoverAtHand? Cover { get; init; }
    /// <summary>How much colder than the place this bed is on a still clear night; not negative.</summary>
    public TemperatureDifference FrostPocket { get; init; }

    public bool IsIndoors => Over is Overhead.Windowsill or Overhead.Greenhouse;
    public double? AreaSquareMetres => Size is var (width, length) ? width * length : null;
}

/// <summary>One crop in one bed, with one or more sowings; may follow another in the bed.</summary>
public sealed record Planting
{
    public required string Id { get; init; }
    public required CropProfile Crop { get; init; }
    public string? Variety { get; init; }
    public required string BedId { get; init; }
    /// <summary>Bed in which it is started, for a crop raised elsewhere and set out.</summary>
    public string? StartBedId { get; init; }
    /// <summary>The planting that must be finished in the bed first.</summary>
    public string? AfterPlantingId { get; init; }
    public Succession? Sowings { get; init; }
    public Origin Origin { get; init; } = Origin.ToSow;
    /// <summary>When what <see cref="Origin"/> names happened or shall happen; null when the plan gives no date.</summary>
    public DateRange? OriginDate { get; init; }
    public int? Plants { get; init; }
    /// <summary>The year for which its seed was packed or saved; null when the plan does not say.</summary>
    public int? SeedYear { get; init; }
    /// <summary>Raised in one bed and set out into another, bought as plants, or of a crop that is not sown in place.</summary>
    public bool IsSetOut => StartBedId is not null || Origin is Origin.Bought or Origin.SetOut
        || Origin == Origin.ToSow && !Crop.Jobs.Any(job => job.Kind == JobKind.Sow) && Crop.Jobs.Any(job => job.Kind == JobKind.SetOut);
    /// <summary>The date on which the plan's words for it were first read; null when that is not known.</summary>
    public LocalDate? FirstSeen { get; init; }
    /// <summary>What the plan says of the crop's numbers: the garden's word, then the planting's own.</summary>
    public Tuning Tuning { get; init; } = Tuning.None;
}

/// <summary>What the plan says of a planting's beginning.</summary>
public enum Origin
{
    /// <summary>Still to be sown in place, or started indoors when the planting names a start bed.</summary>
    ToSow,
    /// <summary><c>sown:</c> gives the date, past or coming.</summary>
    Sown,
    /// <summary><c>bought:</c> comes as young plants, ready to be set out.</summary>
    Bought,
    /// <summary><c>set out:</c> stands in its bed since.</summary>
    SetOut,
    /// <summary><c>growing: yes</c>, or <c>up:</c> with the date since when; nothing more is known.</summary>
    Growing,
}

/// <summary>"Mid April" is the 11th to the 20th; a day is a range of one.</summary>
public readonly record struct DateRange(LocalDate From, LocalDate To)
{
    public LocalDate Middle => From.PlusDays(Period.DaysBetween(From, To) / 2);
}

/// <summary>Batches of a crop: how long between them, and when to stop.</summary>
/// <param name="EveryDays">Days from one to the next; of an even supply, from one harvest to the next.</param>
/// <param name="Batches">How many; null for as many as the season has room for.</param>
/// <param name="UntilTooWarm">Until it is too warm for the crop; else until the season ends.</param>
public sealed record Succession(int EveryDays, int? Batches, bool UntilTooWarm)
{
    /// <summary>As many as a plan can ask for.</summary>
    public const int MostBatches = 50;

    /// <summary>Sown so that the harvests come evenly: farther apart while it is cool, closer as it warms.</summary>
    public bool ForEvenHarvests { get; init; }
}

/// <summary>A job not tied to a crop.</summary>
public sealed record Chore
{
    public required string Id { get; init; }
    public required string Name { get; init; }
    /// <summary>Null for a chore of the whole garden.</summary>
    public string? BedId { get; init; }
    public required JobKind Kind { get; init; }
    public int? EveryDays { get; init; }
    public int? Minutes { get; init; }
    public string? How { get; init; }
    /// <summary>As the gardener wrote them.</summary>
    public ConditionSet Conditions { get; init; } = ConditionSet.Always;
    /// <summary>Where the named numbers of <see cref="Conditions"/> are written, by lower-case name.</summary>
    public ImmutableDictionary<string, NumberSource> NumberSources { get; init; } = ImmutableDictionary<string, NumberSource>.Empty;
    public Otherwise? Otherwise { get; init; }
    public LookAfterwards? Then { get; init; }
    public string? Caution { get; init; }
    public Tuning Tuning { get; init; } = Tuning.None;

    /// <summary>The gardener's own conditions, and those that come with the kind of chore.</summary>
    public ConditionSet AllConditions => ChoreWeather.Of(this);
}

/// <summary>What to do when the weather asked for has not come for some days.</summary>
public sealed record Otherwise(int AfterDays, string Text, double? WaterInMm);

/// <summary>A look that follows once the chore is done.</summary>
/// <param name="EveryDays">So many days after each look there is another, until the chore is due again; null for one look.</param>
public sealed record LookAfterwards(string LookFor, int AfterDays, int? EveryDays = null);
