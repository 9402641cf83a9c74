namespace GardenWatch.Agronomy.Frost;

/// <summary>The US weather service's classes of a forecast low, in whole degrees Fahrenheit near 1.5 m.</summary>
public enum FrostAlert
{
    None,
    /// <summary>33 to 36 °F: the leaf may freeze.</summary>
    FrostAdvisory,
    /// <summary>29 to 32 °F.</summary>
    FreezeWarning,
    /// <summary>28 °F or less.</summary>
    HardFreezeWarning,
}

/// <summary>What gardeners call a frost.</summary>
public enum FrostStrength
{
    None,
    /// <summary>28 to 32 °F.</summary>
    Light,
    /// <summary>Below 28 °F.</summary>
    Hard,
}

/// <summary>How a frost comes about, which says what helps.</summary>
public enum FrostKind
{
    /// <summary>Clear, still, an inversion: usually a few degrees, and covers work.</summary>
    Radiation,
    /// <summary>A cold air mass with wind, or that lasts through the day: covers help little.</summary>
    Advection,
}

/// <summary>The words that a temperature is given.</summary>
public static class FrostWords
{
    // In a wind like this the air is mixed. Snyder and de Melo-Abreu 2005 draw the line at 2 to 5 m/s.
    private const double MixingWind = 4;
    private const double OvercastPercent = 75;

    /// <summary>Screen minimum below 0 °C (British observing practice).</summary>
    public static bool IsAirFrost(double screenLowC) => screenLowC < 0;

    /// <summary>Grass minimum below 0 °C (Brugge 2011, Weather); until 1961 -0.9 °C.</summary>
    public static bool IsGroundFrost(double grassLowC) => grassLowC < 0;

    /// <summary>Class of a screen low; offices differ in how long it must last.</summary>
    public static FrostAlert AlertOf(double screenLowC) => WholeFahrenheit(screenLowC) switch
    {
        <= 28 => FrostAlert.HardFreezeWarning,
        <= 32 => FrostAlert.FreezeWarning,
        <= 36 => FrostAlert.FrostAdvisory,
        _ => FrostAlert.None,
    };

    public static FrostStrength StrengthOf(double lowC) => WholeFahrenheit(lowC) switch
    {
        < 28 => FrostStrength.Hard,
        <= 32 => FrostStrength.Light,
        _ => FrostStrength.None,
    };

    /// <summary>How a cold night's frost comes about; null where wind or cloud is not known.</summary>
    /// <param name="windMetresPerSecond">Mean of the night at ten metres.</param>
    /// <param name="cloudPercent">Mean of the night.</param>
    /// <param name="dayHighC">Highest air of the day before; NaN if not known.</param>
    /// <remarks>Definitions of Snyder and de Melo-Abreu 2005, ch. 1: a radiation frost follows a day above freezing.</remarks>
    public static FrostKind? KindOf(double windMetresPerSecond, double cloudPercent, double dayHighC)
    {
        if (dayHighC <= 0 || windMetresPerSecond >= MixingWind || cloudPercent >= OvercastPercent)
            return FrostKind.Advection;
        return double.IsNaN(windMetresPerSecond) || double.IsNaN(cloudPercent) ? null : FrostKind.Radiation;
    }

    // NaN compares with nothing, so it has no class.
    private static double WholeFahrenheit(double celsius) => Math.Round(celsius * 1.8 + 32, MidpointRounding.AwayFromZero);
}
