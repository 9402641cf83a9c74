using System.Collections.Immutable;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Conditions;

/// <summary>Which windows a measure can be asked over.</summary>
public enum WindowsThatFit
{
    /// <summary>All but "until".</summary>
    Weather,
    /// <summary>Today and tomorrow.</summary>
    WholeDays,
    /// <summary>Since or until a moment.</summary>
    Moments,
}

/// <summary>One measure: how it is written, what it is, how a message words it.</summary>
/// <param name="Words">As written; the first one is printed.</param>
/// <param name="Noun">As a sentence names it; {at} is the soil's depth, {base} the warmth's base.</param>
/// <param name="Usual">The statistic when none is written; null when one must be.</param>
/// <param name="OfTheHour">Each stamp speaks of the hour that ends at it; else of the instant itself.</param>
/// <param name="NeverNegative">What is known of a total is then the least it can be.</param>
public sealed record MeasureRow(
    Measure Measure, ImmutableArray<string> Words, string Noun, Dimension Dimension, ImmutableArray<Statistic> Statistics,
    Statistic? Usual, WindowsThatFit Windows, bool OfTheHour, bool NeverNegative, string Meaning, string Needs, string Example);

/// <summary>One statistic: how it is written and how much of the window must be known.</summary>
/// <param name="ShareNeeded">Least share of the window's hours that must be known for its value to count.</param>
/// <param name="TakesLevel">A quantity follows: "hours above 90 %".</param>
/// <param name="StampAtStart">The instant at which the window opens counts too.</param>
/// <param name="Said">The sentence, unless the measure has its own: {v} the value, {when} and {of} the window, {level} the level.</param>
public sealed record StatisticRow(
    Statistic Statistic, ImmutableArray<string> Words, double ShareNeeded, bool TakesLevel, bool StampAtStart, string Said, string Meaning);

/// <param name="NeedsCeiling">It says what becomes of warmth above a ceiling, and nothing without one.</param>
public sealed record WarmthMethodRow(WarmthMethod Method, string Words, bool NeedsCeiling, string Meaning);

public sealed record WindowRow(WindowKind Kind, string Words, bool Counted, string Meaning);

public sealed record ComparisonRow(Comparison Comparison, ImmutableArray<string> Words, string Meaning);

/// <param name="Clause">As a sentence says it: "since it was set out".</param>
public sealed record MilestoneRow(Milestone Milestone, ImmutableArray<string> Words, string Clause);

/// <summary>
/// The one definition of the condition language. Reading, meaning, printing, error suggestions and the reference page
/// all follow from these tables; a new measure is a row here and a column in <see cref="BedWeather"/>.
/// </summary>
public static class ConditionLanguage
{
    private static readonly ImmutableArray<Statistic> Extremes = [Statistic.Low, Statistic.High, Statistic.Mean];

    private static readonly ImmutableArray<Statistic> Temperatures =
    [
        Statistic.Low, Statistic.High, Statistic.Mean, Statistic.HoursAbove, Statistic.HoursBelow, Statistic.RunAbove,
        Statistic.RunBelow, Statistic.MeanOfLows, Statistic.MeanOfHighs, Statistic.MorningsAbove, Statistic.MorningsBelow,
    ];

    private static readonly ImmutableArray<Statistic> Levels =
        [.. Extremes, Statistic.HoursAbove, Statistic.HoursBelow, Statistic.RunAbove, Statistic.RunBelow];

    private static readonly ImmutableArray<Statistic> States = [Statistic.Hours, Statistic.Run];

    /// <summary>"dry next 2 hours": no more rain than the smallest a gauge tells.</summary>
    public static Quantity Dry { get; } = new(0.2, Dimension.WaterDepth);

    public const double UsualSoilDepthMetres = 0.05;

    /// <summary>Deepest soil a phrase may ask for; the models end there.</summary>
    public const double DeepestSoilMetres = 2;

