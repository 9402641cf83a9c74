using System.Collections.Immutable;
using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Planning.Agendas;

/// <summary>What was known of a place's weather at an instant.</summary>
/// <param name="Series">The one series that is shown: measured, forecast, filled; each hour knows its source.</param>
/// <param name="News">How old the forecast is.</param>
/// <param name="Members">
/// One series a member of the ensemble, on the hours of <paramref name="Series"/> and best made of it by its
/// <c>With</c>, so that their past is reckoned once; what a member lacks is taken from it.
/// None where there is no ensemble, or only a stale one: then chances are not known.
/// </param>
/// <param name="Climate">What the place's past years tell; null when they are not known.</param>
public sealed record KnownWeather(
    WeatherSeries Series, WeatherNews News, ImmutableArray<WeatherSeries> Members, ClimateSummary? Climate)
{
    /// <summary>What some member lacks, so that there the forecast's own hours stand in.</summary>
    public ImmutableArray<WeatherVariable> Borrowed { get; init; } = [];

    public KnownWeather(WeatherSeries series, WeatherNews news) : this(series, news, [], null)
    {
    }
}
