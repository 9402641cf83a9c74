using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>Pulls made without a service.</summary>
internal static class InventedPull
{
    /// <summary>As a pull of that instant is: from midnight UTC some days back to midnight some days ahead.</summary>
    public static Pull At(
        Instant fetchedAt, int pastDays, int forecastDays, Func<Instant, WeatherVariable, double> value,
        params ReadOnlySpan<WeatherVariable> variables)
    {
        var start = fetchedAt.InUtc().Date.PlusDays(-pastDays).AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();
        int hours = 24 * (pastDays + forecastDays);
        var columns = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
        foreach (var variable in variables)
        {
            var values = new double[hours];
            for (int hour = 0; hour < hours; hour++)
                values[hour] = value(start + Duration.FromHours(hour), variable);
            columns[variable] = PulledColumn.Of(values, 2);
        }
        return new(
            fetchedAt, "weather.example.org", Pull.BestMatch, start, hours, columns.ToImmutable(),
            52.125, 5.1875, 2, null, fetchedAt, 0);
    }
}