    public static ImmutableArray<MeasureRow> Measures { get; } =
    [
        new(Measure.Air, ["air"], "air", Dimension.Temperature, Temperatures, null, WindowsThatFit.Weather, false, false,
            "air at two metres over the bed: the place's air less the bed's frost pocket", "hourly air",
            "air low tonight at most 2 °C"),
        new(Measure.Leaf, ["leaf", "leaves"], "leaves", Dimension.Temperature, Temperatures, Statistic.Low, WindowsThatFit.Weather, false, false,
            "leaves near the ground, colder than the air on a clear calm night; their low is the ground frost that matters",
            "hourly air, dew point, cloud and wind", "leaf low tonight at most 0 °C"),
        new(Measure.Soil, ["soil"], "soil at {at}", Dimension.Temperature, Temperatures, Statistic.Mean, WindowsThatFit.Weather, false, false,
            "the bed's soil at a depth, 5 cm when none is written", "some weeks of hourly air and sun before the window",
            "soil at 10 cm mean past 3 days at least 16 °C"),
        new(Measure.Rain, ["rain"], "rain", Dimension.WaterDepth, [Statistic.Total, Statistic.Peak], Statistic.Total, WindowsThatFit.Weather, true, true,
            "rain, showers and the water of snow; the peak is that of the wettest hour", "hourly rain",
            "rain total next 24 hours between 6 mm and 15 mm"),
        new(Measure.Gust, ["gust", "gusts"], "gusts", Dimension.Speed, [Statistic.High], Statistic.High, WindowsThatFit.Weather, true, true,
            "the highest gust at ten metres", "hourly gusts", "gust high next 24 hours at most 12 m/s"),
        new(Measure.Days, ["days"], "days", Dimension.Days, [Statistic.Itself], Statistic.Itself, WindowsThatFit.Moments, false, false,
            "local days, the date itself being day 0; until a date that has passed they are less than none", "the moment's date",
            "days since sown at least 14 days"),
        new(Measure.Wind, ["wind"], "wind", Dimension.Speed, Levels, null, WindowsThatFit.Weather, false, true,
            "wind at ten metres", "hourly wind", "wind high next 2 hours at most 4.5 m/s"),
        new(Measure.Snow, ["snow"], "fresh snow", Dimension.Length, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "the depth of fresh snow, not what lies", "hourly snowfall", "snow total past 24 hours at least 3 cm"),
        new(Measure.Humidity, ["humidity"], "humidity", Dimension.Share, Levels, null, WindowsThatFit.Weather, false, true,
            "relative humidity at two metres", "hourly humidity", "humidity hours above 90 % past 2 days at least 12 hours"),
        new(Measure.DewPoint, ["dew point"], "dew point", Dimension.Temperature, Levels, null, WindowsThatFit.Weather, false, false,
            "the dew point at two metres", "hourly dew point", "dew point low tonight at most 0 °C"),
        new(Measure.Cloud, ["cloud", "clouds"], "cloud", Dimension.Share, Levels, Statistic.Mean, WindowsThatFit.Weather, false, true,
            "the share of the sky that is covered", "hourly cloud", "cloud mean tonight at most 30 %"),
        new(Measure.Sun, ["sun"], "sun", Dimension.Radiation,
            [Statistic.High, Statistic.Mean, Statistic.HoursAbove, Statistic.HoursBelow], null, WindowsThatFit.Weather, true, true,
            "sunshine's power on the flat, each hour's mean; the mean of a day counts the night", "hourly radiation",
            "sun mean next 4 hours at least 250 W/m²"),
        new(Measure.Warmth, ["warmth"], "warmth above {base}", Dimension.Warmth, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, false, true,
            "degree-days: each hour's air over the bed above the base, no more of it than up to the ceiling, a twenty-fourth part each; or by another method, from each date's low and high",
            "hourly air since the moment; of a method that is named, 90 % of each date's hours", "warmth base 5 °C total since 1 March at least 190 °C days"),
        new(Measure.WaterUse, ["water use"], "water use", Dimension.WaterDepth, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "what well watered short grass gives off (FAO-56 reference)", "hourly reference evapotranspiration",
            "water use total past 24 hours at least 2 mm"),
        new(Measure.Daylight, ["daylight"], "daylight", Dimension.Hours, [Statistic.Itself], Statistic.Itself, WindowsThatFit.WholeDays, false, true,
            "from sunrise to sunset", "the place alone", "daylight today at least 14 hours"),
        new(Measure.LeafWetness, ["leaf wetness"], "wet leaves", Dimension.Hours, States, Statistic.Hours, WindowsThatFit.Weather, false, true,
            "hours in which leaves in the open are wet: rain in the hour, or a humidity of 90 % or more (Sentelhas et al. 2008); dew of a drier night is missed",
            "hourly humidity and rain; humidity of 90 % or rain alone settles an hour", "leaf wetness hours past 7 days at least 40 hours"),
        new(Measure.GroundFrost, ["ground frost"], "ground frost", Dimension.Hours, States, Statistic.Hours, WindowsThatFit.Weather, false, true,
            "hours in which leaves near the ground are at 0 °C or colder", "hourly air, dew point, cloud and wind", "ground frost hours past 14 days at least 6 hours"),
        new(Measure.Chill, ["chill"], "chill", Dimension.Hours, [Statistic.Hours], Statistic.Hours, WindowsThatFit.Weather, false, true,
            "hours with air over the bed from 0 to 7.2 °C (Weinberger 1950); warm days that undo chill are not taken off", "hourly air",
            "chill hours since 1 November at least 800 hours"),
        new(Measure.HeatIndex, ["heat index"], "heat index", Dimension.Temperature, Levels, Statistic.High, WindowsThatFit.Weather, false, false,
            "how hot the air of the place feels at work in the shade (Rothfusz 1990); full sun adds up to 8 °C", "hourly air and humidity",
            "heat index high today at most 32 °C"),
        new(Measure.Thunder, ["thunder"], "thunder", Dimension.Hours, States, Statistic.Hours, WindowsThatFit.Weather, false, true,
            "hours with a thunderstorm in the forecast's weather code", "the hourly weather code", "thunder hours next 6 hours at most 0 hours"),
        new(Measure.Hail, ["hail"], "hail", Dimension.Hours, States, Statistic.Hours, WindowsThatFit.Weather, false, true,
            "hours with hail in the forecast's weather code, which only models of some regions tell: none told is not none to come", "the hourly weather code",
            "hail hours past 24 hours above 0 hours"),
        new(Measure.WaterDeficit, ["soil water deficit"], "soil water", Dimension.WaterDepth, Extremes, Statistic.Mean, WindowsThatFit.Weather, false, true,
            "water that roots lack to a full soil, by the balance of FAO-56 chapter 8: a short-rooted crop that uses as much as short grass, roots 30 cm deep in a loam, unless more is known of the bed; water given by hand is not in it",
            "hourly rain and reference evapotranspiration, since a soaking rain or for some three dry weeks", "soil water deficit mean today at least 12 mm"),
        new(Measure.WaterDeficitShare, ["soil water deficit"], "soil water", Dimension.Share, Extremes, Statistic.Mean, WindowsThatFit.Weather, false, true,
            "the same as a share of what is easily had; at 100 % growth begins to suffer", "as for millimetres", "soil water deficit mean today at least 80 %"),
        new(Measure.LateBlightDays, ["late blight days"], "late blight weather", Dimension.Days, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "dates that complete the Hutton Criteria (2017): two dates running, each with a low of 10 °C or more and 6 hours at a humidity of 90 % or more; a date counts when it ends. A reason to look, no finding",
            "90 % of each date's hours of air and humidity, and of the date before", "late blight days past 7 days at least 1 day"),
        new(Measure.LateBlightValues, ["late blight values"], "late blight weather", Dimension.Severity, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "Wallin's severity values (1962), 0 to 4 a date, from the hours at a humidity of 90 % or more and their air: look in earnest at 18 to 20 from emergence; a date counts when it ends",
            "90 % of each date's hours of air and humidity", "late blight values since up at least 18 values"),
        new(Measure.EarlyBlightValues, ["early blight values"], "early blight weather", Dimension.Severity, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "severity values of Madden et al. 1978 as simplified by Pitblado 1992, 0 to 4 a date, from the hours of leaf wetness and their air: look in earnest at 15 to 20 since setting out or the last protection; a date counts when it ends",
            "90 % of each date's hours of air, humidity and rain", "early blight values since set out at least 15 values"),
        new(Measure.LettuceMildewDays, ["lettuce mildew days"], "downy mildew weather", Dimension.Days, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "dates on which leaves are wet for four hours from six in the morning, the first three of them at 20 °C or less and the next four at 22 °C or less on average (Wu et al. 2002); a date counts when it ends. A reason to look, no finding",
            "90 % of the hours of air, humidity and rain that it looks at", "lettuce mildew days past 7 days at least 1 day"),
        new(Measure.CucumberMildewDays, ["cucumber mildew days"], "downy mildew weather", Dimension.Days, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "dates with wet leaves long and warm enough at a stretch, from noon to noon, for cucumber and its kin (Cohen 1977): 6 hours at 15 to 20 °C, 12 hours at 10 to 20 °C, 24 hours at 5 to 20 °C; a date counts when it ends. A reason to look, no finding",
            "90 % of the hours of air, humidity and rain that it looks at", "cucumber mildew days past 7 days at least 1 day"),
        new(Measure.BasilMildewDays, ["basil mildew days"], "downy mildew weather", Dimension.Days, [Statistic.Total], Statistic.Total, WindowsThatFit.Weather, true, true,
            "dates with 7.5 hours at a humidity of 95 % or more and 4 hours of wet leaves at a stretch, from noon to noon (Cohen and Ben-Naim 2016), at 11.7 to 25 °C on average (Mississippi State University Extension P2936); a date counts when it ends. A reason to look, no finding",
            "90 % of the hours of air, humidity and rain that it looks at", "basil mildew days past 7 days at least 1 day"),
    ];

