using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>Where in a bed a night's temperature is asked for.</summary>
public enum NightLevel
{
    /// <summary>Air of the bed at screen height.</summary>
    Screen,
    /// <summary>An exposed leaf near the ground.</summary>
    Leaf,
    /// <summary>A leaf under the cover.</summary>
    UnderCover,
}

/// <summary>What stands between a bed and the night.</summary>
/// <param name="FrostPocket">As for <see cref="BedAir"/>.</param>
/// <param name="Layers">Of the cover, one or two.</param>
/// <param name="UnderGlass">In a frame, tunnel or greenhouse that stands there anyway, as for <see cref="LeafTemperature"/>.</param>
public sealed record NightBed(
    TemperatureDifference FrostPocket, GroundUnder Ground = GroundUnder.ShortGrass, FrostCover? Cover = null, int Layers = 1, bool UnderGlass = false);

/// <summary>When a night is at or below a limit.</summary>
/// <param name="Falls">When it first falls there; the first stamp when it begins so. Null when it never is.</param>
/// <param name="Rises">When it last rises above; null when it has not by the end, or never was below.</param>
/// <param name="Hours">Altogether, in hours of which something is known.</param>
public readonly record struct NightBelow(Instant? Falls, Instant? Rises, double Hours);

/// <summary>A night's course at one bed, hour by hour: air, leaf and under cover.</summary>
/// <remarks>
/// Between stamps it runs straight. A missing hour stays missing: nothing is counted across it, and
/// <see cref="ShareKnown"/> tells how much was known.
/// </remarks>
public sealed class NightCourse
{
    private readonly ImmutableArray<double> _screen;
    private readonly ImmutableArray<double> _leaf;
    private readonly ImmutableArray<double> _underCover;

    private NightCourse(Instant start, double[] screen, double[] leaf, double[] underCover, FrostKind? kind)
    {
        (Start, Kind) = (start, kind);
        (_screen, _leaf, _underCover) = ([.. screen], [.. leaf], [.. underCover]);
    }

    /// <summary>The first stamp; those of each level follow hour by hour.</summary>
    public Instant Start { get; }

    /// <summary>How a frost in this night would come about; null where wind or cloud is not known.</summary>
    public FrostKind? Kind { get; }

    public double ShareKnown => ScreenNight.ShareKnown(_screen.AsSpan());

    /// <summary>°C at each stamp.</summary>
    public ImmutableArray<double> At(NightLevel level) => level switch
    {
        NightLevel.Screen => _screen,
        NightLevel.Leaf => _leaf,
        NightLevel.UnderCover => _underCover,
        _ => throw new ArgumentOutOfRangeException(nameof(level), level, "Not a level of a night."),
    };

    /// <summary>The course of the stamps of a night that the series has; null when it has none.</summary>
    public static NightCourse? Of(WeatherSeries weather, GeoPosition place, Interval night, NightBed bed)
    {
        int from = Math.Max(0, weather.FirstAtOrAfter(night.Start));
        int until = Math.Min(weather.Hours, weather.LastAtOrBefore(night.End) + 1);
        if (from >= until)
            return null;
        var hours = SkyBalance.Over(weather, place, WhenUnknown.Worst);
        double[] screen = new double[until - from], leaf = new double[until - from], underCover = new double[until - from];
        double onGround = GroundWarmth.BesideShortGrass(bed.Ground);
        for (int i = 0; i < screen.Length; i++)
        {
            var sky = hours.At(from + i);
            double air = screen[i] = BedAir.At(sky, bed.FrostPocket);
            // What the ground gives or withholds counts as far as the night is clear and calm, like the leaf's own chill.
            leaf[i] = bed.UnderGlass ? air : air - LeafTemperature.Allowance(sky, air) + onGround * BedAir.ClearAndCalm(sky);
            double worth = bed.Cover is { } cover ? Covers.Worth(cover, sky.WindMetresPerSecond, bed.Layers) : 0;
            // By day a cover makes no frost and keeps none out.
            underCover[i] = leaf[i] + (BedAir.NetLossWatts(sky) > 0 ? worth : 0);
        }
        return new(weather.StampOf(from), screen, leaf, underCover, KindOf(weather, from, until));
    }

    /// <summary>The lowest of the known hours and its stamp; null when none is known.</summary>
    public (double Celsius, Instant At)? Lowest(NightLevel level)
    {
        var values = At(level);
        int lowest = -1;
        for (int i = 0; i < values.Length; i++)
            if (!double.IsNaN(values[i]) && (lowest < 0 || values[i] < values[lowest]))
                lowest = i;
        return lowest < 0 ? null : (values[lowest], Start + Duration.FromHours(lowest));
    }

    /// <summary>When a level is at or below a limit, and for how long.</summary>
    public NightBelow Below(NightLevel level, double limitC)
    {
        var values = At(level);
        double hours = 0;
        double? falls = null, rises = null;
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] <= limitC)
            {
                falls ??= i > 0 && values[i - 1] > limitC ? i - 1 + Crossing(values[i - 1], values[i], limitC) : i;
                rises = null;
            }
            else if (i > 0 && values[i - 1] <= limitC && !double.IsNaN(values[i]))
                rises = i - 1 + Crossing(values[i - 1], values[i], limitC);
            if (i > 0)
                hours += HoursAtOrBelow(values[i - 1], values[i], limitC);
        }
        return new(InstantOf(falls), InstantOf(rises), hours);
    }

    private Instant? InstantOf(double? hour) => hour is { } at ? Start + Duration.FromSeconds(Math.Round(at * 3600)) : null;

    private static double Crossing(double before, double after, double limitC) => (before - limitC) / (before - after);

    private static double HoursAtOrBelow(double before, double after, double limitC)
    {
        if (double.IsNaN(before) || double.IsNaN(after))
            return 0;
        if (before <= limitC && after <= limitC)
            return 1;
        if (before > limitC && after > limitC)
            return 0;
        double crossing = Crossing(before, after, limitC);
        return before <= limitC ? crossing : 1 - crossing;
    }

    private static FrostKind? KindOf(WeatherSeries weather, int from, int until)
    {
        double dayHigh = double.NaN;
        foreach (double air in weather[WeatherVariable.Air][Math.Max(0, from - 12)..from])
            if (!(air <= dayHigh) && !double.IsNaN(air))
                dayHigh = air;
        return FrostWords.KindOf(
            Mean(weather[WeatherVariable.Wind][from..until]), Mean(weather[WeatherVariable.CloudCover][from..until]), dayHigh);
    }

    private static double Mean(ReadOnlySpan<double> values)
    {
        double sum = 0;
        int known = 0;
        foreach (double value in values)
        {
            if (double.IsNaN(value))
                continue;
            sum += value;
            known++;
        }
        return sum / known;
    }
}
