namespace GardenWatch.Agronomy.Warmth;

/// <summary>A shape of the day between its lowest and highest air. Everything follows from two areas over a threshold.</summary>
/// <remarks>The six cases of Zalom et al. 1983 in one: wholly below, wholly above, and crossing, for each of two thresholds.</remarks>
internal interface IDayCurve
{
    /// <summary>Mean of max(T - threshold, 0) over the day, °C.</summary>
    static abstract double Above(double minC, double maxC, double thresholdC);

    /// <summary>Share of the day above the threshold.</summary>
    static abstract double ShareAbove(double minC, double maxC, double thresholdC);
}

internal readonly struct Triangle : IDayCurve
{
    public static double Above(double minC, double maxC, double thresholdC) =>
        maxC <= thresholdC ? 0
        : minC >= thresholdC ? (minC + maxC) / 2 - thresholdC
        : (maxC - thresholdC) * (maxC - thresholdC) / (2 * (maxC - minC));

    public static double ShareAbove(double minC, double maxC, double thresholdC) =>
        maxC <= thresholdC ? 0 : minC >= thresholdC ? 1 : (maxC - thresholdC) / (maxC - minC);
}

internal readonly struct Sine : IDayCurve
{
    public static double Above(double minC, double maxC, double thresholdC)
    {
        double mean = (minC + maxC) / 2;
        if (maxC <= thresholdC)
            return 0;
        if (minC >= thresholdC)
            return mean - thresholdC;
        double amplitude = (maxC - minC) / 2;
        double crossing = (thresholdC - mean) / amplitude;
        // The paper's cosine of the crossing angle, without the angle.
        return ((mean - thresholdC) * Math.Acos(crossing) + amplitude * Math.Sqrt((1 - crossing) * (1 + crossing))) / Math.PI;
    }

    public static double ShareAbove(double minC, double maxC, double thresholdC) =>
        maxC <= thresholdC ? 0
        : minC >= thresholdC ? 1
        : Math.Acos((thresholdC - (minC + maxC) / 2) / ((maxC - minC) / 2)) / Math.PI;
}