    public static ImmutableArray<StatisticRow> Statistics { get; } =
    [
        new(Statistic.Itself, [], 1, false, false, "{v} {when}", "the one value of the day"),
        new(Statistic.Low, ["low"], 0.9, false, true, "lowest {noun} {of} {v}",
            "the lowest; 90 % of the hours must be known, but one that is low enough settles it whatever is missing"),
        new(Statistic.High, ["high"], 0.9, false, true, "highest {noun} {of} {v}",
            "the highest; 90 % of the hours must be known, but one that is high enough settles it whatever is missing"),
        new(Statistic.Mean, ["mean"], 0.95, false, false, "{noun} {v} on average {when}", "the mean of the hours; 95 % of them must be known"),
        new(Statistic.Total, ["total"], 0.95, false, false, "{v} of {noun} {when}",
            "the sum of the hours; 95 % of them must be known, but what is known settles it once it is past a limit"),
        new(Statistic.Peak, ["peak"], 0.95, false, false, "{noun} up to {v} {when}",
            "the most in one hour; 95 % of the hours must be known, but one hour past a limit settles it"),
        new(Statistic.HoursAbove, ["hours above"], 0.95, true, false, "{noun} above {level} for {v} {when}", "how many hours are above a quantity; 95 % of them must be known, unless the rest can't change it"),
        new(Statistic.HoursBelow, ["hours below"], 0.95, true, false, "{noun} below {level} for {v} {when}", "how many hours are below a quantity; 95 % of them must be known, unless the rest can't change it"),
        new(Statistic.RunAbove, ["longest run above"], 1, true, false, "{noun} above {level} for {v} on end {when}", "hours on end above a quantity; a missing hour ends a run and leaves the answer unknown, unless one is long enough without it"),
        new(Statistic.RunBelow, ["longest run below"], 1, true, false, "{noun} below {level} for {v} on end {when}", "hours on end below a quantity; a missing hour ends a run and leaves the answer unknown, unless one is long enough without it"),
        new(Statistic.MeanOfLows, ["mean of lows"], 0.9, false, true, "{noun} {v} at the lowest, mean {of}", "each day's or night's low, then their mean; 90 % of each one's hours must be known"),
        new(Statistic.MeanOfHighs, ["mean of highs"], 0.9, false, true, "{noun} {v} at the highest, mean {of}", "each day's or night's high, then their mean; 90 % of each one's hours must be known"),
        new(Statistic.MorningsAbove, ["mornings above"], 1, true, false, "{noun} above {level} for {v} running at 8 in the morning", "mornings on end, at 8 o'clock local time, above a quantity, counted back from the latest in the window"),
        new(Statistic.MorningsBelow, ["mornings below"], 1, true, false, "{noun} below {level} for {v} running at 8 in the morning", "mornings on end, at 8 o'clock local time, below a quantity, counted back from the latest in the window"),
        new(Statistic.Hours, ["hours"], 0.95, false, false, "{v} of {noun} {when}", "how many hours it is so; 95 % of the hours must be known, unless the rest can't change it"),
        new(Statistic.Run, ["longest run"], 1, false, false, "{v} of {noun} on end {when}", "hours on end in which it is so; a missing hour ends a run and leaves the answer unknown, unless one is long enough without it"),
    ];

