using System.Buffers.Text;
using System.Net;
using System.Security.Cryptography;
using System.Text;

namespace GardenWatch.Web;

/// <summary>The secret address of a garden's calendar: whoever has it reads this calendar, and no other.</summary>
public static class CalendarAddress
{
    public const string Folder = "/calendar/";
    public const string Ending = ".ics";

    /// <summary>The garden's token under an installation's key, 43 characters that stand in an address as they are.</summary>
    public static string Token(byte[] key, string gardenId) =>
        Base64Url.EncodeToString(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes("calendar\n" + gardenId)));

    /// <summary>Takes as long for a token that is nearly right as for any other.</summary>
    public static bool IsToken(string token, byte[] key, string gardenId) => CryptographicOperations.FixedTimeEquals(
        Encoding.UTF8.GetBytes(token), Encoding.UTF8.GetBytes(Token(key, gardenId)));

    /// <param name="listen">Where the page is served; this machine's name stands for every address of it.</param>
    public static string Of(IPEndPoint listen, string machine, byte[] key, string gardenId)
    {
        ArgumentNullException.ThrowIfNull(listen);
        bool everywhere = listen.Address.Equals(IPAddress.Any) || listen.Address.Equals(IPAddress.IPv6Any);
        string host = everywhere ? $"{machine}:{listen.Port}" : listen.ToString();
        return $"http://{host}{Folder}{Uri.EscapeDataString(gardenId)}/{Token(key, gardenId)}{Ending}";
    }
}
