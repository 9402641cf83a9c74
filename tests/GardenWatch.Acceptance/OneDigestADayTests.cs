using GardenWatch.Acceptance.Trials;
using MimeKit;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>At most one digest per addressee and local date; exactly one when the machine and a way out are up.</summary>
public class OneDigestADayTests
{
    [Fact]
    public async Task Each_addressee_gets_one_whole_mail_and_no_second_one_that_day()
    {
        await using var house = await TrialHouse.Open(TrialPlan.For("pat@example.org", "sam@example.org"));

        await house.Live(TrialHouse.Morning(12), mails: 2);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 90), mails: 0);
        await house.Live(TrialHouse.Morning(12, minutesAfter: 600), mails: 0);

        Assert.Equal(["pat@example.org", "sam@example.org"], house.Mail.Kept.SelectMany(mail => mail.To).Order());
        foreach (var mail in house.Mail.Kept)
        {
            using var message = mail.Parsed();
            Assert.Equal("auto-generated", message.Headers[HeaderId.AutoSubmitted]);
            Assert.EndsWith("@example.org", message.MessageId, StringComparison.Ordinal);
            Assert.StartsWith("Tue 12 May: ", message.Subject, StringComparison.Ordinal);
            Assert.Contains("Open-Meteo", message.TextBody, StringComparison.Ordinal);
            Assert.Contains("<html", message.HtmlBody, StringComparison.OrdinalIgnoreCase);
            Assert.InRange(Instant.FromDateTimeOffset(message.Date), TrialHouse.Morning(12), TrialHouse.Morning(12, minutesAfter: 3));
        }
        Assert.Equal(2, house.Mail.Kept.Select(mail => mail.Id()).Distinct().Count());
    }

    [Fact]
    public async Task The_next_local_date_brings_the_next_one()
    {
        await using var house = await TrialHouse.Open();

        await house.Live(TrialHouse.Morning(12), mails: 1);
        await house.Live(TrialHouse.Morning(13), mails: 1);

        Assert.Equal(2, house.Mail.Kept.Select(mail => mail.Id()).Distinct().Count());
        Assert.Contains("Wed 13 May", house.Mail.Kept[1].Words(), StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public async Task A_digest_comes_at_its_hour_and_not_before()
    {
        await using var house = await TrialHouse.Open();
        // The knock at the start finds nothing due; a later one, of the running service, does.
        await using var service = house.Run(TrialHouse.Morning(12) - Duration.FromSeconds(10));
        await service.Knocked();
        Assert.Empty(house.Mail.Kept);

        var mail = (await house.MailsCome(1))[0];

        using var message = mail.Parsed();
        Assert.InRange(Instant.FromDateTimeOffset(message.Date), TrialHouse.Morning(12), TrialHouse.Morning(12, minutesAfter: 2));
        Assert.DoesNotContain("This digest is late", mail.Words(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Europe/Berlin", 9.5, "2026-03-29", "02:30")]   // two to three is left out
    [InlineData("Europe/Berlin", 9.5, "2026-10-25", "02:30")]   // two to three comes twice
    [InlineData("Australia/Lord_Howe", 159.1, "2026-04-05", "01:45")]   // half an hour comes twice
    [InlineData("Australia/Lord_Howe", 159.1, "2026-10-04", "02:15")]   // half an hour is left out
    public async Task A_morning_on_which_the_clocks_change_has_one_digest(string zone, double longitude, string date, string at)
    {
        string plan = TrialPlan.For("pat@example.org")
            .Replace("Europe/Berlin", zone, StringComparison.Ordinal)
            .Replace("longitude: 9.5", $"longitude: {longitude.ToString(System.Globalization.CultureInfo.InvariantCulture)}", StringComparison.Ordinal)
            .Replace("06:00\"", $"{at}\"", StringComparison.Ordinal);
        await using var house = await TrialHouse.Open(plan);
        var day = NodaTime.Text.LocalDatePattern.Iso.Parse(date).Value;
        var midnight = day.AtStartOfDayInZone(DateTimeZoneProviders.Tzdb[zone]).ToInstant();

        // Every half hour of the night in a life of its own; which of them finds the digest due does not matter.
        for (int halfHour = 1; halfHour <= 9; halfHour++)
        {
            int before = house.Mail.Kept.Count;
            await using var service = house.Run(midnight + Duration.FromMinutes(30 * halfHour));
            await service.Knocked();
            await service.Ready(answer => answer.GetProperty("mail").GetString() == "nothing waits");
            Assert.Equal(0, (await service.Stop()).Code);
            Assert.InRange(house.Mail.Kept.Count, before, 1);
        }

        Assert.Single(house.Mail.Kept);
        Assert.Equal([["mill-bank", date]], house.Records.Read("SELECT garden, occasion FROM outbox WHERE kind = 'digest'"));
    }

    [Fact]
    public async Task Gardens_in_different_zones_each_have_their_morning()
    {
        await using var house = await TrialHouse.Open();
        Directory.CreateDirectory(Path.Combine(house.Folder, "gardens"));
        await File.WriteAllTextAsync(Path.Combine(house.Folder, "gardens", "far.yaml"), TrialPlan.For("lee@example.org")
            .Replace("mill-bank", "far-field", StringComparison.Ordinal).Replace("Mill Bank", "Far Field", StringComparison.Ordinal)
            .Replace("longitude: 9.5", "longitude: -84.5", StringComparison.Ordinal)
            .Replace("Europe/Berlin", "America/New_York", StringComparison.Ordinal), TestContext.Current.CancellationToken);

        await house.Live(TrialHouse.Morning(12), mails: 1);
        Assert.Equal("pat@example.org", Assert.Single(house.Mail.Kept[0].To));

        // Six in the morning in New York is noon in Berlin.
        await house.Live(TrialHouse.Morning(12, minutesAfter: 6 * 60), mails: 1);
        Assert.Equal("lee@example.org", Assert.Single(house.Mail.Kept[1].To));
        await house.Live(TrialHouse.Morning(13), mails: 1);

        Assert.Equal(["far-field 2026-05-12", "mill-bank 2026-05-12", "mill-bank 2026-05-13"],
            house.Records.Read("SELECT garden || ' ' || occasion FROM outbox WHERE kind = 'digest' ORDER BY 1").Select(row => row[0]));
    }
}
