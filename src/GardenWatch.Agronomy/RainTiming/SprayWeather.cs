using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.RainTiming;

/// <summary>What is put out, as far as weather treats it differently.</summary>
public enum Sprayed { Anything, Oil, Soap, Sulfur, FineGranules }

/// <summary>What is against spraying in an hour.</summary>
[Flags]
public enum SprayFaults
{
    None = 0,
    TooStill = 1,
    TooWindy = 2,
    /// <summary>Near night a layer of cold air may keep the mist together and carry it far.</summary>
    Inversion = 4,
    TooHot = 8,
    TooCold = 16,
    RainTooSoon = 32,
    ThirstyPlants = 64,
}

/// <summary>An hour as a sprayer sees it; NaN for what is not known.</summary>
/// <param name="WindMetresPerSecond">About plant height; two metres will do.</param>
/// <param name="HoursSinceSunrise">Below nothing before it.</param>
/// <param name="HoursUntilSunset">Below nothing after it.</param>
/// <param name="DryHoursAhead">Until the next rain.</param>
/// <param name="WaterStress">Of the root zone: 1 while water is easily had (<see cref="RootZone.Stress"/>).</param>
public readonly record struct SprayHour(
    double WindMetresPerSecond, double AirC, double HoursSinceSunrise, double HoursUntilSunset, double DryHoursAhead, double WaterStress = 1);

/// <param name="Against">What is surely against it.</param>
/// <param name="Unknown">What can't be judged.</param>
public readonly record struct SprayAdvice(SprayFaults Against, SprayFaults Unknown)
{
    /// <summary>Null when nothing is against it but something is unknown.</summary>
    public bool? Suits => Against != SprayFaults.None ? false : Unknown != SprayFaults.None ? null : true;
}

/// <summary>Wind, warmth and calm for spraying.</summary>
/// <remarks>
/// Wind 1.3 to 3.6 m/s (R024; the looser 4.5 m/s of R025 is not followed for mist, only for granules, R026). No spraying from
/// two hours before sunset to one after sunrise (R027): it collides with spraying after bees have gone in (R034), so plants
/// in bloom are best not sprayed at all. Oil, soap and sulfur not at 32.2 °C and above nor on thirsty plants (R028, R031, R032;
/// the 37.8 °C of a web page is not followed), oil not below 4.4 °C (R029). <see cref="RainRule.LabelFirst"/>
/// </remarks>
public static class SprayWeather
{
    /// <summary>Days between oil and sulfur, either way round: 14 to 30 are given (R033); the longer is taken.</summary>
    public static int DaysBetweenOilAndSulfur { get; } = (int)RainRule.Of("R033").Max;

    private static readonly RainRule Wind = RainRule.Of("R024"), GranuleWind = RainRule.Of("R026"), Inversion = RainRule.Of("R027");
    private static readonly double OilColdest = RainRule.Of("R029").Min;

    /// <summary>The highest air for it, °C; infinite where no limit is published.</summary>
    public static double HottestC(Sprayed what) => what switch
    {
        Sprayed.Oil => RainRule.Of("R028").Max,
        Sprayed.Soap => RainRule.Of("R031").Max,
        Sprayed.Sulfur => RainRule.Of("R032").Max,
        _ => double.PositiveInfinity,
    };

    /// <summary>What is against it in an hour.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    public static SprayAdvice Judge(Sprayed what, SprayHour hour)
    {
        double wind = Plausible.Wind(hour.WindMetresPerSecond), air = Within.Air(hour.AirC), hottest = HottestC(what);
        Within.Checked(hour.DryHoursAhead, 0, 10_000, "Dry hours ahead", "hours", nameof(hour));
        Within.Share(hour.WaterStress, "Water stress", nameof(hour));
        var against = SprayFaults.None;
        var unknown = SprayFaults.None;
        void Check(SprayFaults fault, double value, bool isAgainst)
        {
            against |= isAgainst ? fault : SprayFaults.None;
            unknown |= double.IsNaN(value) ? fault : SprayFaults.None;
        }
        if (what == Sprayed.FineGranules)
        {
            Check(SprayFaults.TooWindy, wind, wind > GranuleWind.Max);
            return new(against, unknown);
        }
        Check(SprayFaults.TooStill, wind, wind < Wind.Min);
        Check(SprayFaults.TooWindy, wind, wind > Wind.Max);
        Check(SprayFaults.Inversion, hour.HoursSinceSunrise, hour.HoursSinceSunrise < Inversion.Max);
        Check(SprayFaults.Inversion, hour.HoursUntilSunset, hour.HoursUntilSunset < -Inversion.Min);
        Check(SprayFaults.RainTooSoon, hour.DryHoursAhead, hour.DryHoursAhead < Rainfastness.LeastHours);
        if (what == Sprayed.Oil)
            Check(SprayFaults.TooCold, air, air < OilColdest);
        if (double.IsFinite(hottest))
        {
            Check(SprayFaults.TooHot, air, air >= hottest);
            Check(SprayFaults.ThirstyPlants, hour.WaterStress, hour.WaterStress < 1);
        }
        return new(against, unknown);
    }
}
