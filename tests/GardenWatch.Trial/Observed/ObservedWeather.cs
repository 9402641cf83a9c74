using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Trial.Observed;

/// <summary>What came, hour by hour, and beside it what the grass thermometer said.</summary>
/// <param name="GroundLow">
/// Lowest temperature at 10 cm of a night, °C, by the date on which the night begins. It is measured, where the hourly
/// air is at two metres: the nearest that a station comes to a leaf.
/// </param>
internal sealed record ObservedWeather(
    WeatherSeries Weather, ImmutableSortedDictionary<LocalDate, double> GroundLow, LocalCalendar Calendar);
