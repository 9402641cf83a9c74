using GardenWatch.Acceptance.Trials;

namespace GardenWatch.Acceptance;

/// <summary>Off at digest time, back before noon: sent at once, marked late. Back after noon: skipped, and the next says so.</summary>
public class OffAtDigestTimeTests
{
    private const int TenOClock = 4 * 60;
    private const int TwoOClock = 8 * 60;

    [Fact]
    public async Task Back_at_ten_it_is_sent_at_once_and_marked_late()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);

        await house.Live(TrialHouse.Morning(13, TenOClock), mails: 1);

        Assert.Contains("This digest is late; it was due at", house.Mail.Kept[1].Words(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Back_at_two_it_is_left_out_and_the_next_one_says_so()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);

        string said = await house.Live(TrialHouse.Morning(13, TwoOClock), mails: 0);
        Assert.Contains("is left out; the next one says so", said, StringComparison.Ordinal);

        await house.Live(TrialHouse.Morning(14), mails: 1);
        Assert.Contains("The last one, of Wed 13 May, was skipped", house.Mail.Kept[1].Words(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Off_for_weeks_the_morning_it_is_back_brings_one_digest()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(1), mails: 1);

        await house.Live(TrialHouse.Morning(29), mails: 1);
    }
}
