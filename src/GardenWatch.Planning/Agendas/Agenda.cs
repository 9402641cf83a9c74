using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Sowings;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

public enum Standing { Now, Soon, Waiting, Missed, Done, Dropped }

/// <summary>Hours in which all conditions of a job hold and the gardener can be there.</summary>
public readonly record struct Window(Instant From, Instant Until);

public enum ChanceSource { Members, Forecast, PastYears }

public readonly record struct Chance(double Value, ChanceSource Source);

/// <summary>A sentence and the numbers it is made of.</summary>
public sealed record Reason(string Code, ImmutableDictionary<string, double> Values, string Text)
{
    /// <summary>The code of what is said of an old or a missing forecast.</summary>
    public const string StaleWeather = "stale-weather";

    /// <summary>The code of a night that takes what is not picked before it.</summary>
    public const string ColdAhead = "cold-ahead";

    /// <summary>The code of one condition and how it stands.</summary>
    public const string Condition = "condition";

    /// <summary>The code of how much water to give: values <c>giveMm</c>, and <c>litres</c> where the bed's size is known.</summary>
    public const string WaterToGive = "water-to-give";
}

/// <summary>One condition of a job: what it needs and where it stands.</summary>
public sealed record Need(
    string Condition, bool? Holds, double? Value, string? Unit, double? Margin, DateInterval? Likely, string Sentence);

/// <summary>One thing to do, for one sowing or chore.</summary>
public sealed record Job
{
    /// <summary>Garden id, subject id and the how-manieth time; the same while the job is open.</summary>
    public required string Id { get; init; }
    public required string SubjectId { get; init; }
    public required JobKind Kind { get; init; }
    /// <summary>"Cover the tomatoes".</summary>
    public required string Name { get; init; }
    public string? Crop { get; init; }
    public string? BedId { get; init; }
    public string? BedName { get; init; }
    public string? SowingId { get; init; }
    public required Standing Standing { get; init; }
    public int? Minutes { get; init; }
    public ImmutableArray<Window> Windows { get; init; } = [];
    public Window? Best { get; init; }
    public Instant? ActBy { get; init; }
    public Instant? UndoAt { get; init; }
    public Chance? Chance { get; init; }
    public ImmutableArray<Reason> Reasons { get; init; } = [];
    public ImmutableArray<string> Cautions { get; init; } = [];
    public ImmutableArray<Need> Needs { get; init; } = [];
    public string? How { get; init; }
    /// <summary>What to do instead, if it can't be done or the weather won't come.</summary>
    public string? Otherwise { get; init; }
    /// <summary>Lost if it is not done: comes first, and is never withheld for want of data.</summary>
    public bool Protects { get; init; }
    /// <summary>
    /// The number that decided, in its dimension's own unit: the night's leaf low for a cover, the highest gust for a tie, the
    /// day's high for shade; of hail its class (<see cref="HailClass"/>); of watering the mm to give.
    /// </summary>
    public double? DecidingValue { get; init; }
    /// <summary>What it saves from, and when that comes; null for what is against frost, or against nothing.</summary>
    public Threat? Threat { get; init; }
    /// <summary>On how many local dates messages have asked for it, unanswered.</summary>
    public int TimesAsked { get; init; }

    /// <summary>
    /// Asked for so often in vain that it steps behind what is new. Never what saves a crop, nor what closes today. Common practice.
    /// </summary>
    public bool Sinks => Standing == Standing.Now && !Protects && ActBy is null && TimesAsked >= SinksFrom;

    private const int SinksFrom = 4;

    /// <summary>The bed, unless the name has said which: "Shut the cold frame", "Water the low bed".</summary>
    public string? BedToTell =>
        BedName is { } bed && (Threat is not null || SubjectId == BedId) && Name.Contains(bed, StringComparison.OrdinalIgnoreCase) ? null : BedName;

    /// <summary>"Cover the tomatoes (low bed)".</summary>
    public string NameWithBed => BedToTell is { } bed ? $"{Name} ({bed})" : Name;

    /// <summary>The first date on which it is wanted, where that is to come; null for at once.</summary>
    public LocalDate? NotBefore { get; init; }

    /// <summary>Before it the job can hardly come, by what is known of what is wanting; null where nothing is.</summary>
    public LocalDate? HardlyBefore => Needs.Where(need => need.Holds != true && need.Likely is not null).Select(need => (LocalDate?)need.Likely!.Start).Append(NotBefore).Max();

    /// <summary>The dates by which all that is wanting is likely there; null unless each of them is known. Where nothing is wanting but its day, that.</summary>
    public DateInterval? Likely =>
        Needs.Where(need => need.Holds != true).ToArray() is not { Length: > 0 } wanting ? NotBefore is { } day && Standing == Standing.Waiting ? new(day, day) : null
        : wanting.All(need => need.Likely is not null) ? new(wanting.Max(need => need.Likely!.Start), wanting.Max(need => need.Likely!.End))
        : null;
}

public enum WeatherState { Fresh, Stale, Missing }

