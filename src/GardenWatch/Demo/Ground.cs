namespace GardenWatch.Demo;

/// <summary>Bare soil as two layers that lag behind the air and the sun, each drawn on by the one below it.</summary>
public readonly record struct Ground(double At6Cm, double At18Cm)
{
    public static Ground At(double celsius) => new(celsius, celsius);

    /// <summary>An hour on.</summary>
    /// <param name="deep">What the season has left in the ground far below.</param>
    public Ground Next(double air, double radiation, double deep)
    {
        double surface = air + 0.006 * radiation;
        double upper = (surface - At6Cm) / 7 + (At18Cm - At6Cm) / 18;
        double lower = (At6Cm - At18Cm) / 30 + (deep - At18Cm) / 250;
        return new(Step(At6Cm, upper), Step(At18Cm, lower));
    }

    /// <summary>Water that freezes, lies frozen or thaws holds the soil back, as if it were six times as slow.</summary>
    private static double Step(double celsius, double kelvins) => celsius + (celsius < 0.5 ? kelvins / 6 : kelvins);
}
