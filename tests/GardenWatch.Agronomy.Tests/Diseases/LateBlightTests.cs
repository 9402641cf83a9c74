using System.Text.Json;
using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

public class LateBlightTests
{
    private const string File = "late-blight.csv";

    public static TheoryData<string> Periods =>
        PublishedTable.Ids(File, "case_id", row => row["model"] == "Hutton Criteria");

    public static TheoryData<string> Severities => PublishedTable.Ids(File, "case_id", row => row["model"] == "Wallin severity value");

    [Theory]
    [MemberData(nameof(Periods))]
    public void Days_running_raise_the_published_alerts(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        using var json = JsonDocument.Parse(row["inputs_json"]);
        List<BlightDay> days = [.. json.RootElement.GetProperty("days_tmin_C_and_hours_rh90").EnumerateArray()
            .Select(day => new BlightDay(day[0].GetDouble(), day[1].GetDouble()))];
        string alerts = string.Join(' ', Enumerable.Range(1, days.Count - 1)
            .Where(i => LateBlight.Hutton(days[i - 1], days[i]) == true)
            .Select(i => i + 1));
        string expected = row["expected"] switch
        {
            "alert" => "2",
            "alert on day 4" => "4",
            "alert on days 2 and 3" => "2 3",
            "no alert" => "",
            var other => throw new ArgumentException(other),
        };
        Assert.Equal(expected, alerts);
    }

    [Theory]
    [MemberData(nameof(Severities))]
    public void A_humid_spell_has_the_published_severity(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        Assert.Equal((int)row.Number("expected"), LateBlight.WallinSeverity(
            row.Json("inputs_json", "humid_hours"), row.Json("inputs_json", "mean_temp_in_humid_hours_C")));
    }

    [Fact]
    public void Humidity_or_rain_wets_leaves_and_doubt_stays_doubt()
    {
        Assert.True(LeafWetness.ByHumidity(90, 0));
        Assert.True(LeafWetness.ByHumidity(double.NaN, 0.2));
        Assert.True(LeafWetness.ByHumidity(95, double.NaN));
        Assert.False(LeafWetness.ByHumidity(89, 0));
        Assert.Null(LeafWetness.ByHumidity(double.NaN, 0));
        Assert.Null(LeafWetness.ByHumidity(80, double.NaN));
    }

    [Fact]
    public void An_unknown_day_gives_no_alert_and_no_all_clear_unless_the_other_day_settles_it()
    {
        var unknown = new BlightDay(double.NaN, double.NaN);
        Assert.Null(LateBlight.Hutton(unknown, new(12, 8)));
        Assert.False(LateBlight.Hutton(unknown, new(8, 8)));
        Assert.Null(LateBlight.WallinSeverity(double.NaN, 15));
        Assert.Equal(0, LateBlight.WallinSeverity(0, double.NaN));
    }

    [Fact]
    public void A_day_is_made_of_its_hours()
    {
        double[] air = [.. Enumerable.Range(0, 24).Select(hour => 10.0 + hour % 12)];
        double[] humidity = [.. Enumerable.Range(0, 24).Select(hour => hour < 6 ? 90.0 : 70.0)];
        Assert.Equal(new(10, 6), BlightDay.Of(air, humidity));
        humidity[20] = humidity[21] = humidity[22] = double.NaN;
        Assert.True(double.IsNaN(BlightDay.Of(air, humidity).LowC));
        Assert.Throws<ArgumentException>(() => BlightDay.Of(air, [1.0]));
    }
}
