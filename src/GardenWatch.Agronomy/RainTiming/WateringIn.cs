using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>What is scattered and wants a rain after it.</summary>
public enum Granules { Fertiliser, SoilInsects, WeedPreventer }

/// <summary>What a rain does to granules.</summary>
public enum RainOnGranules { Unknown, TooLittle, WatersIn, WashesOff }

/// <param name="MissingMm">To be given by hand after too little rain; nothing otherwise.</param>
public readonly record struct WateringInAdvice(RainOnGranules Rain, double MissingMm);

/// <summary>Rain enough to water granules in, not so much or so hard as to wash them off.</summary>
/// <remarks>
/// Depths of 6 to 13 mm are most often given (rain rules R001, R003, R006). No source gives one depth that is too much, so
/// three limits stand together: an hour of heavy rain (R014), rain faster than the soil takes in (R015), and more in all than
/// counts in full before some runs off or drains (R049). <see cref="RainRule.LabelFirst"/>
/// </remarks>
public static class WateringIn
{
    /// <summary>mm; above it a third runs off or drains (R049).</summary>
    public static double MostMm { get; } = RainRule.Of("R049").Min;

    /// <summary>mm in an hour: heavy rain (R014).</summary>
    public static double HardestMmPerHour { get; } = RainRule.Of("R014").Min;

    /// <summary>Days after which to water in by hand when no rain came (R005).</summary>
    public static double WaitDays { get; } = RainRule.Of("R005").Max;

    /// <summary>Least rain or watering that takes them in, mm.</summary>
    public static double NeededMm(Granules granules) => RainRule.Of(granules switch
    {
        Granules.Fertiliser => "R001",
        Granules.SoilInsects => "R003",
        Granules.WeedPreventer => "R006",
        _ => throw new ArgumentOutOfRangeException(nameof(granules), granules, "Not a kind of granules."),
    }).Min;

    /// <summary>What a rain does to them, from its total and its wettest hour.</summary>
    /// <param name="totalMm">0 to 2000 mm.</param>
    /// <param name="peakMmPerHour">0 to 500 mm/h.</param>
    /// <param name="intakeMmPerHour">Of the soil (<see cref="SoilTexture.IntakeMmPerHour"/>); NaN where it is not known.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static WateringInAdvice Judge(Granules granules, double totalMm, double peakMmPerHour, double intakeMmPerHour = double.NaN)
    {
        double needed = NeededMm(granules);
        Plausible.Rain(totalMm);
        Within.Checked(peakMmPerHour, 0, 500, "The wettest hour", "mm/h", nameof(peakMmPerHour));
        // A limit that is surely passed settles it, whatever else is unknown.
        if (totalMm > MostMm || peakMmPerHour >= HardestMmPerHour || peakMmPerHour > intakeMmPerHour)
            return new(RainOnGranules.WashesOff, 0);
        if (double.IsNaN(totalMm) || double.IsNaN(peakMmPerHour))
            return new(RainOnGranules.Unknown, double.NaN);
        return totalMm >= needed ? new(RainOnGranules.WatersIn, 0) : new(RainOnGranules.TooLittle, needed - totalMm);
    }

    /// <summary>Share of the runs of a forecast in which rain waters them in: enough and not too much in the same run.</summary>
    /// <param name="hourlyOfRuns">Rain of the hours looked at, one array a run.</param>
    /// <returns>NaN when no run, or more than one in ten, is unknown.</returns>
    public static double Share(Granules granules, IReadOnlyList<double[]> hourlyOfRuns, double intakeMmPerHour = double.NaN)
    {
        int known = 0, right = 0;
        foreach (double[] hours in hourlyOfRuns)
        {
            var rain = Judge(granules, Rain.Total(hours), Rain.Peak(hours), intakeMmPerHour).Rain;
            known += rain == RainOnGranules.Unknown ? 0 : 1;
            right += rain == RainOnGranules.WatersIn ? 1 : 0;
        }
        return known == 0 || known < 0.9 * hourlyOfRuns.Count ? double.NaN : (double)right / known;
    }
}
