namespace GardenWatch.Agronomy.Frost;

/// <summary>A fitted rule for the lowest air of a clear, calm night, from air and dew point two hours after sunset.</summary>
public readonly record struct NightRule(double PerAirKelvin, double PerDewPointKelvin, double ConstantC)
{
    public double LowC(double airC, double dewPointC) => PerAirKelvin * airC + PerDewPointKelvin * dewPointC + ConstantC;
}

/// <summary>The coming night from its evening, for a place with its own record.</summary>
public static class NightForecast
{
    /// <summary>
    /// Two-step regression over radiation nights (wind under 2 m/s, no cloud, fog or rain): the low on the evening's air
    /// first, what remains on its dew point. Null with fewer than three nights, or when all evenings were alike.
    /// </summary>
    /// <remarks>
    /// Snyder and de Melo-Abreu 2005, Frost Protection vol. 1 (FAO), ch. 5. A joint regression is another model with other
    /// coefficients. A rule holds only where it was fitted; its own ten example nights leave 0.63 K.
    /// </remarks>
    public static NightRule? Fit(ReadOnlySpan<double> airC, ReadOnlySpan<double> dewPointC, ReadOnlySpan<double> lowC)
    {
        if (airC.Length != dewPointC.Length || airC.Length != lowC.Length)
            throw new ArgumentException("Each night has one air, one dew point and one low.", nameof(airC));
        if (airC.Length < 3 || Line(airC, lowC) is not var (perAir, airConstant))
            return null;
        var rest = new double[airC.Length];
        for (int i = 0; i < rest.Length; i++)
            rest[i] = lowC[i] - (perAir * airC[i] + airConstant);
        return Line(dewPointC, rest) is var (perDewPoint, dewConstant)
            ? new(perAir, perDewPoint, airConstant + dewConstant)
            : null;
    }

    /// <summary>The lowest air, °C, from the day's highest air and its dew point, before any correction for wind and cloud.</summary>
    /// <param name="correctionKelvins">Of the place; has to be fitted.</param>
    /// <remarks>Half the sum, as used in Canada (Bagdonas, Georg and Gerber 1978, WMO TN 157) and, fitted, in Mendoza.</remarks>
    public static double HalfSum(double highC, double dewPointC, double correctionKelvins = 0) =>
        (highC + dewPointC) / 2 - correctionKelvins;

    /// <summary>The lowest on the grass, °C, from air and dew point of the afternoon, for nights with little cloud and wind.</summary>
    /// <param name="constantKelvins">8 in spring and autumn and 9 in winter at its place of origin, Canterbury.</param>
    /// <remarks>Smith 1973.</remarks>
    public static double SmithGrassLow(double airAt15C, double dewPointAt15C, double constantKelvins = 8) =>
        (airAt15C + dewPointAt15C / 2) / 3 - constantKelvins;

    /// <summary>Air through a radiation night, °C, from two hours after sunset to the low at sunrise.</summary>
    /// <remarks>Snyder and de Melo-Abreu 2005, ch. 5: falls with the square root of time. NaN outside those hours.</remarks>
    public static double SquareRootCurve(
        double airTwoHoursAfterSunsetC, double lowC, double nightHours, double hoursAfterSunset) =>
        hoursAfterSunset >= 2 && hoursAfterSunset <= nightHours && nightHours > 2
            ? airTwoHoursAfterSunsetC
                + (lowC - airTwoHoursAfterSunsetC) * Math.Sqrt((hoursAfterSunset - 2) / (nightHours - 2))
            : double.NaN;

    /// <summary>Air through an ordinary night, °C, from sunset on.</summary>
    /// <remarks>
    /// Parton and Logan 1981, Agric. Meteorol. 23:205-216, b = 2.2 at screen height. At sunrise a ninth of the fall is
    /// still to come.
    /// </remarks>
    public static double ExponentialCurve(
        double airAtSunsetC, double lowC, double nightHours, double hoursAfterSunset, double decay = 2.2) =>
        lowC + (airAtSunsetC - lowC) * Math.Exp(-decay * hoursAfterSunset / nightHours);

    private static (double Slope, double Constant)? Line(ReadOnlySpan<double> x, ReadOnlySpan<double> y)
    {
        double meanX = 0, meanY = 0;
        for (int i = 0; i < x.Length; i++)
        {
            meanX += x[i] / x.Length;
            meanY += y[i] / x.Length;
        }
        double xx = 0, xy = 0;
        for (int i = 0; i < x.Length; i++)
        {
            xx += (x[i] - meanX) * (x[i] - meanX);
            xy += (x[i] - meanX) * (y[i] - meanY);
        }
        // Not a number in any night makes the sums not a number, and the rule unknown.
        return xx > 1e-12 && !double.IsNaN(xy) ? (xy / xx, meanY - xy / xx * meanX) : null;
    }
}
