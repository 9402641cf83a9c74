using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>When sown seed comes up: by the warmth of its soil where trials of the crop are at hand, else by the packet's days.</summary>
internal static class Emergence
{
    private const double SeedDepthMetres = 0.05;
    // Rooms in which seed is raised are kept about so warm; what wants more stands over a heater until it is up. Common practice.
    private const double IndoorsC = 20, OverHeaterC = 24;
    // Soil near the surface is about so much warmer than the air's mean while days are long. Common practice.
    private const double SoilAboveAirK = 1;
    private const int LongestDays = 90;
    // Without trials and without a packet: most vegetables in fair soil. Common practice.
    private const int UsualFrom = 7, UsualTo = 21;

    /// <summary>From the day on which the trials' seed would be up to that from which one should look what went wrong.</summary>
    public static DateInterval Of(CropProfile crop, Bed bed, LocalDate sown, GardenWeather weather)
    {
        if (crop.Germination?.UpAfter is { Length: > 1 } trials)
        {
            var curve = new EmergenceCurve(trials.Select(trial => new EmergenceTrial(trial.Soil.Celsius, trial.Days)));
            if (ByWarmth(curve, crop.Germination, bed, sown, weather) is { } range)
                return range;
        }
        var (from, to) = crop.Germination?.UpAfterDays ?? (UsualFrom, UsualTo);
        return new(sown.PlusDays(from), sown.PlusDays(to));
    }

    /// <summary>How hot the soil gets in these days, where that keeps sown seed from coming up; null where it does not.</summary>
    public static (double HighC, double LimitC)? TooHot(CropProfile crop, Bed bed, GardenWeather weather, Instant asOf)
    {
        if (crop.Germination is not { } germination || bed.IsIndoors)
            return null;
        var hours = weather.BedOf(bed).Weather;
        var soil = hours.Column(new(Measure.Soil, SeedDepthMetres));
        int first = Math.Max(0, hours.Series.FirstAtOrAfter(asOf - Duration.FromDays(1))), last = Math.Min(hours.Series.Hours - 1, hours.Series.LastAtOrBefore(asOf + Duration.FromDays(1)));
        if (last < first || soil.Known(first, last) == 0)
            return null;
        double high = double.NegativeInfinity;
        for (int hour = first; hour <= last; hour++)
            high = Math.Max(high, double.IsNaN(soil[hour]) ? high : soil[hour]);
        return high > germination.BestTo.Celsius ? (high, germination.BestTo.Celsius) : null;
    }

    private static DateInterval? ByWarmth(EmergenceCurve curve, GerminationRange germination, Bed bed, LocalDate sown, GardenWeather weather)
    {
        var hours = bed.Over == Overhead.Windowsill ? null : weather.BedOf(bed).Weather;
        var soil = hours?.Column(new(Measure.Soil, SeedDepthMetres));
        double indoorsC = germination.BestFrom.Celsius > IndoorsC ? OverHeaterC : IndoorsC, done = 0;
        LocalDate? up = null;
        for (int day = 0; day < LongestDays; day++)
        {
            var date = sown.PlusDays(day);
            double rate = hours is null ? curve.RatePerDay(indoorsC) : RateOn(date);
            if (double.IsNaN(rate))
                return null;
            done += rate;
            if (done >= 1)
                up ??= date;
            if (done >= EmergenceCurve.WorryFrom)
                return new(up!.Value, date);
        }
        return up is { } first ? new(first, sown.PlusDays(LongestDays)) : null;

        double RateOn(LocalDate date)
        {
            var span = weather.Calendar.DayOf(date);
            var series = hours!.Series;
            double sum = 0;
            int known = 0;
            for (int hour = Math.Max(0, series.FirstAtOrAfter(span.Start)); hour < Math.Min(series.Hours, series.FirstAtOrAfter(span.End)); hour++)
            {
                // Hotter than its best range seed lies still: trials at one steady heat say nothing of it (lettuce sleeps above 27 °C).
                double rate = soil![hour] > germination.BestTo.Celsius ? 0 : curve.RatePerDay(soil[hour]);
                if (double.IsNaN(rate))
                    continue;
                sum += rate;
                known++;
            }
            return known > 0 ? sum / known
                : weather.Climate?.AirOn(date).MeanC is { } mean ? curve.RatePerDay(mean + SoilAboveAirK)
                : double.NaN;
        }
    }
}
