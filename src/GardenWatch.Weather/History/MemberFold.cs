using System.Collections.Immutable;
using System.Runtime.InteropServices;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>The weather of a place in as many courses as the ensemble has members, each upon what is known of the past.</summary>
public static class MemberFold
{
    /// <summary>Members older than this when asked no longer speak of the coming days.</summary>
    public static Duration Life => WeatherAge.StaleAfter;

    /// <summary>One series a member, on the hours of the main series.</summary>
    /// <remarks>
    /// From the pull's start on a member's own values stand in place of the main ones. What a member has no value of (a
    /// variable that its model lacks, hours beyond its reach) stays the main series', and the arrays of whole variables
    /// are shared: ask <see cref="Borrowed"/>. Humidity follows from the member's own air and dew point. None when the
    /// main series is empty or ends before the members begin.
    /// </remarks>
    public static ImmutableArray<WeatherSeries> Members(WeatherSeries main, MemberPull newest)
    {
        int offset = (int)(newest.Start - main.Start).TotalHours;
        int from = Math.Clamp(offset, 0, main.Hours);
        int until = Math.Clamp(offset + newest.Hours, 0, main.Hours);
        if (from >= until)
            return [];
        var series = ImmutableArray.CreateBuilder<WeatherSeries>(newest.Members.Length);
        for (int i = 0; i < newest.Members.Length; i++)
        {
            var source = new HourSource(SourceKind.Forecast, $"{PullFold.SourceName} {newest.Model}, member {i}", newest.FetchedAt);
            series.Add(main.With(Overlaid(main, newest.Members[i], offset, from, until), source, from, until));
        }
        return series.MoveToImmutable();
    }

    /// <summary>Variables that some member lacks, so that there its series shows the main one's.</summary>
    public static ImmutableArray<WeatherVariable> Borrowed(MemberPull newest) =>
        [.. ServiceVariable.All.Select(variable => variable.Variable).Where(variable => !newest.Members.All(member => Has(member, variable)))];

    private static bool Has(ImmutableSortedDictionary<WeatherVariable, PulledColumn> member, WeatherVariable variable) =>
        member.ContainsKey(variable) || (variable == WeatherVariable.RelativeHumidity && HumidityFollows(member));

    private static bool HumidityFollows(ImmutableSortedDictionary<WeatherVariable, PulledColumn> member) =>
        !member.ContainsKey(WeatherVariable.RelativeHumidity)
        && member.ContainsKey(WeatherVariable.Air) && member.ContainsKey(WeatherVariable.DewPoint);

    private static Dictionary<WeatherVariable, ImmutableArray<double>> Overlaid(
        WeatherSeries main, ImmutableSortedDictionary<WeatherVariable, PulledColumn> member, int offset, int from, int until)
    {
        var changed = new Dictionary<WeatherVariable, ImmutableArray<double>>(member.Count + 1);
        foreach (var (variable, column) in member)
        {
            double[] values = main[variable].ToArray();
            for (int hour = from; hour < until; hour++)
                if (column.Scaled[hour - offset] != PulledColumn.Missing)
                    values[hour] = column[hour - offset];
            changed[variable] = ImmutableCollectionsMarshal.AsImmutableArray(values);
        }
        if (HumidityFollows(member))
        {
            double[] humidity = main[WeatherVariable.RelativeHumidity].ToArray();
            var air = changed[WeatherVariable.Air];
            var dewPoint = changed[WeatherVariable.DewPoint];
            for (int hour = from; hour < until; hour++)
                humidity[hour] = DewPoint.HumidityFrom(air[hour], dewPoint[hour]);
            changed[WeatherVariable.RelativeHumidity] = ImmutableCollectionsMarshal.AsImmutableArray(humidity);
        }
        return changed;
    }
}
