namespace GardenWatch.Agronomy.Frost;

/// <summary>Frost at the ground in a coming night: the chance that the lowest at 10 cm over short grass reaches a limit.</summary>
/// <remarks>
/// The forecast's low and the rule's own (<see cref="GroundRule"/>: dew point, cloud, wind, day and night before) are two
/// estimates of one low, each with its error; the ground follows both, since what the rule leaves at two metres and at the
/// ground goes together. With normal errors that is a regression of the ground on the forecast, whose weight falls as its
/// error grows. A forecast far from the rule belongs to another air than the rule knows: then the ground is the forecast's
/// low less what cloud and wind allow. Snow is not in it.
/// </remarks>
public static class GroundFrost
{
    /// <summary>The chance from which a warning pays: its cost over the sum of its cost and the loss it averts.</summary>
    /// <remarks>
    /// Cost and loss of a forecast (Murphy 1977, Mon. Weather Rev. 105:803-816). A cover in vain costs ten minutes; tender
    /// plants that freeze cost an hour of sowing or buying and setting out again, and the weeks cannot be had back.
    /// </remarks>
    public const double WarningPaysFrom = 10.0 / (10 + 60);

    // One night in twenty is unlike those of the rule; the forecast is then off the rule by three times as much.
    private const double UnlikeShare = 0.05;
    private const double UnlikeSpread = 3;

    /// <summary>Chance, 0 to 1, that the ground's low is at or below a limit; NaN when the night's low is not known.</summary>
    /// <param name="limitC">0 °C, or a plant's own. For a bed in a frost pocket raise it by the pocket.</param>
    /// <param name="rule">Of the place; <see cref="GroundRule.Lowland"/> where it has none of its own.</param>
    /// <remarks>
    /// Without dew point, day or night before, cloud and wind alone decide; without these the sky counts as clear and the
    /// air as still.
    /// </remarks>
    public static double Chance(in NightAhead night, ForecastError error, double limitC = 0, GroundRule? rule = null)
    {
        var (byRule, byForecast, unlike) = Outlook(night, error, rule ?? GroundRule.Lowland);
        double chance = byForecast.Chance(limitC);
        return unlike == 1 ? chance : unlike * chance + (1 - unlike) * byRule.Chance(limitC);
    }

    /// <summary>The ground's low to expect, °C; NaN when the night's low is not known.</summary>
    public static double ExpectedLowC(in NightAhead night, ForecastError error, GroundRule? rule = null)
    {
        var (byRule, byForecast, unlike) = Outlook(night, error, rule ?? GroundRule.Lowland);
        return unlike == 1 ? byForecast.MeanC : unlike * byForecast.MeanC + (1 - unlike) * byRule.MeanC;
    }

    private readonly record struct Ground(double MeanC, double Variance)
    {
        public double Chance(double limitC) => NormalDistribution.Below((limitC - MeanC) / Math.Sqrt(Variance));
    }

    private static (Ground ByRule, Ground ByForecast, double Unlike) Outlook(in NightAhead night, ForecastError error, GroundRule rule)
    {
        double ofLow = error.LowKelvins * error.LowKelvins;
        var byForecast = new Ground(night.LowC - rule.Depression.Of(night), rule.Depression.Variance + ofLow);
        double low = rule.Low.Of(night), ground = rule.Ground.Of(night);
        if (double.IsNaN(low + night.LowC))
            return (byForecast, byForecast, 1);
        // What the forecast says beyond the rule: the rule's own rest, the forecast's error, and the dew point's, partly one.
        double ofDewPoint = error.DewPointKelvins * error.DewPointKelvins;
        double ofBoth = error.Shared * error.LowKelvins * error.DewPointKelvins;
        var (a, b) = (rule.Ground.PerDewPoint, rule.Low.PerDewPoint);
        double variance = rule.LowVariance + ofLow + b * b * ofDewPoint - 2 * b * ofBoth;
        double covariance = rule.Covariance + a * b * ofDewPoint - a * ofBoth;
        double weight = covariance / variance;
        double beyond = night.LowC - low;
        var byRule = new Ground(
            ground + weight * beyond, rule.GroundVariance + a * a * ofDewPoint - weight * covariance);
        double z = beyond / Math.Sqrt(variance);
        double unlike = UnlikeShare * NormalDistribution.Density(z, UnlikeSpread);
        return (byRule, byForecast, unlike / (unlike + (1 - UnlikeShare) * NormalDistribution.Density(z, 1)));
    }
}
