using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>Member pulls made without a service.</summary>
internal static class InventedMembers
{
    /// <summary>Hours from the first whole hour on; the value by stamp, variable and member.</summary>
    public static MemberPull At(
        Instant fetchedAt, int members, int hours, Func<Instant, WeatherVariable, int, double> value, params WeatherVariable[] variables)
    {
        var start = Instant.FromUnixTimeSeconds((fetchedAt.ToUnixTimeSeconds() + 3599) / 3600 * 3600);
        return new(
            fetchedAt, "weather.example.org", "ecmwf_ifs025", null, start, hours,
            [.. Enumerable.Range(0, members).Select(member => variables.ToImmutableSortedDictionary(
                variable => variable,
                variable => PulledColumn.Of(
                    [.. Enumerable.Range(0, hours).Select(hour => value(start + Duration.FromHours(hour), variable, member))], 2)))],
            null, 0);
    }

    /// <summary>
    /// Weather as an ensemble gives it: three-hourly steps with the hours between them smooth, courses that drift apart,
    /// rain in spells, spread evenly over three hours.
    /// </summary>
    public static MemberPull Likely(Instant fetchedAt, int members = 51, int days = 15)
    {
        var random = new Random(20270421);
        int hours = 24 * days;
        var made = ImmutableArray.CreateBuilder<ImmutableSortedDictionary<WeatherVariable, PulledColumn>>(members);
        for (int member = 0; member < members; member++)
        {
            var columns = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
            foreach (var variable in EnsembleClient.Variables)
            {
                var (level, swing, step, low, high, decimals) = variable switch
                {
                    WeatherVariable.Air => (11.0, 6.0, 0.9, -90.0, 60.0, 1),
                    WeatherVariable.DewPoint => (6.0, 1.0, 0.8, -90.0, 40.0, 1),
                    WeatherVariable.Rain => (-0.6, 0.0, 0.4, 0.0, 30.0, 2),
                    WeatherVariable.CloudCover => (60.0, 0.0, 25.0, 0.0, 100.0, 0),
                    WeatherVariable.Wind => (3.0, 1.0, 0.7, 0.0, 50.0, 2),
                    WeatherVariable.Gust => (7.0, 2.0, 1.2, 0.0, 80.0, 2),
                    _ => (0.0, 600.0, 60.0, 0.0, 1200.0, 1),
                };
                var knots = new double[hours / 3 + 2];
                double drift = 0;
                for (int knot = 0; knot < knots.Length; knot++)
                {
                    drift = 0.97 * drift + step * (random.NextDouble() * 2 - 1);
                    knots[knot] = level + drift + swing * Math.Sin(2 * Math.PI * (knot * 3 - 9) / 24);
                }
                var values = new double[hours];
                for (int hour = 0; hour < hours; hour++)
                {
                    int knot = hour / 3;
                    double between = variable == WeatherVariable.Rain ? 0 : hour % 3 / 3.0;
                    values[hour] = Math.Clamp(knots[knot] + (knots[knot + 1] - knots[knot]) * between, low, high);
                }
                columns[variable] = PulledColumn.Of(values, decimals);
            }
            made.Add(columns.ToImmutable());
        }
        var start = Instant.FromUnixTimeSeconds((fetchedAt.ToUnixTimeSeconds() + 3599) / 3600 * 3600);
        return new(fetchedAt, "weather.example.org", "ecmwf_ifs025", fetchedAt - Duration.FromHours(7), start, hours, made.ToImmutable(), fetchedAt, 0);
    }
}
