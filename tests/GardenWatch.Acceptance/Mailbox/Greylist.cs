using System.Net;
using System.Net.Sockets;

namespace GardenWatch.Acceptance.Mailbox;

/// <summary>Postfix asks it about each recipient: the first time it says "come again", from then on it lets through.</summary>
internal sealed class Greylist : IAsyncDisposable
{
    private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
    private readonly CancellationTokenSource _stop = new();
    private readonly List<Task> _talks = [];
    private readonly Task _listening;
    private int _asked;

    public Greylist()
    {
        _listener.Start();
        Port = ((IPEndPoint)_listener.LocalEndpoint).Port;
        _listening = Listen();
    }

    public int Port { get; }

    /// <summary>How often it was asked.</summary>
    public int Asked => Volatile.Read(ref _asked);

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _listening;
        await Task.WhenAll(_talks);
        _listener.Dispose();
        _stop.Dispose();
    }

    private async Task Listen()
    {
        try
        {
            while (true)
                _talks.Add(Talk(await _listener.AcceptTcpClientAsync(_stop.Token)));
        }
        catch (OperationCanceledException)
        {
            // Disposed.
        }
    }

    /// <summary>Lines of `name=value`, an empty one at the end of each question.</summary>
    private async Task Talk(TcpClient client)
    {
        using (client)
        {
            try
            {
                using var reader = new StreamReader(client.GetStream());
                var writer = new StreamWriter(client.GetStream()) { AutoFlush = true, NewLine = "\n" };
                while (await reader.ReadLineAsync(_stop.Token) is { } line)
                    if (line.Length == 0)
                        await writer.WriteAsync(Interlocked.Increment(ref _asked) == 1 ? "action=450 4.7.1 Greylisted, come back later\n\n" : "action=dunno\n\n");
            }
            catch (Exception left) when (left is IOException or OperationCanceledException)
            {
                // Postfix went, or the test is over.
            }
        }
    }
}
