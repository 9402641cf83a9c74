using GardenWatch.Messages.Mail;
using GardenWatch.Tests.Store;
using static GardenWatch.Tests.Rounds.HouseBench;

namespace GardenWatch.Tests.Rounds;

/// <summary>The whole house on one clock turned by hand: what hangs or fails beside a morning, and what the mail then says.</summary>
public sealed class HouseTests : StoreCase
{
    private readonly HouseBench _bench;

    public HouseTests() => _bench = new(Data);

    [Theory]
    [InlineData("/v1/ensemble")]
    [InlineData("/v1/archive")]
    [InlineData("/data")]
    public async Task A_side_service_that_hangs_for_ever_holds_up_neither_forecast_nor_digest(string hanging)
    {
        using var store = Open();
        _bench.WeatherFault = (request, ct) => request.RequestUri!.AbsolutePath.StartsWith(hanging, StringComparison.Ordinal) ? Never(ct) : null;
        using var house = _bench.House(store);
        using var end = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);

        await house.Round!.Knock(end.Token);
        await house.Round.SendingDone();

        string words = Assert.Single(_bench.Mail.Taken).Words;
        Assert.Contains("frost tonight", words, StringComparison.Ordinal);
        await end.CancelAsync();
        await house.Round.SideDone();
    }

    [Fact]
    public async Task A_digest_that_was_not_taken_until_noon_is_named_in_the_next_and_in_no_later_one()
    {
        using var store = Open();
        using var house = _bench.House(store);
        _bench.Mail.Answer = () => new SendOutcome.TryLater("451");
        await _bench.Knock(house, At(Sunday, 6));
        await _bench.Knock(house, At(Sunday, 12, 1));
        _bench.Mail.Answer = () => new SendOutcome.Accepted("250");

        await _bench.Knock(house, At(Sunday.PlusDays(1), 6));
        await _bench.Knock(house, At(Sunday.PlusDays(2), 6));

        Assert.Equal(2, _bench.Mail.Taken.Count);
        Assert.Contains("The last one, of Sun 26 April, was skipped: it could not be sent before noon.", _bench.Mail.Taken[0].Words, StringComparison.Ordinal);
        Assert.DoesNotContain("skipped", _bench.Mail.Taken[1].Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Each_who_is_told_gets_the_digest_at_the_own_hour_in_own_units_and_of_the_own_beds_and_no_less_news()
    {
        using var store = Open();
        using var house = _bench.House(store, PlanText
            .Replace("to: [pat@example.org]", "to: [pat@example.org, { who: sam@example.org, at: \"7:30\", units: us, beds: [far bed] }]", StringComparison.Ordinal)
            .Replace("  - { bed: low bed }", "  - { bed: low bed }\n  - { bed: far bed }", StringComparison.Ordinal)
            + "\n  - { crop: potato, bed: far bed, growing: yes }");

        await _bench.Knock(house, At(Sunday, 6));
        Assert.Equal("pat@example.org", Assert.Single(_bench.Mail.Taken).To);
        await _bench.Knock(house, At(Sunday, 7, 30));
        await _bench.Knock(house, At(Sunday, 8));

        Assert.Equal(["pat@example.org", "sam@example.org"], _bench.Mail.Taken.Select(mail => mail.To));
        Assert.Contains("°C", _bench.Mail.Taken[0].Words, StringComparison.Ordinal);
        Assert.DoesNotContain("°F", _bench.Mail.Taken[0].Words, StringComparison.Ordinal);
        Assert.Contains("°F", _bench.Mail.Taken[1].Words, StringComparison.Ordinal);
        Assert.DoesNotContain("°C", _bench.Mail.Taken[1].Words, StringComparison.Ordinal);
        Assert.Contains("Low bed: soil", _bench.Mail.Taken[0].Words, StringComparison.Ordinal);
        Assert.Contains("Far bed: soil", _bench.Mail.Taken[1].Words, StringComparison.Ordinal);
        // A sowing seen for the first time is news to the second, too.
        Assert.All(_bench.Mail.Taken, mail => Assert.Contains("GROWING Potato", mail.Words, StringComparison.Ordinal));
    }
}
