using System.Collections.Immutable;
using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>A place's past years, put one behind the other.</summary>
public static class ArchiveYears
{
    /// <summary>The year that is fetched next, newest first; null when all are there.</summary>
    /// <param name="done">Years that are kept, or that the archive does not have.</param>
    /// <param name="years">How many years are wanted.</param>
    public static int? Next(IReadOnlySet<int> done, int years, Instant now)
    {
        int last = ArchiveClient.LastWholeYear(now);
        for (int year = last; year > last - years && year >= ArchiveClient.FirstYear; year--)
            if (!done.Contains(year))
                return year;
        return null;
    }

    /// <summary>One series over all of them; the hours of a year that is missing are not known.</summary>
    public static WeatherSeries Join(IReadOnlyList<Pull> years)
    {
        if (years.Count == 0)
            return WeatherSeries.Empty;
        var start = years.Min(year => year.Start);
        int hours = (int)(years.Max(year => year.LastStamp) - start).TotalHours + 1;
        var columns = new Dictionary<WeatherVariable, double[]>();
        var sourceOfHour = new short[hours];
        Array.Fill(sourceOfHour, (short)-1);
        for (int source = 0; source < years.Count; source++)
        {
            int offset = (int)(years[source].Start - start).TotalHours;
            foreach (var (variable, column) in years[source].Columns)
            {
                if (!columns.TryGetValue(variable, out var values))
                    Array.Fill(columns[variable] = values = new double[hours], double.NaN);
                for (int hour = 0; hour < column.Hours; hour++)
                    values[offset + hour] = column[hour];
            }
            sourceOfHour.AsSpan(offset, years[source].Hours).Fill((short)source);
        }
        return new(
            start, hours,
            columns.ToImmutableDictionary(column => column.Key, column => ImmutableCollectionsMarshal.AsImmutableArray(column.Value)),
            [.. years.Select(year => new HourSource(SourceKind.PastYears, $"{PullFold.SourceName} archive", year.FetchedAt))],
            ImmutableCollectionsMarshal.AsImmutableArray(sourceOfHour));
    }
}
