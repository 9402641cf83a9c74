using System.Net;

namespace GardenWatch.Messages.Channels;

/// <summary>Whether a secret would travel where others can read it.</summary>
internal static class ClearLine
{
    public static bool StaysHere(string host) => string.Equals(host, "localhost", StringComparison.OrdinalIgnoreCase)
        || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));
}