    /// <summary>Where a measure has a better sentence than its statistic.</summary>
    public static ImmutableArray<(Measure Measure, Statistic Statistic, string Said)> Sayings { get; } =
    [
        (Measure.Air, Statistic.Low, "coldest air {of} {v}"),
        (Measure.Air, Statistic.High, "warmest air {of} {v}"),
        (Measure.Leaf, Statistic.Low, "coldest leaves {of} {v}"),
        (Measure.Leaf, Statistic.High, "warmest leaves {of} {v}"),
        (Measure.Soil, Statistic.Low, "soil {v} at {at}, lowest {of}"),
        (Measure.Soil, Statistic.High, "soil {v} at {at}, highest {of}"),
        (Measure.Soil, Statistic.Mean, "soil {v} at {at}, mean {of}"),
        (Measure.Gust, Statistic.High, "gusts up to {v} {when}"),
        (Measure.Wind, Statistic.High, "wind up to {v} {when}"),
        (Measure.Daylight, Statistic.Itself, "{v} of daylight {when}"),
        (Measure.WaterDeficit, Statistic.Low, "{v} of water lacking in the soil, lowest {of}"),
        (Measure.WaterDeficit, Statistic.High, "{v} of water lacking in the soil, highest {of}"),
        (Measure.WaterDeficit, Statistic.Mean, "{v} of water lacking in the soil, mean {of}"),
        (Measure.WaterDeficitShare, Statistic.Low, "{v} of the soil's easily had water used up, lowest {of}"),
        (Measure.WaterDeficitShare, Statistic.High, "{v} of the soil's easily had water used up, highest {of}"),
        (Measure.WaterDeficitShare, Statistic.Mean, "{v} of the soil's easily had water used up, mean {of}"),
    ];

