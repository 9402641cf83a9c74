using System.Net;
using System.Text.Json;
using GardenWatch.Web;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.Logging;
using NodaTime;

namespace GardenWatch.Tests.Web;

public sealed class HealthTests
{
    private static readonly Instant Now = Instant.FromUtc(2027, 4, 21, 10, 0);
    private static readonly HealthState Well = new(
        Now, true, null, Now - Duration.FromHours(1), new(2027, 4, 21), new(0, null, Now - Duration.FromHours(1), null));

    [Fact]
    public void A_well_service_is_live_and_ready()
    {
        Assert.True(Health.Liveness(Well).Ok);
        var ready = Health.Readiness(Well);
        Assert.True(ready.Ok);
        Assert.Equal((1.0, "2027-04-21", "nothing waits"), (ready.ForecastAgeHours, ready.LastDigest, ready.Mail));
    }

    [Fact]
    public void Each_trouble_is_named()
    {
        Assert.Equal(["the store does not answer"], Health.Liveness(Well with { StoreAnswers = false }).Faults);
        Assert.Single(Health.Readiness(Well with { StoreAnswers = false }).Faults);
        Assert.Single(Health.Readiness(Well with { ClockDoubt = "it is 1970" }).Faults);
        Assert.Single(Health.Readiness(Well with { ForecastFetchedAt = null }).Faults);
        Assert.Single(Health.Readiness(Well with { ForecastFetchedAt = Now - Duration.FromHours(36.1) }).Faults);
        Assert.Empty(Health.Readiness(Well with { ForecastFetchedAt = Now - Duration.FromHours(35.9) }).Faults);
        Assert.Single(Health.Readiness(Well with { Mail = new(0, null, null, "550") }).Faults);
        Assert.Single(Health.Readiness(Well with { Mail = new(1, Now - Duration.FromMinutes(61), null, null) }).Faults);
        Assert.Empty(Health.Readiness(Well with { Mail = new(1, Now - Duration.FromMinutes(59), null, null) }).Faults);
    }

    [Fact]
    public void A_service_whose_rounds_hang_is_not_live()
    {
        Assert.True(Health.Liveness(Well with { SinceItWentOn = Health.StuckAfter }).Ok);

        var stuck = Well with { SinceItWentOn = Health.StuckAfter + TimeSpan.FromMinutes(2) };
        Assert.Equal(["no round has ended for 7 minutes"], Health.Liveness(stuck).Faults);
        Assert.Equal(["no round has ended for 7 minutes"], Health.Readiness(stuck).Faults);
    }

    [Fact]
    public void An_ensemble_out_of_reach_is_told_and_no_fault()
    {
        var reply = Health.Readiness(Well with { MembersFetchedAt = Now - Duration.FromHours(5), PastYears = 12, Without = ["the ensemble did not answer"] });

        Assert.True(reply.Ok);
        Assert.Equal((5.0, 12, "the ensemble did not answer"), (reply.MembersAgeHours, reply.PastYears, Assert.Single(reply.Without!)));
        Assert.Null(Health.Readiness(Well).Without);
    }

    [Fact]
    public async Task The_pages_answer_with_the_code_that_watchers_look_at()
    {
        var ct = TestContext.Current.CancellationToken;
        var state = Well;
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        await using var app = builder.Build();
        app.Urls.Add("http://127.0.0.1:0");
        app.MapHealth(() => state);
        await app.StartAsync(ct);
        using var http = new HttpClient { BaseAddress = new(app.Urls.First()) };

        using var well = await http.GetAsync(new Uri("/readyz", UriKind.Relative), ct);
        Assert.Equal(HttpStatusCode.OK, well.StatusCode);
        using var json = JsonDocument.Parse(await well.Content.ReadAsStringAsync(ct));
        Assert.True(json.RootElement.GetProperty("ok").GetBoolean());
        Assert.Equal(1.0, json.RootElement.GetProperty("forecastAgeHours").GetDouble());

        state = Well with { Mail = new(1, null, null, "refused for pat@example.org") };
        using var ill = await http.GetAsync(new Uri("/readyz", UriKind.Relative), ct);
        Assert.Equal(HttpStatusCode.ServiceUnavailable, ill.StatusCode);
        Assert.DoesNotContain("pat@", await ill.Content.ReadAsStringAsync(ct), StringComparison.Ordinal);
        using var live = await http.GetAsync(new Uri("/healthz", UriKind.Relative), ct);
        Assert.Equal(HttpStatusCode.OK, live.StatusCode);
    }
}
