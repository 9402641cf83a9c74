using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>How far a batch is hardened, and what this day of the programme asks.</summary>
/// <param name="Day">The day of the programme that comes next, counted from one.</param>
/// <param name="Fewest">Days outdoors that are enough.</param>
/// <param name="Most">Days after which nothing more is gained.</param>
/// <param name="BeginsOn">When it is time to begin; null when that can't be told.</param>
/// <param name="Repeat">How often its job was closed, so that each day's has an id of its own.</param>
/// <param name="IsUnrecorded">The gardener said that it needs none, or nothing was recorded for so long that nobody can tell.</param>
internal sealed record Hardening(int Day, int Fewest, int Most, LocalDate? BeginsOn, bool IsBegun, int Repeat, bool IsUnrecorded)
{
    /// <summary>Enough days outdoors, by the record and the weather since.</summary>
    public bool IsDone => Day > Fewest;

    /// <summary>Hours outdoors on this day; null for the whole day.</summary>
    /// <remarks>One to two hours on the first day, one to two more each day, all day from the seventh on (common practice; first day: Hennepin County Master Gardeners 2014).</remarks>
    public double? Hours => Day >= WholeDayFrom ? null : 1 + (Day - 1) * 1.5;

    /// <summary>Nights outdoors, when they are mild, from the seventh day on (University of Maryland Extension; common practice).</summary>
    public bool NightsToo => Day >= WholeDayFrom;

    private const int WholeDayFrom = 7;
    // Home gardeners take one to two weeks (University of Maryland Extension); hardy plants four to six days (New England guide).
    private const int UsualFewest = 7, UsualMost = 10, HardyFewest = 4, HardyMost = 6;
    // Of a gardener who records nothing it can't be known; plants so long ready are set out, hardened or not.
    private const int UnrecordedAfterDays = 14;

    /// <summary>Air by day below which plants stay in: 10 to 15 °C for tender ones (Hennepin County Master Gardeners 2014), less for hardy ones.</summary>
    public static double LeastHighC(CropProfile crop) => crop.Hardiness switch
    {
        Hardiness.Hardy => 7,
        Hardiness.HalfHardy => 8,
        _ => 13,
    };

    /// <summary>Night air below which they come in (University of Maryland Extension: 7.2 and 10 °C; Smith and Pundt 2016: -2.2 °C for hardy plants).</summary>
    public static double LeastLowC(CropProfile crop) => crop.Hardiness switch
    {
        Hardiness.Hardy => -2,
        Hardiness.HalfHardy => 2,
        Hardiness.Tender => 7.2,
        _ => 10,
    };

    // Soft leaves dry and break above this. Common practice.
    public const double MostWindMetresPerSecond = 8;

    /// <summary>Null for a batch that needs no hardening: not raised under cover by the gardener, or a crop without that job.</summary>
    public static Hardening? Of(Season season, Sowing sowing)
    {
        var planting = sowing.Planting;
        if (planting.StartBedId is null || sowing.SownOn is null || sowing.SetOutOn is not null
            || sowing.Stage is not (Stage.Sown or Stage.Up or Stage.Hardening)
            || !planting.Crop.Jobs.Any(job => job.Kind == JobKind.HardenOff))
            return null;
        bool hardy = planting.Crop.Hardiness == Hardiness.Hardy;
        int fewest = planting.Crop.HardenOffDays?.From ?? (hardy ? HardyFewest : UsualFewest);
        int most = planting.Crop.HardenOffDays?.To ?? (hardy ? HardyMost : UsualMost);
        var skips = season.Journal.Skips(planting.Id, JobKind.HardenOff).Where(skip => BatchTime.BatchOf(skip.Time) == sowing.Batch).ToList();
        int spent = sowing.HardeningSince is { } since ? DaysSpent(season, sowing, since, [.. skips.Select(skip => skip.Date)]) : 0;
        var begins = TimeToBegin(season, sowing, most);
        return new(spent + 1, fewest, most, begins, sowing.HardeningSince is not null, spent + skips.Count,
            sowing.HardeningSince is null && skips.Count > 0 || sowing.HardeningSince is null && begins?.PlusDays(most + UnrecordedAfterDays) < season.Today);
    }

    /// <summary>So long before its bed is likely fit that it is hardened by then, and not before it is a plant.</summary>
    private static LocalDate? TimeToBegin(Season season, Sowing sowing, int most)
    {
        var planting = sowing.Planting;
        var old = planting.Crop.WeeksIndoors is var (weeks, _) ? sowing.SownOn!.Value.PlusWeeks(weeks).PlusDays(-most) : sowing.UpLikely?.End.PlusWeeks(2);
        var opens = season.WindowOf(planting, Season.TakesTheBed(planting), sowing.SownOn!.Value).Opens?.Start.PlusDays(-most);
        return old is null ? opens : opens is null ? old : LocalDate.Max(old.Value, opens.Value);
    }

    /// <summary>
    /// The days that were spent outdoors since the first: those on which the weather let them, or that are recorded. A day that
    /// was skipped does not count; a cold or windy one is lost, no more.
    /// </summary>
    private static int DaysSpent(Season season, Sowing sowing, LocalDate since, HashSet<LocalDate> skipped)
    {
        var recorded = SowingRecord.Done(season.Journal, sowing.Planting, JobKind.HardenOff, sowing.Batch).ToHashSet();
        int spent = 0;
        for (var date = since; date < season.Today || date == season.Today && recorded.Contains(date); date = date.PlusDays(1))
            if (recorded.Contains(date) || date > since && !skipped.Contains(date) && Suits(season, sowing.Planting.Crop, date) != false)
                spent++;
        return spent;
    }

    /// <summary>Whether the day's weather lets tender leaves out; null when it is not known.</summary>
    public static bool? Suits(Season season, CropProfile crop, LocalDate date)
    {
        var day = season.Weather.Calendar.DayOf(date);
        if (season.Weather.Place.Highest(BedMeasure.Air, day) is not { } high)
            return null;
        double? wind = season.Weather.MeanWind(day.Start + Duration.FromHours(9), day.Start + Duration.FromHours(18));
        return high >= LeastHighC(crop) && !(wind > MostWindMetresPerSecond);
    }
}