    public static ImmutableArray<WarmthMethodRow> WarmthMethods { get; } =
    [
        new(WarmthMethod.Hours, "hours", false, "each hour's air; what is meant when no method is written"),
        new(WarmthMethod.Average, "average", false, "the mean of low and high, cut to base and ceiling (McMaster and Wilhelm 1997, method 1)"),
        new(WarmthMethod.AverageOfClipped, "clipped average", false, "low and high cut to base and ceiling, then their mean (McMaster and Wilhelm 1997, method 2; the maize rule)"),
        new(WarmthMethod.SingleTriangle, "single triangle", false, "a triangle through low, high and the same low (Zalom et al. 1983)"),
        new(WarmthMethod.DoubleTriangle, "double triangle", false, "half a triangle up from the low, half down to the next date's (Zalom et al. 1983)"),
        new(WarmthMethod.SingleSine, "single sine", false, "a sine through low and high (Baskerville and Emin 1969; Zalom et al. 1983)"),
        new(WarmthMethod.DoubleSine, "double sine", false, "half a sine up from the low, half down to the next date's (Allen 1976; Zalom et al. 1983)"),
        new(WarmthMethod.ReducingCeiling, "reducing ceiling", true, "the high over the base, mirrored down above the ceiling (Perry and Wehner 1996, cucumber)"),
    ];

    public static ImmutableArray<WindowRow> Windows { get; } =
    [
        new(WindowKind.PastHours, "past {n} hours", true, "the N whole hours before the current one began"),
        new(WindowKind.PastDays, "past {n} days", true, "from this clock time N local days ago until now, so that each day counts once whole and today's rain counts"),
        new(WindowKind.PastNights, "past {n} nights", true, "the N nights before tonight"),
        new(WindowKind.NextHours, "next {n} hours", true, "N whole hours from the beginning of the current one"),
        new(WindowKind.NextDays, "next {n} days", true, "from now until this clock time N local days on"),
        new(WindowKind.NextNights, "next {n} nights", true, "tonight and the nights that follow, N in all"),
        new(WindowKind.Today, "today", false, "the whole local date, its past hours too"),
        new(WindowKind.Tonight, "tonight", false, "the night that is running, else the next; the whole of it from sunset to two hours after sunrise"),
        new(WindowKind.Tomorrow, "tomorrow", false, "the whole local date after today"),
        new(WindowKind.Since, "since {moment}", false, "from the moment until now; a moment that is a date begins with its day"),
        new(WindowKind.Until, "until {moment}", false, "the days that are left"),
    ];

