using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Conditions;

/// <summary>What a phrase is about. <see cref="ConditionLanguage"/> has the words and the meaning of each.</summary>
public enum Measure
{
    Air, Leaf, Soil, Rain, Gust, Days,
    Wind, Snow, Humidity, DewPoint, Cloud, Sun, Warmth, WaterUse, Daylight,
    LeafWetness, GroundFrost, Chill, HeatIndex, Thunder, Hail, WaterDeficit, WaterDeficitShare,
    LateBlightDays, LateBlightValues, EarlyBlightValues,
    LettuceMildewDays, CucumberMildewDays, BasilMildewDays,
}

/// <summary>How a day's warmth is reckoned. A sum agrees with its source only by the source's own method.</summary>
public enum WarmthMethod
{
    Hours, Average, AverageOfClipped, SingleTriangle, DoubleTriangle, SingleSine, DoubleSine, ReducingCeiling,
}

/// <summary>A measure with what makes it definite: the soil's depth, the base, ceiling and method of warmth.</summary>
public readonly record struct Measured(
    Measure Measure, double? DepthMetres = null, double? BaseCelsius = null, double? CeilingCelsius = null,
    WarmthMethod Method = WarmthMethod.Hours);

/// <summary>What of the window's hours counts.</summary>
public enum Statistic
{
    /// <summary>Of measures with one value a day: days and daylight.</summary>
    Itself,
    Low, High, Mean, Total, Peak,
    HoursAbove, HoursBelow, RunAbove, RunBelow, MeanOfLows, MeanOfHighs, MorningsAbove, MorningsBelow,
    /// <summary>Of measures that either are or are not in an hour: how many hours, and how many on end.</summary>
    Hours, Run,
}

public enum WindowKind
{
    PastHours, PastDays, PastNights, NextHours, NextDays, NextNights, Today, Tonight, Tomorrow, Since, Until,
}

/// <summary>The stretch of time a phrase looks at.</summary>
/// <param name="Count">How many hours, days or nights; 0 for the others.</param>
/// <param name="Moment">For <see cref="WindowKind.Since"/> and <see cref="WindowKind.Until"/>.</param>
public readonly record struct TimeWindow(WindowKind Kind, int Count = 0, Moment? Moment = null);

/// <summary>Moments in a planting's or a place's life that phrases count from.</summary>
public enum Milestone
{
    Sown, Up, PottedOn, Hardening, SetOut, Flowering, FruitSet, Bearing, Harvested, Cleared, Seen, LastDone, Away, Frost,
    LastSpringFrost, FirstAutumnFrost, Ripe, Covered, Stored, Midwinter,
}

/// <summary>A milestone, one date, or a date of every year.</summary>
public abstract record Moment
{
    private Moment() { }

    public sealed record Of(Milestone Milestone) : Moment;

    public sealed record OnDate(LocalDate Date) : Moment;

    /// <summary>The last one for "since", the next one for "until"; the day itself is both.</summary>
    public sealed record EachYear(AnnualDate Date) : Moment;
}

public enum Comparison { AtLeast, AtMost, Above, Below, Between }

/// <summary>A quantity, or a named number with or without one: <c>6 mm</c>, <c>{enough: 6 mm}</c>, <c>{leaf}</c>.</summary>
/// <param name="Name">The name that tuning binds to; null for a plain quantity.</param>
/// <param name="Default">What it is unless tuned; null for a name that a profile must bind.</param>
public sealed record Operand(string? Name, Quantity? Default);
