using GardenWatch.Acceptance.Trials;
using GardenWatch.Peers.OpenMeteo;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>Chances and past years make a digest better; without them it comes all the same, at its hour.</summary>
public class EnsembleAndPastYearsTests
{
    private const string Ensemble = "{ past years: 0 }";

    /// <summary>A mild forecast; of its 51 runs so many are clear and bitter.</summary>
    private static Func<Instant, string, int, double?> Bitter(int runs) =>
        (at, variable, member) => member < runs ? TrialWeather.Frosty(at, variable) : TrialWeather.Mild(at, variable);

    [Theory]
    [InlineData(20, true)]
    [InlineData(5, false)]
    public async Task A_cover_is_asked_for_by_the_share_of_runs_and_the_members_are_kept(int bitter, bool asked)
    {
        await using var house = await TrialHouse.Open(side: Ensemble);
        house.Weather.MemberWeather = Bitter(bitter);

        await house.Live(TrialHouse.Morning(12), mails: 1);

        string words = house.Mail.Kept[0].Words();
        Assert.Equal(asked, words.Contains("Cover the tomatoes", StringComparison.Ordinal));
        if (asked)
            Assert.Contains("Chance 4 in 10", words, StringComparison.Ordinal);
        Assert.Equal("1", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);
    }

    [Fact]
    public async Task Members_are_not_asked_for_again_until_a_new_run_is_out()
    {
        await using var house = await TrialHouse.Open(side: Ensemble);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 90), mails: 0);
        Assert.Equal("1", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);

        house.Weather.Run = (TrialHouse.Morning(13) - Duration.FromHours(7), TrialHouse.Morning(13) - Duration.FromHours(1));
        await house.Live(TrialHouse.Morning(13), mails: 1);

        Assert.Equal("2", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);
    }

    private static readonly TaskCompletionSource Never = new();

    private static readonly Dictionary<string, StandInFault> Faults = new()
    {
        ["out of order"] = new StandInFault.Overloaded(),
        ["no JSON"] = new StandInFault.Malformed(),
        ["cut off"] = new StandInFault.CutOff(),
        ["refused"] = new StandInFault.BadRequest("Cannot initialize"),
        ["held"] = new StandInFault.Slow(Never.Task),
        ["sixty-four megabytes"] = new StandInFault.Huge(64),
    };

    [Theory]
    [InlineData("out of order")]
    [InlineData("no JSON")]
    [InlineData("cut off")]
    [InlineData("refused")]
    [InlineData("held")]
    [InlineData("sixty-four megabytes")]
    public async Task Without_an_ensemble_the_digest_comes_at_its_hour_without_chances(string fault)
    {
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty, side: Ensemble);
        house.Weather.OfEnsemble = Faults[fault];

        await house.Live(TrialHouse.Morning(12), mails: 1);

        string words = house.Mail.Kept[0].Words();
        Assert.Contains("Cover the tomatoes", words, StringComparison.Ordinal);
        Assert.DoesNotContain(" in 10", words, StringComparison.Ordinal);
        Assert.Equal("0", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);
    }

    [Fact]
    public async Task An_ensemble_out_of_reach_is_told_by_the_health_page_and_no_fault()
    {
        await using var house = await TrialHouse.Open(side: Ensemble);
        house.Weather.OfEnsemble = new StandInFault.BadRequest("Cannot initialize");
        await using var service = house.Run(TrialHouse.Morning(12));
        await house.MailsCome(1);

        var answer = await service.Ready(answer => answer.TryGetProperty("without", out _));

        Assert.True(answer.GetProperty("ok").GetBoolean());
        Assert.Contains("ensemble", Assert.Single(answer.GetProperty("without").EnumerateArray()).GetString(), StringComparison.Ordinal);
        Assert.Equal(0, (await service.Stop()).Code);
    }

    [Fact]
    public async Task A_death_while_members_are_stored_leaves_none_of_them_and_they_are_fetched_again()
    {
        await using var house = await TrialHouse.Open(side: Ensemble);
        house.Weather.MemberWeather = Bitter(20);
        await using (var dying = house.Run(TrialHouse.Morning(12), "mid-members"))
        {
            Assert.Equal(128 + 9, (await dying.End()).Code);
        }
        Assert.Equal("0", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);

        await house.Live(TrialHouse.Morning(12, minutesAfter: 11), mails: 1);

        Assert.Contains("Chance 4 in 10", house.Mail.Kept[0].Words(), StringComparison.Ordinal);
        Assert.Equal("1", house.Records.Read("SELECT count(*) FROM pull WHERE kind = 'ensemble'")[0][0]);
        Assert.True(house.Records.IsSound());
    }

    [Fact]
    public async Task A_death_while_old_members_are_reduced_keeps_them_whole_until_the_next_night_does_it()
    {
        const string spreads = "SELECT count(*) FROM member_spread", whole = "SELECT count(*) FROM pull WHERE kind = 'ensemble'";
        await using var house = await TrialHouse.Open(side: Ensemble);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        await using (var dying = house.Run(TrialHouse.Morning(27), "mid-reduction"))
        {
            Assert.Equal(128 + 9, (await dying.End()).Code);
        }
        Assert.Equal(("0", "2"), (house.Records.Read(spreads)[0][0], house.Records.Read(whole)[0][0]));

        await house.Live(TrialHouse.Morning(28), mails: 1);

        // Those of the 28th, and of the 27th if they were stored before the death; those of the 12th have become spreads.
        Assert.Equal("1", house.Records.Read(spreads)[0][0]);
        Assert.Equal("0", house.Records.Read($"{whole} AND fetched_at < '2026-05-14'")[0][0]);
        Assert.True(house.Records.IsSound());
    }

    [Fact]
    public async Task Past_years_go_on_where_a_stop_left_them_until_all_are_there()
    {
        await using var house = await TrialHouse.Open(side: "{ ensemble calls per day: 0, past years: 6, past years per day: 3 }");
        // A stop may cut off the year that is being fetched; it is asked for again, those that are kept are not.
        for (int day = 12; day == 12 || house.Records.Read("SELECT max(years) FROM climate")[0][0] != "6"; day++)
        {
            Assert.True(day < 24, "Twelve days were not enough for six years.");
            await house.Live(TrialHouse.Morning(day), mails: 1);
            await house.Live(TrialHouse.Morning(day, minutesAfter: 5), mails: 0);
        }
        int calls = Asked(house).Count;
        Assert.Equal(6, Asked(house).Distinct().Count());

        await house.Live(TrialHouse.Morning(25), mails: 1);

        Assert.Equal(calls, Asked(house).Count);
    }

    private static List<string> Asked(TrialHouse house) =>
        [.. house.Weather.Calls.Where(call => call.Path == "/v1/archive").Select(call => call.Query["start_date"])];
}
