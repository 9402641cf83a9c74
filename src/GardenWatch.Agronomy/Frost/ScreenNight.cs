namespace GardenWatch.Agronomy.Frost;

/// <summary>A night's air at screen height, from its hours.</summary>
public static class ScreenNight
{
    /// <summary>Lowest of the known hours, °C; NaN if none is known.</summary>
    /// <remarks>
    /// The true low lies between the stamps: at De Bilt in 2000 lower by 0.25 K in the mean and 1.5 K at most. With hours
    /// missing the low may be colder still: ask <see cref="ShareKnown"/>.
    /// </remarks>
    public static double LowC(ReadOnlySpan<double> airHours)
    {
        double low = double.NaN;
        foreach (double air in airHours)
            if (!(air >= low) && !double.IsNaN(air))
                low = air;
        return low;
    }

    /// <summary>Share of the hours that are known, 0 to 1; 0 if there are none.</summary>
    public static double ShareKnown(ReadOnlySpan<double> airHours)
    {
        int known = 0;
        foreach (double air in airHours)
            known += double.IsNaN(air) ? 0 : 1;
        return airHours.IsEmpty ? 0 : (double)known / airHours.Length;
    }
}
