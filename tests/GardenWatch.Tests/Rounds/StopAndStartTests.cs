using GardenWatch.Planning.Journals;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

/// <summary>Who stops the messages gets no more, is told the way back, and finds it; a question comes back by mail at once.</summary>
public sealed class StopAndStartTests : IDisposable
{
    private const string Pat = "pat@example.org", Robin = "robin@example.org";

    private readonly TemporaryFolder _data = new();
    private readonly HouseBench _bench;
    private readonly GardenStore _store;

    public StopAndStartTests()
    {
        _bench = new(_data);
        _store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(_data.File("records"), StoreUse.Run, HouseBench.At(HouseBench.Sunday, 5))).Store;
    }

    public void Dispose()
    {
        _bench.Dispose();
        _store.Dispose();
        _data.Dispose();
    }

    private AnswersTaken Answer(House house, string person, string mail, params Answer[] answers)
    {
        var garden = house.Round!.OnDuty[0];
        long? message = _store.Outbox.LastSentTo("mill-bank", person, _bench.Clock.GetCurrentInstant())?.Id;
        return new Answering(_store, house.Mornings).Take(garden.Plan, garden.Place, new(AnswerOrigin.Mail, [.. answers]) { Person = person, Message = message, Source = mail }, _bench.Clock.GetCurrentInstant());
    }

    private static Instant Morning(int day, int minute = 0) => HouseBench.At(HouseBench.Sunday.PlusDays(day), 6, minute);

    [Fact]
    public async Task Stop_is_confirmed_with_the_way_back_and_start_brings_the_digests_back()
    {
        var house = _bench.House(_store);
        await _bench.Knock(house, Morning(0));
        Assert.Single(_bench.Mail.Taken);

        Answer(house, Pat, "mail-1", new Answer.Stop());
        Answer(house, Pat, "mail-1", new Answer.Stop());
        await _bench.Knock(house, Morning(0, 1));
        await _bench.Knock(house, Morning(0, 2));
        Assert.Equal(2, _bench.Mail.Taken.Count);
        Assert.Contains("answer with the one word: start", _bench.Mail.Taken[1].Words, StringComparison.Ordinal);
        await _bench.Knock(house, Morning(1));
        Assert.Equal(2, _bench.Mail.Taken.Count);

        Answer(house, Pat, "mail-2", new Answer.Start());
        // The mail that stopped is found in the mailbox once more.
        Answer(house, Pat, "mail-1", new Answer.Stop());
        await _bench.Knock(house, Morning(1, 1));
        Assert.Contains(_bench.Mail.Taken.Skip(2), mail => mail.Words.Contains("You get the messages of Mill Bank again", StringComparison.Ordinal));
        // It is not noon yet, so that day's digest comes as well.
        Assert.Equal(4, _bench.Mail.Taken.Count);
        Assert.Empty(_store.Replies.Stopped("mill-bank"));
    }

    [Fact]
    public async Task A_sitter_who_stopped_is_told_nothing()
    {
        var house = _bench.House(_store, HouseBench.PlanText + $"\naway: [ {{ from: 25 April, to: 10 May, sitter: {Robin} }} ]\n");
        await _bench.Knock(house, Morning(0));
        Assert.Contains(_bench.Mail.Taken, mail => mail.To == Robin);
        int before = _bench.Mail.Taken.Count;
        _store.Replies.Wish("mill-bank", Robin, MessageWish.Stop, Morning(0, 1));
        for (int day = 1; day < 4; day++)
            await _bench.Knock(house, Morning(day));
        Assert.DoesNotContain(_bench.Mail.Taken.Skip(before), mail => mail.To == Robin);
    }

    [Fact]
    public async Task What_was_not_clear_comes_back_at_once_and_what_was_clear_waits_for_the_digest()
    {
        var house = _bench.House(_store);
        await _bench.Knock(house, Morning(0));
        Answer(house, Pat, "mail-1", new Answer.Note("slugs on the squash"));
        await _bench.Knock(house, Morning(0, 1));
        Assert.Single(_bench.Mail.Taken);
        Answer(house, Pat, "mail-2", new Answer.Unclear("did it", "Which job is meant? Write its number, as in “done 1”."), new Answer.Note("rain at last"));
        await _bench.Knock(house, Morning(0, 2));
        var back = _bench.Mail.Taken[1];
        Assert.Contains("Which job is meant?", back.Words, StringComparison.Ordinal);
        Assert.Contains("rain at last", back.Words, StringComparison.Ordinal);
        await _bench.Knock(house, Morning(0, 3));
        Assert.Equal(2, _bench.Mail.Taken.Count);
    }
}
