using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.OpenMeteo;

namespace GardenWatch.Acceptance;

/// <summary>
/// Weather service down, slow, rate limited, malformed, partly null: the digest comes at its hour all the same, from the
/// last good forecast, says its age, and past 36 hours withholds by name what leans on it.
/// </summary>
public class WeatherServiceOutTests
{
    /// <summary>One call and two more tries.</summary>
    private const int MostCalls = 3;

    private static readonly TaskCompletionSource Never = new();

    private static readonly Dictionary<string, StandInFault> Faults = new()
    {
        ["out of order"] = new StandInFault.Overloaded(),
        ["no JSON"] = new StandInFault.Malformed(),
        ["the front's page"] = new StandInFault.FrontPage(502),
        ["cut off"] = new StandInFault.CutOff(),
        ["an error's text"] = new StandInFault.StreamedError(),
        ["another continent"] = new StandInFault.WrongContinent(),
        ["another unit"] = new StandInFault.WrongUnit("temperature_2m", "°F"),
        ["an hour short"] = new StandInFault.WrongLength("precipitation"),
        ["sixty-four megabytes"] = new StandInFault.Huge(64),
        ["refused"] = new StandInFault.BadRequest("Cannot initialize"),
        ["held"] = new StandInFault.Slow(Never.Task),
        ["all null"] = new StandInFault.NullsFrom(-10_000),
    };

    [Theory]
    [InlineData("out of order")]
    [InlineData("no JSON")]
    [InlineData("the front's page")]
    [InlineData("cut off")]
    [InlineData("an error's text")]
    [InlineData("another continent")]
    [InlineData("another unit")]
    [InlineData("an hour short")]
    [InlineData("sixty-four megabytes")]
    [InlineData("refused")]
    [InlineData("held")]
    [InlineData("all null")]
    public async Task The_last_good_forecast_serves_and_its_age_is_said(string fault)
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        int calls = house.Weather.Calls.Count;
        house.Weather.Always = Faults[fault];

        string said = await house.Live(TrialHouse.Morning(13), mails: 1);

        Assert.InRange(house.Weather.Calls.Count - calls, 1, MostCalls);
        Assert.Contains("Forecast pull failed", said, StringComparison.Ordinal);
        Assert.Contains("24 hours old", house.Mail.Kept[1].Words(), StringComparison.Ordinal);
        Assert.Contains("Wed 13 May", house.Mail.Kept[1].Words(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Past_36_hours_sowing_setting_out_and_spreading_are_withheld_by_name()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        Assert.DoesNotContain("nothing is said for or against", house.Mail.Kept[0].Words(), StringComparison.Ordinal);
        house.Weather.Always = new StandInFault.BadRequest("gone");

        await house.Live(TrialHouse.Morning(14), mails: 1);

        string words = house.Mail.Kept[1].Words();
        string withheld = words[words.IndexOf("The forecast is 48 hours old, so nothing is said for or against:", StringComparison.Ordinal)..];
        foreach (string job in (string[])["Sow radish", "Set out the winter squash", "Spread granular fertiliser"])
            Assert.Contains(job, withheld, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task Frost_advice_becomes_cautious_and_is_never_withheld()
    {
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        Assert.Contains("Cover the tomato", house.Mail.Kept[0].Words(), StringComparison.OrdinalIgnoreCase);
        house.Weather.Always = new StandInFault.BadRequest("gone");

        await house.Live(TrialHouse.Morning(14), mails: 1);

        Assert.Contains("Cover the tomato", house.Mail.Kept[1].Words(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("48 hours old", house.Mail.Kept[1].Words(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_no_forecast_ever_the_digest_comes_and_says_so()
    {
        await using var house = await TrialHouse.Open();
        house.Weather.Always = new StandInFault.BadRequest("not yet");
        await using var service = house.Run(TrialHouse.Morning(12));

        string words = (await house.MailsCome(1))[0].Words();

        Assert.Contains("There is no weather to go by yet, so nothing is said for or against:", words, StringComparison.Ordinal);
        await service.Ready(answer => answer.GetProperty("faults").EnumerateArray().Any(each => each.GetString() == "no forecast yet"));
    }

    [Fact]
    public async Task A_wait_that_the_service_names_is_kept_over_a_restart()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        house.Weather.Always = new StandInFault.TooMany(StandInFault.TooMany.Hourly, TimeSpan.FromHours(1));
        int calls = house.Weather.Calls.Count;

        await house.Live(TrialHouse.Morning(13), mails: 1);
        Assert.Equal(1, house.Weather.Calls.Count - calls);
        await house.Live(TrialHouse.Morning(13, minutesAfter: 50), mails: 0);
        Assert.Equal(1, house.Weather.Calls.Count - calls);

        house.Weather.Always = new StandInFault.None();
        await house.Live(TrialHouse.Morning(13, minutesAfter: 70), mails: 0);
        Assert.Equal(2, house.Weather.Calls.Count - calls);
    }

    [Fact]
    public async Task What_is_missing_of_an_answer_is_not_taken_for_zero()
    {
        await using var house = await TrialHouse.Open();
        house.Weather.Always = new StandInFault.NullsIn("precipitation");

        await house.Live(TrialHouse.Morning(12), mails: 1);

        var today = await house.Command(TrialHouse.Morning(12, minutesAfter: 1), "today", "--json");
        using var json = System.Text.Json.JsonDocument.Parse(today.Out);
        Assert.All(json.RootElement.GetProperty("week").EnumerateArray(),
            day => Assert.Equal(System.Text.Json.JsonValueKind.Null, day.GetProperty("rainMm").ValueKind));
        Assert.Contains(json.RootElement.GetProperty("week").EnumerateArray(),
            day => day.GetProperty("lowC").ValueKind == System.Text.Json.JsonValueKind.Number);
    }
}
