using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// Covers that lie already. Where the next night needs them again and the day is cool they stay on; plants that bear frost are then not
/// asked for again each day, only named, until a night is colder than their cover is known to bear.
/// </summary>
/// <remarks>For tender plants it stays a job of each such day: a cover that has slipped costs all of them.</remarks>
internal static class LyingCovers
{
    // Who has not said that it came off has taken it off by then, if a day was warm enough for it.
    private const int UnrecordedDays = 2;
    private const int LongestDays = 60;
    // When a cover is on by the first night after it was recorded.
    private static readonly LocalTime Dusk = new(18, 0);

    /// <summary>The date since which a cover lies on a planting; null when none was recorded, it is off again, or was so by all that is likely.</summary>
    public static LocalDate? Since(Season season, Planting planting, Bed bed)
    {
        var (journal, today) = (season.Journal, season.Today);
        if (journal.LastDone(planting.Id, JobKind.Cover) is not { } covered || covered >= today || covered < today.PlusDays(-LongestDays)
            || journal.LastDone(planting.Id, JobKind.Uncover) > covered)
            return null;
        var hours = season.Weather.BedOf(bed);
        for (var date = covered.PlusDays(1); date < today.PlusDays(-UnrecordedDays + 1); date = date.PlusDays(1))
            if (!(hours.Highest(BedMeasure.Air, season.Weather.Calendar.DayOf(date)) < CoverTimes.CoolDayHighC))
                return null;
        return covered;
    }

    /// <summary>Takes out or renames the jobs of covers that stay on; gives a line for each that is named alone.</summary>
    public static ImmutableArray<string> Leave(List<Job> jobs, IReadOnlyList<Wanted> wanted, GardenWeather weather, Instant asOf)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        var today = weather.Calendar.DateOf(asOf);
        double? high = weather.Place.Highest(BedMeasure.Air, weather.Calendar.DayOf(today));
        foreach (var want in wanted.Where(want => want.Id.Kind == JobKind.Cover && want.LiesSince is not null))
        {
            int cover = jobs.FindIndex(job => job.Id == want.Id.ToString() && job.Standing == Standing.Now);
            int uncover = jobs.FindIndex(job => job.Kind == JobKind.Uncover && job.SubjectId == want.Id.SubjectId);
            // Where it gets warm, an evening is too late to take it off and lay it again.
            bool evening = uncover >= 0 && !(jobs[uncover].Best is { } best && weather.Calendar.TimeOf(best.From) < CoverTimes.TooLateToUncover);
            if (cover < 0 || !(high < (evening ? CoverTimes.TooHotUnderCoverC : CoverTimes.CoolDayHighC)))
                continue;
            string plants = weather.Speech.Word(want.Sowing!.Planting.Crop.Plants);
            if (IsEnough(want, weather, asOf) is { } leafC)
            {
                lines.Add(weather.Speech.Say($"Leave the cover on the {plants}: leaves in the open near {weather.Speech.Temperature(leafC)} tonight."));
                jobs.RemoveAll(job => job.SubjectId == want.Id.SubjectId && job.Kind is JobKind.Cover or JobKind.Uncover);
                continue;
            }
            jobs[cover] = jobs[cover] with
            {
                Name = weather.Speech.Say($"Keep the {plants} covered"),
                Reasons = jobs[cover].Reasons.Insert(1, new("stays-on", ImmutableDictionary<string, double>.Empty,
                    weather.Speech.Say($"Yesterday's cover may stay on ({weather.Speech.Temperature(high.Value)} by day); open the sides if the sun is strong."))),
            };
            if (uncover >= 0)
                jobs.RemoveAt(uncover);
        }
        return lines.ToImmutable();
    }

    /// <summary>The lowest of the leaves in the open tonight, where plants that bear frost bear it under what lies over them; else null.</summary>
    private static double? IsEnough(Wanted want, GardenWeather weather, Instant asOf)
    {
        if (weather.News.State != WeatherState.Fresh || want.Sowing!.Planting.Crop.Hardiness is Hardiness.Tender or Hardiness.VeryTender)
            return null;
        var bed = weather.BedOf(want);
        var night = weather.Calendar.TonightAt(asOf).Night is var running && running.Start <= asOf && weather.Calendar.TimeOf(asOf).Hour < 3
            ? running
            : weather.Calendar.NightOf(weather.Calendar.DateOf(asOf));
        if (bed.Lowest(BedMeasure.Leaf, Instant.Max(night.Start, asOf), night.End) is not (var leafC, _))
            return null;
        double wind = weather.MeanWind(night.Start, night.End) ?? double.NaN;
        double borne = want.Numbers["leaf"].Value - Covers.Worth(FrostWords.KindOf(want.Bed?.Cover) ?? FrostCover.LightFleece, wind);
        double? met = bed.Lowest(BedMeasure.Leaf, weather.Calendar.At(want.LiesSince!.Value, Dusk), asOf)?.Celsius;
        return leafC >= borne || leafC >= met ? leafC : null;
    }
}
