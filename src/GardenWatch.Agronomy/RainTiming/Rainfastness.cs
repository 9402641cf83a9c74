using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>What rain since a protective spray asks for.</summary>
public enum Protection { Unknown, Keeps, HalveTheDaysLeft, Renew }

/// <summary>Rain after spraying.</summary>
/// <remarks><see cref="RainRule.LabelFirst"/></remarks>
public static class Rainfastness
{
    /// <summary>By all rain since a protectant that had dried.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Rain that can't be.</exception>
    /// <remarks>
    /// To 25 mm the schedule is kept: Kansas State sees no loss, Ontario up to half (R018). To 50 mm the days to the next spray
    /// are halved (R019), above it is washed off (R020); never sooner than the label allows.
    /// </remarks>
    public static Protection AfterRain(double rainSinceMm) =>
        Within.Checked(rainSinceMm, 0, 5000, "Rain since spraying", "mm", nameof(rainSinceMm)) switch
        {
            double.NaN => Protection.Unknown,
            _ when rainSinceMm < RainRule.Of("R019").Min => Protection.Keeps,
            _ when rainSinceMm <= RainRule.Of("R019").Max => Protection.HalveTheDaysLeft,
            _ => Protection.Renew,
        };
}
