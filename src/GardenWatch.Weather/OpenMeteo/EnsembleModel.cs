using System.Collections.Immutable;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>An ensemble of the service.</summary>
/// <param name="Name">As it is asked for.</param>
/// <param name="MetaName">Under which the service tells of its runs; null when not known.</param>
/// <param name="Members">With the control.</param>
/// <param name="Days">How far it reaches, at most as far as is asked.</param>
public sealed record EnsembleModel(string Name, string? MetaName, int Members, int Days)
{
    private static readonly ImmutableArray<EnsembleModel> Known =
    [
        new("ecmwf_ifs025", "ecmwf_ifs025_ensemble", 51, 15),
        new("ecmwf_aifs025", "ecmwf_aifs025_ensemble", 51, 15),
        // Of its two parts the coarser one, which reaches further, is out last.
        new("gfs_seamless", "ncep_gefs05", 31, OpenMeteoOptions.MostForecastDays),
        new("icon_seamless", "dwd_icon_eps", 40, 8),
        new("gem_global", "cmc_gem_geps", 21, OpenMeteoOptions.MostForecastDays),
    ];

    /// <summary>A model that is not known is asked for at its widest, and pulled at set times.</summary>
    public static EnsembleModel Named(string name) =>
        Known.FirstOrDefault(model => model.Name == name) ?? new(name, null, 51, OpenMeteoOptions.MostForecastDays);
}
