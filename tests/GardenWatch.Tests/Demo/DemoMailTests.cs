using GardenWatch.Demo;

namespace GardenWatch.Tests.Demo;

public sealed class DemoMailTests
{
    [Fact]
    public async Task The_demos_mail_says_that_its_weather_is_invented_and_credits_no_service()
    {
        using var folder = new TemporaryFolder();
        using var garden = new DemoGarden(folder.File("demo"));

        var (_, mail) = (await garden.Morning(NotableMornings.LateFrost, TestContext.Current.CancellationToken))!.Value;

        Assert.Contains("The weather is invented", mail.TextBody, StringComparison.Ordinal);
        foreach (string body in (string[])[mail.TextBody!, mail.HtmlBody!])
            Assert.DoesNotContain("open-meteo", body, StringComparison.OrdinalIgnoreCase);
    }
}
