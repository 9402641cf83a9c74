using System.Collections.Immutable;
using GardenWatch.Trial.Play;
using NodaTime;

namespace GardenWatch.Trial.Score;

/// <summary>The soil that a sowing or a planting met in the days after it.</summary>
/// <param name="MeanC">Over all its known hours; NaN when none is known.</param>
/// <param name="LowestDayC">The coldest daily mean: a warm mean can hide a cold spell.</param>
internal sealed record SoilMet(Deed Deed, double MeanC, double LowestDayC)
{
    /// <summary>Null when the deed asked for nothing or the soil is not known.</summary>
    public bool? WarmEnough =>
        Deed.SoilNeededC is { } needed && !double.IsNaN(MeanC) ? MeanC >= needed : null;

    /// <param name="soil">Temperature at the deed's own depth, measured where it is and modelled where it is not; NaN where not known.</param>
    public static ImmutableArray<SoilMet> Of(IEnumerable<Deed> deeds, Func<Deed, Instant, double> soil, int days) =>
        [.. deeds.Where(deed => deed.Kind is DeedKind.Sow or DeedKind.SetOut).OrderBy(deed => deed.At).Select(deed => After(deed, soil, days))];

    private static SoilMet After(Deed deed, Func<Deed, Instant, double> soil, int days)
    {
        double[] dayMeans =
        [
            .. Enumerable.Range(0, days)
                .Select(day => Enumerable.Range(0, 24)
                    .Select(hour => soil(deed, deed.At + Duration.FromHours(24 * day + hour)))
                    .Where(celsius => !double.IsNaN(celsius))
                    .DefaultIfEmpty(double.NaN)
                    .Average())
                .Where(mean => !double.IsNaN(mean)),
        ];
        return dayMeans.Length == 0 ? new(deed, double.NaN, double.NaN) : new(deed, dayMeans.Average(), dayMeans.Min());
    }
}