/// <summary>Where the weather of an agenda is from and how old it is.</summary>
public sealed record WeatherNews(Instant? FetchedAt, Duration? Age, WeatherState State)
{
    /// <summary>Made up for a demonstration: no service is to be credited.</summary>
    public bool IsInvented { get; init; }
}

/// <summary>One local day ahead. A low is of the night that begins on the date. Absent knowledge is null.</summary>
public sealed record DayAhead(
    LocalDate Date, double? LowC, double? HighC, double? LeafLowC, double? RainMm, double? RainPeakMmPerHour,
    double? RainChance, double? FrostChance, double? GustMetresPerSecond, Interval? RainSpell)
{
    /// <summary>Of what falls on the day, 0 to 1; null where nothing falls, or it is not known.</summary>
    public double? SnowShare { get; init; }

    // Fresh snow is 7 cm deep for 10 mm of water: what the weather service reckons with.
    private const double SnowMetresPerMm = 0.007;

    /// <summary>How deep so much water lies as fresh snow.</summary>
    public static double SnowDepthMetres(double mm) => mm * SnowMetresPerMm;
}

/// <summary>How one sowing stands.</summary>
public sealed record SowingOutlook
{
    public required string Id { get; init; }
    public required string Crop { get; init; }
    public string? Variety { get; init; }
    public required string BedId { get; init; }
    public required string BedName { get; init; }
    /// <summary>"Radish, batch 2".</summary>
    public required string Name { get; init; }
    public required string Stage { get; init; }
    /// <summary>Whether <see cref="Stage"/> was seen, told by the plan, or only reckoned.</summary>
    public Evidence By { get; init; }
    public double? GatheredCd { get; init; }
    public double? NeededCd { get; init; }
    public string? NextStage { get; init; }
    public DateInterval? Next { get; init; }
    /// <summary>First pickings: by warmth where that is known, else by the packet.</summary>
    public DateInterval? Harvest { get; init; }
    public DateInterval? HarvestByPacket { get; init; }
    /// <summary>Of a batch to come: when it will likely be sown, started or set out.</summary>
    public DateInterval? SowLikely { get; init; }
    /// <summary>When its last picking is expected, and its place free.</summary>
    public DateInterval? Over { get; init; }
    /// <summary>No further batch of it is worth sowing.</summary>
    public bool IsLast { get; init; }
    /// <summary>Why it came to its end or is the last, as a clause; null when there is nothing to say.</summary>
    public string? Because { get; init; }
    /// <summary>One line as the digest's <i>Growing</i> says it, without the name.</summary>
    public required string Sentence { get; init; }
    /// <summary>Something is to be told that the last message did not tell.</summary>
    public bool Changed { get; init; }
}

/// <summary>How the ground of one bed stands.</summary>
/// <param name="Size">East-west and north-south; null when the plan does not say.</param>
/// <param name="At">Of its north-west corner; null when the plan does not say.</param>
public sealed record BedOutlook(
    string Id, string Name, double? SoilC, double? SoilDepthCm, double? RainPastWeekMm, double? WaterDeficitMm,
    double? WaterToGiveLitres, string? Sentence,
    (double WidthMetres, double LengthMetres)? Size = null, (double EastMetres, double SouthMetres)? At = null);

/// <summary>All jobs with standings, windows and reasons, for one garden at one instant.</summary>
public sealed partial record Agenda
{
    public required string GardenId { get; init; }
    public required string GardenName { get; init; }
    public required LocalDate Date { get; init; }
    public required DateTimeZone Zone { get; init; }
    public required Instant AsOf { get; init; }
    /// <summary>The language of its sentences.</summary>
    public Tongue Tongue { get; init; } = Tongue.English;
    public required WeatherNews Weather { get; init; }
    /// <summary>In the order in which they can't wait.</summary>
    public ImmutableArray<Job> Jobs { get; init; } = [];
    public ImmutableArray<DayAhead> Week { get; init; } = [];
    /// <summary>What was begun, and for a week what has come to its end.</summary>
    public ImmutableArray<SowingOutlook> Sowings { get; init; } = [];
    /// <summary>The batches still to come, in the order of the plan; the digest may tell when each is likely sown and picked.</summary>
    public ImmutableArray<SowingOutlook> Ahead { get; init; } = [];
    public ImmutableArray<BedOutlook> Beds { get; init; } = [];
    /// <summary>Said at the end: what is wrong with a file, what is not known, what was assumed.</summary>
    public ImmutableArray<string> Notes { get; init; } = [];
    /// <summary>For how many days the gardener, who answered before, has written nothing down; null when it is not long, or so long that no answer is to be waited for.</summary>
    public int? SilentForDays { get; init; }
    /// <summary>What the gardener gives the garden on this date; null when the plan does not say.</summary>
    public int? MinutesAtHand { get; init; }
    /// <summary>What to see to before an absence that begins in these days; empty when there is none.</summary>
    public ImmutableArray<string> BeforeLeaving { get; init; } = [];
    /// <summary>Nothing grows and nothing is asked for: a digest a week is enough.</summary>
    public bool Rests { get; init; }
}
