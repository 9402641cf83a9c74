using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Turns the answer of an ensemble into a member pull, or says why it is not to be believed.</summary>
internal static class EnsembleAnswer
{
    /// <summary>Fewer courses than this are no spread.</summary>
    public const int LeastMembers = 5;

    /// <summary>Null, with the fault, when the answer is refused.</summary>
    public static MemberPull? Read(ReadOnlySpan<byte> json, Asked asked, string model, Instant? runAt, out string? fault)
    {
        var answer = HourlyAnswer.Read(json, ColumnKey.OfMember, asked.Place, out fault);
        if (answer is null)
            return null;

        int first = (int)Math.Clamp(Math.Ceiling((asked.At - answer.Start).TotalHours), 0, answer.Hours);
        var byMember = answer.Columns
            .Where(column => column.Value.Scaled.AsSpan()[first..].ContainsAnyExcept(PulledColumn.Missing))
            .GroupBy(column => column.Key.Member)
            .OrderBy(member => member.Key)
            .Select(member => member.ToDictionary(column => column.Key.Variable.Variable, column => column.Value))
            .Where(member => KnowsItsAir(member, answer, asked.At))
            .ToList();
        if (byMember.Count is < LeastMembers or > MemberPull.MostMembers)
        {
            fault = $"it gives {byMember.Count} members with air temperatures, and {LeastMembers} or more are needed";
            return null;
        }

        int end = byMember.Max(member => member.Values.Max(LastGiven)) + 1;
        return new(
            asked.At, asked.Host, model, runAt, answer.Start + Duration.FromHours(first), end - first,
            [.. byMember.Select(member => member.ToImmutableSortedDictionary(
                column => column.Key, column => column.Value with { Scaled = column.Value.Scaled[first..end] }))],
            asked.ServerDate, answer.OutOfRange);
    }

    private static bool KnowsItsAir(Dictionary<WeatherVariable, PulledColumn> member, HourlyAnswer answer, Instant now) =>
        ForecastAnswer.TooLittleAir(member.GetValueOrDefault(WeatherVariable.Air), answer.Start, answer.Hours, now) is null;

    private static int LastGiven(PulledColumn column) => column.Scaled.AsSpan().LastIndexOfAnyExcept(PulledColumn.Missing);
}
