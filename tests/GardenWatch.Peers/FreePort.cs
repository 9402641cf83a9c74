using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;

namespace GardenWatch.Peers;

/// <summary>For a server that can't tell which port it took itself.</summary>
public static class FreePort
{
    // Below those that systems give to whoever asks for any port: a server that is stopped and started again finds its own still free.
    private const int Lowest = 20_000, Highest = 32_000;

    private static readonly ConcurrentDictionary<int, bool> Given = new();

    /// <summary>Nothing listened there a moment ago, and nobody else is given it.</summary>
    public static int OnLoopback()
    {
        while (true)
        {
            int port = Random.Shared.Next(Lowest, Highest);
            if (IsFree(port) && Given.TryAdd(port, true))
                return port;
        }
    }

    private static bool IsFree(int port)
    {
        try
        {
            using var listener = new TcpListener(IPAddress.Loopback, port);
            listener.Start();
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
