using System.Net;
using GardenWatch.Acceptance.Trials;
using MimeKit;

namespace GardenWatch.Acceptance;

/// <summary>The calendar: its address is printed, served while the service runs, and a plan may ask for it with each digest.</summary>
public class CalendarTests
{
    [Fact]
    public async Task The_printed_address_serves_the_gardens_jobs_and_a_new_one_makes_it_void()
    {
        await using var house = await TrialHouse.Open();
        string address = AddressIn(await house.Command(TrialHouse.Morning(12), "calendar"));
        await using (var service = house.Run(TrialHouse.Morning(12)))
        {
            await service.Knocked();
            string file = await Got(address);
            Assert.StartsWith("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", file, StringComparison.Ordinal);
            Assert.Contains("SUMMARY:Sow radish", file, StringComparison.Ordinal);
            Assert.DoesNotContain("pat@example.org", file, StringComparison.Ordinal);
            Assert.Equal(HttpStatusCode.NotFound, await service.Status("/calendar/mill-bank/guess.ics"));
            Assert.Equal(0, (await service.Stop()).Code);
            Assert.DoesNotContain(address[^20..], service.Said, StringComparison.Ordinal);
        }
        Assert.NotEqual(address, AddressIn(await house.Command(TrialHouse.Morning(12), "calendar", "--new")));
    }

    [Fact]
    public async Task A_plan_that_asks_for_it_gets_the_calendar_with_the_digest()
    {
        await using var house = await TrialHouse.Open(TrialPlan.For("pat@example.org").Replace("digest: {", "digest: { calendar: attach,", StringComparison.Ordinal));
        await house.Live(TrialHouse.Morning(12), mails: 1);
        using var mail = house.Mail.Kept[0].Parsed();
        var file = Assert.IsType<TextPart>(Assert.Single(mail.Attachments), exactMatch: false);
        Assert.Equal(("text/calendar", "mill-bank.ics"), (file.ContentType.MimeType, file.FileName));
        Assert.Contains("SUMMARY:Sow radish", file.Text, StringComparison.Ordinal);
    }

    private static string AddressIn(Ended ended)
    {
        Assert.Equal(0, ended.WithoutStackTrace().Code);
        string line = Assert.Single(ended.Out.Split('\n'), line => line.StartsWith("Mill Bank: http", StringComparison.Ordinal));
        return line["Mill Bank: ".Length..].Trim();
    }

    private static async Task<string> Got(string address)
    {
        using var http = new HttpClient();
        return await http.GetStringAsync(new Uri(address), TestContext.Current.CancellationToken);
    }
}
