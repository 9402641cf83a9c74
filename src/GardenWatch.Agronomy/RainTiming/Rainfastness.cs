using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>What is left on leaves of a spray that rain followed.</summary>
public enum SprayLeft { Unknown, MostlyGone, InDoubt, Held }

/// <summary>What rain since a protective spray asks for.</summary>
public enum Protection { Unknown, Keeps, HalveTheDaysLeft, Renew }

/// <summary>Rain after spraying.</summary>
/// <remarks>
/// A protectant is worth most when it dries on before the rain that spreads disease (Purdue Vegetable Crops Hotline): rain
/// tomorrow is a reason to spray today, if the dry hours hold. <see cref="RainRule.LabelFirst"/>
/// </remarks>
public static class Rainfastness
{
    /// <summary>Dry hours without which most of it is lost (R016).</summary>
    public static double LeastHours { get; } = RainRule.Of("R016").Min;

    /// <summary>Dry hours after which nothing is lost (R017).</summary>
    public static double FullHours { get; } = RainRule.Of("R017").Min;

    /// <summary>By the dry hours between spraying and rain.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Less than no time.</exception>
    public static SprayLeft AfterDryHours(double hours) => Within.Checked(hours, 0, 10_000, "Dry hours", "hours", nameof(hours)) switch
    {
        double.NaN => SprayLeft.Unknown,
        _ when hours < LeastHours => SprayLeft.MostlyGone,
        _ when hours < FullHours => SprayLeft.InDoubt,
        _ => SprayLeft.Held,
    };

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
