using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>A look for flower stalks when the heat, the day length or the cold has come that makes a crop run to seed, by its own profile.</summary>
internal static class BoltingLooks
{
    /// <summary>So long after a look there is no other. Common practice.</summary>
    public const int EveryDays = 10;

    // Stalks show within days of the heat; cold works on plants of their first three months, once days are long. Seedlings have no heart yet. Common practice.
    private const int HeatDays = 3, YoungDays = 90, ColdCountedDays = 60, SeedlingDays = 14;
    private const double LongDayHours = 12.5;

    /// <summary>What is known of it: a reason to look, null for none, and whether the weather that decides is not known.</summary>
    public static (Reason? Reason, bool IsUnknown) Of(Season season, Sowing sowing)
    {
        var since = sowing.SetOutOn ?? sowing.UpOn ?? sowing.UpLikely?.End ?? sowing.SownOn;
        if (sowing.Planting.Crop.Limits.FirstOrDefault(limit => limit.Upset == Upset.Bolting) is not { } limit || since?.PlusDays(SeedlingDays) > season.Today)
            return (null, false);
        var (speech, calendar, today) = (season.Weather.Speech, season.Weather.Calendar, season.Today);
        double light = Agronomy.Light.Sun.Course(calendar.Place, today, calendar.Zone).DayLength.TotalHours;
        if (light < (limit.DaylightHours ?? 0))
            return (null, false);
        var hours = season.Weather.BedOf(season.Plan.BedOf(sowing.Planting.BedId));
        if (limit.DaysAbove is { } hot)
        {
            if (hours.Highest(BedMeasure.Air, new(calendar.DayOf(today.PlusDays(-HeatDays)).Start, season.AsOf)) is not { } high)
                return (null, true);
            if (high > hot.Celsius)
                return (Said(speech.Say($"up to {speech.Temperature(high)} in the past {speech.Counted(HeatDays, "day")}, and a crop that bolts above {speech.Temperature(hot.Celsius)}")), false);
        }
        if (limit is { ColdBelow: { } cold, ForDays: { } needed } && light >= LongDayHours && since is { } from && from.PlusDays(YoungDays) >= today)
        {
            int counted = 0, unknown = 0;
            for (var day = LocalDate.Max(from, today.PlusDays(-ColdCountedDays)); day < today; day = day.PlusDays(1))
            {
                var whole = calendar.DayOf(day);
                if (hours.Lowest(BedMeasure.Air, whole.Start, whole.End) is not var (low, _) || hours.Highest(BedMeasure.Air, whole) is not { } high)
                    unknown++;
                else if ((low + high) / 2 < cold.Celsius)
                    counted++;
            }
            return counted >= needed
                ? (Said(speech.Say($"{speech.Counted(counted, "day")} below {speech.Temperature(cold.Celsius)} while young")), false)
                : (null, counted + unknown >= needed);
        }
        return (null, false);

        Reason Said(string why) => new("look-for", ImmutableDictionary<string, double>.Empty,
            speech.Say($"For flower stalks ({why}): the heart lengthens, a stiff stalk stands in it. Take those first: in some days they are bitter or woody."));
    }
}
