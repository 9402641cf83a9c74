namespace GardenWatch.Demo;

public enum RainKind { Soft, Shower, Downpour }

/// <summary>One spell of rain: swells, peaks at twice its mean rate in the middle, and fades.</summary>
/// <param name="StartHour">Hours since 1970, UTC.</param>
public readonly record struct RainSpell(double StartHour, double Hours, double TotalMm, RainKind Kind)
{
    public double EndHour => StartHour + Hours;

    /// <summary>What of it falls in the hour that ends at a stamp.</summary>
    public double InHourEnding(double hour) => TotalMm * (Share(hour) - Share(hour - 1));

    private double Share(double hour)
    {
        double u = Math.Clamp((hour - StartHour) / Hours, 0, 1);
        return u - Math.Sin(2 * Math.PI * u) / (2 * Math.PI);
    }
}
