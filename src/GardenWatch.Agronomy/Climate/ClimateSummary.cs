using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>The frosts that bound the warm season. A threshold counts when it is reached.</summary>
/// <param name="OfLeaf">Of leaves in the open; else of the air at two metres.</param>
public sealed record FrostSeason(bool OfLeaf, double ThresholdC, UsualDate LastOfSpring, UsualDate FirstOfAutumn);

/// <summary>When tended ground first keeps a warmth for three days.</summary>
/// <param name="OfLow">The coldest of the three days' hours is that warm; else their mean.</param>
public sealed record SoilWarm(int DepthCm, bool OfLow, double ThresholdC, UsualDate First);

/// <summary>Weeks whose mean air is above a threshold: the first and the last of a season, by their last days.</summary>
public sealed record HotWeek(double ThresholdC, UsualDate First, UsualDate Last);

/// <summary>When the coldest of the seven nights that have just passed is first this warm.</summary>
public sealed record MildNights(double ThresholdC, UsualDate First);

/// <summary>A date's normal air, °C: means over the years, smoothed.</summary>
public readonly record struct NormalAir(double LowC, double MeanC, double HighC);

/// <summary>What a place's past years tell, reckoned once: a few kilobytes in place of thirty years of hours.</summary>
/// <param name="SeasonStart">1 January in the north, 1 July in the south: no season crosses it.</param>
/// <param name="FirstYear">Of the days that were at hand.</param>
/// <param name="Years">Years' worth of days with known air.</param>
/// <param name="WeeklyRainMm">Normal of each seven days from 1 January; the 52nd week's days, eight or nine, count as seven.</param>
/// <param name="WeeklyEvapotranspirationMm">As for rain: FAO-56 reference evapotranspiration.</param>
/// <param name="DailyAir">One for each day of a year without leap day.</param>
public sealed record ClimateSummary(
    AnnualDate SeasonStart, int FirstYear, int LastYear, int Years,
    ImmutableArray<FrostSeason> Frosts, ImmutableArray<SoilWarm> Soils, ImmutableArray<HotWeek> HotWeeks, ImmutableArray<MildNights> Nights,
    ImmutableArray<double> WeeklyRainMm, ImmutableArray<double> WeeklyEvapotranspirationMm, ImmutableArray<NormalAir> DailyAir)
{
    private const int Season = 365;

    private static readonly int[] SoilDepthsCm = [5, 10];
    private static readonly bool[] MeanThenLow = [false, true];
    private static readonly double[] NightThresholds = [4, 7, 9, 10];
    private static readonly double[] SoilThresholds = [5, 8, 10, 12, 15.6, 18, 20];

    /// <summary>What is usual in the garden's years. Places without frost, without warmth or with polar days have dates that never come.</summary>
    public static ClimateSummary Of(PastDays days, bool southern)
    {
        var start = southern ? new AnnualDate(7, 1) : new AnnualDate(1, 1);
        return new(
            start, days.Dates.Start.Year, days.Dates.End.Year, YearsIn(days),
            [Frost(false, 0), Frost(false, -2.2), Frost(true, 0)],
            [.. from depth in SoilDepthsCm from ofLow in MeanThenLow from threshold in SoilThresholds select Soil(depth, ofLow, threshold)],
            [Hot(21), Hot(24)],
            [.. NightThresholds.Select(Mild)],
            Normals.Weekly(days, DayFigure.Rain), Normals.Weekly(days, DayFigure.ReferenceEvapotranspiration), Normals.Air(days));

        FrostSeason Frost(bool ofLeaf, double threshold)
        {
            var lows = days[ofLeaf ? DayFigure.LeafLow : DayFigure.AirLow];
            return new(
                ofLeaf, threshold,
                UsualDate.OfLast(start, [.. FrostDates.LastOfSpring(lows, days.Dates.Start, threshold, southern).Select(year => year.DayOfSeason)]),
                UsualDate.OfFirst(start, [.. FrostDates.FirstOfAutumn(lows, days.Dates.Start, threshold, southern).Select(year => year.DayOfSeason)]));
        }

        SoilWarm Soil(int depth, bool ofLow, double threshold)
        {
            var figure = (depth, ofLow) switch
            {
                (5, false) => DayFigure.Soil5CmMean,
                (5, true) => DayFigure.Soil5CmLow,
                (_, false) => DayFigure.Soil10CmMean,
                (_, true) => DayFigure.Soil10CmLow,
            };
            return new(depth, ofLow, threshold, Reached(day => AtLeast(
                ofLow ? days.LowOver(figure, day, 3) : days.MeanOver(figure, day, 3), threshold)));
        }

        HotWeek Hot(double threshold)
        {
            return new(
                threshold, Reached(IsHot), ClimateDates.DateLeft(days.Dates, start, Season, IsHot));

            bool? IsHot(int day) => days.MeanOver(DayFigure.AirMean, day, 7) is var mean && double.IsNaN(mean) ? null : mean > threshold;
        }

        // Asked in the morning: the last night that has passed is the one that began the evening before.
        MildNights Mild(double threshold) => new(threshold, Reached(day => AtLeast(days.LowOver(DayFigure.NightLow, day - 1, 7), threshold)));

        UsualDate Reached(Func<int, bool?> holds) => ClimateDates.DateReached(days.Dates, start, Season, holds);
    }

    public NormalAir AirOn(LocalDate date) => DailyAir[Normals.SlotOf(date)];

    private static bool? AtLeast(double value, double threshold) => double.IsNaN(value) ? null : value >= threshold;

    private static int YearsIn(PastDays days)
    {
        int known = 0;
        foreach (double mean in days[DayFigure.AirMean])
            known += double.IsNaN(mean) ? 0 : 1;
        return (int)Math.Round(known / 365.25);
    }
}
