namespace GardenWatch.Demo;

/// <summary>A passing front: milder air, cloud and wind ahead of it, colder and clearer air behind.</summary>
/// <param name="Hour">When it passes: hours since 1970, UTC.</param>
/// <param name="Strength">About 0.5 to 1.5.</param>
public readonly record struct Front(double Hour, double Strength, RainSpell? Rain)
{
    public double AirKelvins(double hour)
    {
        double since = hour - Hour;
        double passed = 0.5 + 0.5 * Math.Tanh(since / 2);
        double ahead = 2.2 * Math.Exp(Math.Min(0, since) / 20);
        double behind = -3.2 * Math.Exp(-Math.Max(0, since) / 30);
        return Strength * ((1 - passed) * ahead + passed * behind);
    }

    public double WindMetresPerSecond(double hour) => Strength * 3.5 * Bell((hour - Hour) / 7);

    public double Cloud(double hour) => Strength * 2.6 * Bell((hour - Hour + 4) / 9);

    private static double Bell(double x) => Math.Exp(-x * x);
}
