using System.Net;
using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Tests.Store;
using NodaTime;
using static GardenWatch.Tests.Rounds.HouseBench;

namespace GardenWatch.Tests.Rounds;

/// <summary>Three days without what the service leans on, in virtual time, frosts among them; then all is back.</summary>
public sealed class OutageTests : StoreCase
{
    private const string Potatoes = PlanText + "\n  - { crop: potato, bed: low bed, growing: yes }\n  - { crop: radish, bed: low bed, sowings: every 10 days }";
    private const int DaysOut = 3;
    private static readonly Duration Step = Duration.FromMinutes(15);

    private readonly HouseBench _bench;

    public OutageTests()
    {
        _bench = new(Data);
        _bench.Mail.Now = _bench.Clock.GetCurrentInstant;
    }

    /// <summary>From before Sunday's digest until before the one of the day on which all is back.</summary>
    private async Task LiveOutage(House house)
    {
        var until = At(Sunday.PlusDays(DaysOut), 5, 45);
        for (var now = At(Sunday, 5, 45); now < until; now += Step)
            await _bench.Knock(house, now);
    }

    private async Task LiveOneMoreDay(House house)
    {
        var until = At(Sunday.PlusDays(DaysOut + 1), 0);
        for (var now = At(Sunday.PlusDays(DaysOut), 5, 45); now < until; now += Step)
            await _bench.Knock(house, now);
    }

    public static TheoryData<string> MailFaults => ["no connection", "greylisted", "refused", "dropped after the body"];

    [Theory]
    [MemberData(nameof(MailFaults))]
    public async Task Without_a_mail_server_each_digest_ends_at_noon_and_the_first_after_it_tells_of_all(string fault)
    {
        using var store = Open();
        using var house = _bench.House(store, Potatoes);
        _bench.Mail.Answer = () => fault switch
        {
            "no connection" => new SendOutcome.TryLater("no connection"),
            "greylisted" => new SendOutcome.TryLater("450 greylisted") { WaitAtLeast = TimeSpan.FromMinutes(10) },
            "refused" => new SendOutcome.Refused("550 no such account"),
            _ => new SendOutcome.InDoubt("dropped after the body"),
        };
        await LiveOutage(house);
        Assert.Empty(_bench.Mail.Taken);
        Assert.All(_bench.Mail.Offers.GroupBy(offer => offer.MessageId), offers => Assert.Single(offers.Select(offer => offer.Bytes).Distinct()));
        // A digest has at most its six hours, and gaps that grow to one.
        Assert.All(_bench.Mail.Offers.GroupBy(offer => offer.MessageId), offers => Assert.InRange(offers.Count(), 1, fault == "refused" ? 1 : fault == "no connection" || fault == "greylisted" ? 45 : 3));

        _bench.Mail.Answer = () => new SendOutcome.Accepted("250");
        await LiveOneMoreDay(house);

        var digest = Assert.Single(_bench.Mail.Taken, mail => mail.Subject.StartsWith("Wed 29 April", StringComparison.Ordinal));
        if (fault == "dropped after the body")
            Assert.DoesNotContain("skipped", digest.Words, StringComparison.Ordinal);
        else
            Assert.Contains("Those of 26 to 28 April were skipped", digest.Words, StringComparison.Ordinal);
        Assert.DoesNotContain(_bench.Mail.Taken, mail => mail.Subject.StartsWith("Sun", StringComparison.Ordinal)
            || mail.Subject.StartsWith("Mon", StringComparison.Ordinal) || mail.Subject.StartsWith("Tue", StringComparison.Ordinal));
    }

    public static TheoryData<string> WeatherFaults => ["503", "429", "no answer", "no JSON", "half an answer"];

    [Theory]
    [MemberData(nameof(WeatherFaults))]
    public async Task Without_weather_each_morning_has_its_digest_which_tells_the_age_and_never_withholds_a_frost(string fault)
    {
        using var store = Open();
        using var house = _bench.House(store, Potatoes);
        await _bench.Knock(house, At(Sunday, 5, 30));
        _bench.WeatherFault = (_, _) => Faulty(fault);

        await LiveOutage(house);
        _bench.WeatherFault = null;
        await LiveOneMoreDay(house);

        var digests = _bench.Mail.Taken.Where(mail => !mail.Subject.Contains("tonight:", StringComparison.Ordinal) && !mail.Subject.StartsWith("Called off", StringComparison.Ordinal)).ToList();
        Assert.Equal(["Sun 26", "Mon 27", "Tue 28", "Wed 29"], digests.Select(mail => mail.Subject[..6]));
        Assert.Contains("24 hours old", digests[1].Words, StringComparison.Ordinal);
        Assert.Contains("The forecast is 48 hours old, so nothing is said for or against: ", digests[2].Words, StringComparison.Ordinal);
        Assert.DoesNotContain("hours old", digests[3].Words, StringComparison.Ordinal);
        // All three nights were in the forecast of before.
        Assert.All(digests.Take(DaysOut), digest => Assert.Contains("potato shoots", digest.Words, StringComparison.Ordinal));
    }

    [Fact]
    public async Task On_a_full_disk_each_frost_is_warned_of_once_and_the_digest_comes_when_there_is_room_again()
    {
        using var store = Open();
        using var house = _bench.House(store, Potatoes);
        await _bench.Knock(house, At(Sunday, 5, 30));
        FillDisk(store);

        await LiveOutage(house);

        Assert.NotEmpty(_bench.Mail.Taken);
        Assert.All(_bench.Mail.Taken.GroupBy(mail => mail.At.InZone(Zone).Date), ofDay => Assert.Single(ofDay));
        Assert.All(_bench.Mail.Taken, mail => Assert.Contains("draw soil over the potato shoots", mail.Subject, StringComparison.Ordinal));

        store.Connection.Read("PRAGMA max_page_count = 1000000", row => row.GetInt64(0));
        int before = _bench.Mail.Taken.Count;
        await LiveOneMoreDay(house);
        Assert.StartsWith("Wed 29 April", _bench.Mail.Taken[before].Subject, StringComparison.Ordinal);
    }

    private static Task<HttpResponseMessage> Faulty(string fault) => fault switch
    {
        "503" => Task.FromResult(new HttpResponseMessage(HttpStatusCode.ServiceUnavailable)),
        "429" => Task.FromResult(new HttpResponseMessage(HttpStatusCode.TooManyRequests)),
        "no JSON" => Task.FromResult(new HttpResponseMessage(HttpStatusCode.OK) { Content = new StringContent("<html>Welcome to this router</html>") }),
        "half an answer" => Task.FromResult(new HttpResponseMessage(HttpStatusCode.OK) { Content = new StringContent("{\"latitude\":39.5,\"hourly\":{\"time\":[17772") }),
        _ => Task.FromException<HttpResponseMessage>(new TaskCanceledException("The time was up.")),
    };
}
