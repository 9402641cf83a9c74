using System.Globalization;
using System.Text.Json;
using GardenWatch.Planning.Conditions;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>
/// Shares of the runs in an answer that the weather service really gave (a control and twenty members, two hours), against
/// a plain count of the numbers in it.
/// </summary>
public class RecordedEnsembleTests
{
    private const string File = "ensemble-20-members-trimmed.json";

    [Theory]
    [InlineData(9.6)]
    [InlineData(9.9)]
    [InlineData(10.0)]
    [InlineData(10.3)]
    [InlineData(11.0)]
    public void A_share_is_that_of_the_members_counted_plainly(double limit)
    {
        var (start, members) = Recorded();
        // Of each member the lower of its two hours; the window of one hour takes both of its ends in.
        double counted = (double)members.Count(hours => Math.Min(hours[0], hours[1]) <= limit) / members.Count;
        var condition = Scenes.Read(string.Create(CultureInfo.InvariantCulture, $"air low next 1 hours at most {limit} °C"));
        List<Scene> scenes = [.. members.Select(hours => Scenes.Of(start, hours))];

        Assert.Equal(counted, Evaluate.ShareOf(condition, start, scenes));
    }

    [Theory]
    [InlineData(9.9, 0.4)]
    [InlineData(9.9, 0.9)]
    [InlineData(10.2, 0.9)]
    public void A_phrase_with_a_chance_holds_from_that_share_on(double limit, double least)
    {
        var (start, members) = Recorded();
        double counted = (double)members.Count(hours => Math.Min(hours[0], hours[1]) <= limit) / members.Count;
        var condition = Scenes.Read(string.Create(
            CultureInfo.InvariantCulture, $"air low next 1 hours at most {limit} °C with chance at least {least * 100} %"));
        var scenes = members.Select(hours => Scenes.Of(start, hours)).ToList();
        var scene = scenes[0] with { Members = [.. scenes.Select(member => member.Weather)] };

        Assert.Equal(counted >= least ? Truth.Yes : Truth.No, Evaluate.Holds(condition, start, scene));
    }

    /// <summary>The control first.</summary>
    private static (Instant Start, List<double[]> Members) Recorded()
    {
        string? folder = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        Assert.SkipWhen(folder is null, "GARDENWATCH_TEST_DATA is not set");
        string path = Path.Combine(folder!, "open-meteo", "fixtures", File);
        Assert.SkipUnless(System.IO.File.Exists(path), $"{path} is not there");
        using var json = JsonDocument.Parse(System.IO.File.ReadAllBytes(path));
        var hourly = json.RootElement.GetProperty("hourly");
        var start = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(hourly.GetProperty("time")[0].GetString()!).Value.InUtc().ToInstant();
        List<double[]> members =
        [
            .. Enumerable.Range(0, 21).Select(member => (double[])
            [
                .. hourly.GetProperty(member == 0 ? "temperature_2m" : string.Create(CultureInfo.InvariantCulture, $"temperature_2m_member{member:00}"))
                    .EnumerateArray().Select(value => value.GetDouble()),
            ]),
        ];
        Assert.All(members, hours => Assert.Equal(2, hours.Length));
        return (start, members);
    }
}