    public static ImmutableArray<ComparisonRow> Comparisons { get; } =
    [
        new(Comparison.AtLeast, ["at least", ">=", "≥", "no less than"], "as much or more"),
        new(Comparison.AtMost, ["at most", "<=", "≤", "no more than"], "as much or less"),
        new(Comparison.Above, ["above", ">", "over", "more than"], "more, not as much"),
        new(Comparison.Below, ["below", "<", "under", "less than"], "less, not as much"),
        new(Comparison.Between, ["between"], "both ends included"),
    ];

    public static ImmutableArray<MilestoneRow> Milestones { get; } =
    [
        new(Milestone.Sown, ["sown", "sowing"], "it was sown"),
        new(Milestone.Up, ["up"], "it came up"),
        new(Milestone.PottedOn, ["potted on"], "it was potted on"),
        new(Milestone.Hardening, ["hardening"], "hardening began"),
        new(Milestone.SetOut, ["set out"], "it was set out"),
        new(Milestone.Flowering, ["flowering"], "it flowered"),
        new(Milestone.FruitSet, ["fruit set"], "fruit set"),
        new(Milestone.Bearing, ["bearing"], "it began to bear"),
        new(Milestone.Harvested, ["harvested"], "it was harvested"),
        new(Milestone.Cleared, ["cleared"], "the bed was cleared"),
        new(Milestone.Seen, ["seen"], "it was seen"),
        new(Milestone.LastDone, ["last done"], "it was last done"),
        new(Milestone.Away, ["away"], "you go away"),
        new(Milestone.Frost, ["frost"], "it froze"),
        new(Milestone.LastSpringFrost, ["last spring frost", "usual last spring frost"], "the usual last spring frost"),
        new(Milestone.FirstAutumnFrost, ["first autumn frost", "usual first autumn frost", "first fall frost"], "the usual first autumn frost"),
        new(Milestone.Ripe, ["ripe"], "it was ripe"),
        new(Milestone.Covered, ["covered"], "it was covered"),
        new(Milestone.Stored, ["stored"], "it was stored"),
        new(Milestone.Midwinter, ["midwinter"], "midwinter"),
    ];

    public static MeasureRow Row(Measure measure) => Measures[(int)measure];

    public static StatisticRow Row(Statistic statistic) => Statistics[(int)statistic];

    public static WindowRow Row(WindowKind kind) => Windows[(int)kind];

    public static ComparisonRow Row(Comparison comparison) => Comparisons[(int)comparison];

    public static MilestoneRow Row(Milestone milestone) => Milestones[(int)milestone];

    public static WarmthMethodRow Row(WarmthMethod method) => WarmthMethods[(int)method];

    public static string Saying(Measure measure, Statistic statistic)
    {
        foreach (var saying in Sayings)
        {
            if (saying.Measure == measure && saying.Statistic == statistic)
                return saying.Said;
        }
        return Row(statistic).Said;
    }

    /// <summary>What a statistic of a measure is measured in.</summary>
    public static Dimension DimensionOf(Measure measure, Statistic statistic) => statistic switch
    {
        Statistic.Peak => Dimension.RainRate,
        Statistic.HoursAbove or Statistic.HoursBelow or Statistic.RunAbove or Statistic.RunBelow => Dimension.Hours,
        Statistic.MorningsAbove or Statistic.MorningsBelow => Dimension.Days,
        _ => Row(measure).Dimension,
    };

    public static bool Fits(MeasureRow measure, Statistic statistic, WindowKind window)
    {
        bool byPiece = statistic is Statistic.MeanOfLows or Statistic.MeanOfHighs;
        bool byMorning = statistic is Statistic.MorningsAbove or Statistic.MorningsBelow;
        return measure.Windows switch
        {
            WindowsThatFit.Moments => window is WindowKind.Since or WindowKind.Until,
            WindowsThatFit.WholeDays => window is WindowKind.Today or WindowKind.Tomorrow,
            _ when byPiece => window is WindowKind.PastDays or WindowKind.NextDays or WindowKind.PastNights or WindowKind.NextNights,
            _ when byMorning => window is WindowKind.PastDays,
            _ => window != WindowKind.Until,
        };
    }
}
