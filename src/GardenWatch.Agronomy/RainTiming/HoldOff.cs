namespace GardenWatch.Agronomy.RainTiming;

/// <summary>How long heavy rain must stay away before something is put out.</summary>
/// <remarks><see cref="RainRule.LabelFirst"/> Regulations speak of a forecast window, not of a depth.</remarks>
public static class HoldOff
{
    /// <summary>Hours without heavy rain for fertiliser and manure (R010).</summary>
    public static int FertiliserHours { get; } = (int)RainRule.Of("R010").Min;

    /// <summary>Hours without heavy rain for outdoor insecticides, unless the label says to water in (R011).</summary>
    public static int InsecticideHours { get; } = (int)RainRule.Of("R011").Min;

    /// <summary>Whether heavy rain (7.6 mm in an hour, R014) is due in so many hours; null when hours that matter are unknown.</summary>
    /// <param name="hourlyMm">From now on; hours beyond its end are unknown.</param>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be, or fewer than one hour.</exception>
    public static bool? HeavyRainWithin(ReadOnlySpan<double> hourlyMm, int hours)
    {
        if (hours < 1)
            throw new ArgumentOutOfRangeException(nameof(hours), hours, "A window has one hour or more.");
        bool unknown = hours > hourlyMm.Length;
        foreach (double mm in hourlyMm[..Math.Min(hours, hourlyMm.Length)])
        {
            if (Plausible.Rain(mm) >= WateringIn.HardestMmPerHour)
                return true;
            unknown |= double.IsNaN(mm);
        }
        return unknown ? null : false;
    }
}
