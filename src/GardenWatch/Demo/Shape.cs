using NodaTime;

namespace GardenWatch.Demo;

/// <summary>
/// Weather that is pinned for some days, so that a demo has mornings worth showing. It sets what drives the weather and
/// leaves the rest to follow: a clear calm night cools as any other.
/// </summary>
/// <param name="AirKelvins">How much warmer than usual for the time of year the air mass is.</param>
/// <param name="DewBelowAirKelvins">How dry the air mass is.</param>
/// <param name="Cloud">0 to 100 %.</param>
/// <param name="Wind">m/s.</param>
/// <param name="Rain">The only rain of those days.</param>
/// <param name="Firmness">Below 1 days keep a share of their own moods, so that a long spell does not repeat itself.</param>
public sealed record Shape(
    Interval When, double AirKelvins, double DewBelowAirKelvins, double Cloud, double Wind, RainSpell? Rain = null, double Firmness = 1)
{
    private const double BlendHours = 12;

    /// <summary>1 within, 0 half a day outside, smoothly between.</summary>
    public double Weight(Instant instant)
    {
        double outside = Math.Max((When.Start - instant).TotalHours, (instant - When.End).TotalHours);
        double u = Math.Clamp(1 - outside / BlendHours, 0, 1);
        return u * u * (3 - 2 * u);
    }
}
