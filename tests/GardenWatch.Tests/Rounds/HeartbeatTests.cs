using System.Net;
using GardenWatch.Rounds;

namespace GardenWatch.Tests.Rounds;

public sealed class HeartbeatTests
{
    private static readonly Uri Address = new("https://example.org/ping/garden");

    [Theory]
    [InlineData(HttpStatusCode.OK, false)]
    [InlineData(HttpStatusCode.NotFound, true)]
    [InlineData(null, true)]
    public async Task A_heartbeat_that_fails_is_told_and_harms_nothing(HttpStatusCode? status, bool told)
    {
        var asked = new List<Uri?>();
        using var http = new HttpClient(new Answering(request =>
        {
            asked.Add(request.RequestUri);
            return status is { } code ? new(code) : throw new HttpRequestException(HttpRequestError.ConnectionError);
        }));
        var log = new Heard();

        await new Heartbeat(http, Address, log).Beat(TestContext.Current.CancellationToken);

        Assert.Equal([Address], asked);
        Assert.Equal(told ? [130] : [], log.Events);
    }

    private sealed class Answering(Func<HttpRequestMessage, HttpResponseMessage> answer) : HttpMessageHandler
    {
        protected override Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken) =>
            Task.FromResult(answer(request));
    }
}
