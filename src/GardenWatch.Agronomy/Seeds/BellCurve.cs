namespace GardenWatch.Agronomy.Seeds;

/// <summary>The standard normal distribution, within 1e-7.</summary>
internal static class BellCurve
{
    /// <summary>Share below a probit.</summary>
    /// <remarks>Abramowitz and Stegun 1964, 26.2.17.</remarks>
    public static double Share(double probit)
    {
        double z = Math.Abs(probit);
        double t = 1 / (1 + 0.2316419 * z);
        double tail = Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI)
            * t * (0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
        return probit < 0 ? tail : 1 - tail;
    }

    /// <summary>The probit below which a share lies; shares above 0 and below 1.</summary>
    public static double Probit(double share)
    {
        if (double.IsNaN(share))
            return share;
        double low = -9, high = 9;
        // Forty halvings leave 2e-11.
        for (int round = 0; round < 40; round++)
        {
            double middle = (low + high) / 2;
            if (Share(middle) < share)
                low = middle;
            else
                high = middle;
        }
        return (low + high) / 2;
    }
}
