using System.Text.Json;
using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

public class LateBlightTests
{
    private const string File = "late-blight.csv";

    public static TheoryData<string> Periods =>
        PublishedTable.Ids(File, "case_id", row => row["model"] is "Hutton Criteria" or "Smith Period");

    public static TheoryData<string> Severities => PublishedTable.Ids(File, "case_id", row => row["model"] == "Wallin severity value");

    public static TheoryData<string> Favourable => PublishedTable.Ids(File, "case_id", row => row["model"] == "Hyre favourable day");

    public static TheoryData<string> Wetness => PublishedTable.Ids(File, "case_id", row => row["model"] == "CART/SLD");

    [Theory]
    [MemberData(nameof(Periods))]
    public void Days_running_raise_the_published_alerts(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        using var json = JsonDocument.Parse(row["inputs_json"]);
        List<BlightDay> days = [.. json.RootElement.GetProperty("days_tmin_C_and_hours_rh90").EnumerateArray()
            .Select(day => new BlightDay(day[0].GetDouble(), day[1].GetDouble()))];
        bool hutton = row["model"] == "Hutton Criteria";
        string alerts = string.Join(' ', Enumerable.Range(1, days.Count - 1)
            .Where(i => (hutton ? LateBlight.Hutton(days[i - 1], days[i]) : LateBlight.Smith(days[i - 1], days[i])) == true)
            .Select(i => i + 1));
        string expected = row["expected"] switch
        {
            "alert" or "Smith Period" => "2",
            "alert on day 4" => "4",
            "alert on days 2 and 3" => "2 3",
            "no alert" or "no, yet Hutton would alert" => "",
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

    [Theory]
    [MemberData(nameof(Favourable))]
    public void A_day_is_rain_favourable_as_published(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        Assert.Equal(row["expected"] == "favourable", LateBlight.HyreFavourable(
            row.Json("inputs_json", "mean5_C"), row.Json("inputs_json", "rain10_mm"), row.Json("inputs_json", "tmin_C")));
    }

    [Theory]
    [MemberData(nameof(Wetness))]
    public void Leaves_are_wet_or_dry_as_published(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double In(string name) => row.Json("inputs_json", name);
        Assert.Equal(row["expected"] == "wet", LeafWetness.ByTree(In("T_C"), In("RH"), In("wind_ms"), In("DPD_C")));
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
        Assert.Null(LeafWetness.ByTree(15, 95, double.NaN, 0.8));
        Assert.Null(LeafWetness.ByTree(-2, 95, 1, 0.8));
    }

    [Fact]
    public void An_unknown_day_gives_no_alert_and_no_all_clear_unless_the_other_day_settles_it()
    {
        var unknown = new BlightDay(double.NaN, double.NaN);
        Assert.Null(LateBlight.Hutton(unknown, new(12, 8)));
        Assert.False(LateBlight.Hutton(unknown, new(8, 8)));
        Assert.Null(LateBlight.WallinSeverity(double.NaN, 15));
        Assert.Equal(0, LateBlight.WallinSeverity(0, double.NaN));
        Assert.Null(LateBlight.HyreFavourable(18, double.NaN, 9));
        Assert.False(LateBlight.HyreFavourable(18, double.NaN, 5));
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
