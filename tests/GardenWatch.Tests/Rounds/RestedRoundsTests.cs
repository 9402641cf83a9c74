using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;
using static GardenWatch.Tests.Rounds.HouseBench;

namespace GardenWatch.Tests.Rounds;

/// <summary>Mornings on which no digest is due: the garden rests, or nobody is there.</summary>
public sealed class RestedRoundsTests : StoreCase
{
    private const string Garlic = """
        garden: Mill Bank
        id: mill-bank
        place: { town: Ahrenfeld, latitude: 39.5, longitude: -83.5, elevation: 300 m, zone: America/New_York }
        digest: { at: "06:00", to: [pat@example.org, { who: kim@example.org, at: "7:30" }]QQ }
        beds: [ { bed: low bed } ]
        plantings: [ { crop: garlic, bed: low bed, growing: yes } ]
        """;

    private const string Potatoes = PlanText + "\n  - { crop: potato, bed: low bed, growing: yes }\n";
    private static readonly Duration Step = Duration.FromMinutes(30);

    private readonly HouseBench _bench;

    public RestedRoundsTests()
    {
        _bench = new(Data);
        _bench.Mail.Now = _bench.Clock.GetCurrentInstant;
    }

    private async Task Live(House house, LocalDate from, int days)
    {
        var until = At(from.PlusDays(days), 0);
        for (var now = At(from, 5, 45); now < until; now += Step)
            await _bench.Knock(house, now);
    }

    [Theory]
    [InlineData("", 3)]
    [InlineData(", at rest: daily", 15)]
    public async Task In_the_dead_season_each_gets_one_a_week_which_says_so_and_none_counts_as_skipped(string asked, int digests)
    {
        using var store = Open();
        using var house = _bench.House(store, Garlic.Replace("QQ", asked, StringComparison.Ordinal));
        var january = new LocalDate(Sunday.Year, 1, 10);
        await Live(house, january, 15);

        Assert.Equal(2 * digests, _bench.Mail.Taken.Count);
        Assert.DoesNotContain(_bench.Mail.Taken, mail => mail.Words.Contains("skipped", StringComparison.Ordinal));
        Assert.DoesNotContain(store.Ledger.Since(january, At(january.PlusDays(30), 0)), entry => entry.Kind == LedgerTable.DigestSkipped);
        // The first tells what was not told before, so it can't rest yet.
        Assert.Equal(digests == 3, _bench.Mail.Taken.Skip(2).All(mail => mail.Words.Contains("The garden rests: the next digest comes on", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task Without_a_sitter_an_absence_brings_only_what_would_be_lost()
    {
        using var store = Open();
        using var house = _bench.House(store, "away: [ { from: 26 April 2026, to: 6 May 2026 } ]\n" + Potatoes);
        await Live(house, Sunday, 12);

        var digests = store.Outbox.Made(MessageKind.Digest, Sunday, At(Sunday.PlusDays(12), 0)).Select(key => StoreText.ToDate(key.Occasion)).ToList();
        // On the day of leaving and from the day of return on as ever.
        Assert.Contains(Sunday, digests);
        Assert.Contains(Sunday.PlusDays(11), digests);
        var meanwhile = _bench.Mail.Taken.Where(mail => mail.Subject.Contains(": ", StringComparison.Ordinal)
            && !mail.Subject.StartsWith("Sun 26", StringComparison.Ordinal) && !mail.Subject.StartsWith("Thu 7", StringComparison.Ordinal)).ToList();
        Assert.NotEmpty(meanwhile);
        Assert.All(meanwhile, mail => Assert.True(mail.Words.Contains("over the potato shoots", StringComparison.Ordinal), mail.Subject));
        Assert.InRange(digests.Count, 3, 10);
    }

    [Fact]
    public async Task A_sitter_gets_a_list_of_their_own_while_the_gardener_gets_none()
    {
        using var store = Open();
        using var house = _bench.House(store, $"away: [ {{ from: 27 April {Sunday.Year}, to: 30 April {Sunday.Year}, sitter: robin@example.org }} ]\n" + Potatoes);
        await Live(house, Sunday, 6);

        var digests = store.Outbox.Made(MessageKind.Digest, Sunday, At(Sunday.PlusDays(6), 0));
        Assert.Equal(4, digests.Count(key => key.Addressee == "robin@example.org"));
        Assert.Equal(2, digests.Count(key => key.Addressee == "pat@example.org"));
        Assert.Contains(_bench.Mail.Taken, mail => mail.Words.Contains("BEFORE YOU LEAVE", StringComparison.OrdinalIgnoreCase));
        Assert.Equal(4, _bench.Mail.Taken.Count(mail => mail.Words.Contains("look after the garden until", StringComparison.Ordinal)));
    }
}
