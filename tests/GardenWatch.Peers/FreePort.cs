using System.Net;
using System.Net.Sockets;

namespace GardenWatch.Peers;

/// <summary>For a server that can't tell which port it took itself.</summary>
public static class FreePort
{
    /// <summary>Nothing listened there a moment ago.</summary>
    public static int OnLoopback()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}
