using System.Buffers.Text;
using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>
/// What a link in a message stands for: one job of one garden, in one message, until an hour. It bears no action: opening
/// it shows the job, whoever or whatever opens it.
/// </summary>
/// <param name="MessageId">The outbox's id of the message, before its @.</param>
public sealed record JobLink(string JobId, string MessageId, Instant Expires)
{
    public const string Folder = "/job/";
    /// <summary>A week's holiday, and a week to look through the mail of it.</summary>
    public static readonly Duration Lasts = Duration.FromDays(14);
    private const int SignatureBytes = 16, LongestToken = 800;

    public string GardenId => JobId.Split('/')[0];

    /// <summary>The job, the message and the hour, signed with an installation's key.</summary>
    public string Token(byte[] key)
    {
        byte[] said = Encoding.UTF8.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{Expires.ToUnixTimeSeconds()}\n{MessageId}\n{JobId}"));
        return Base64Url.EncodeToString([.. Signature(said, key), .. said]);
    }

    public string Address(Uri page, byte[] key) => $"{page.ToString().TrimEnd('/')}{Folder}{Token(key)}";

    /// <summary>False for what this installation did not sign. One that has expired is read, so that this can be said.</summary>
    public static bool TryRead(string token, byte[] key, [NotNullWhen(true)] out JobLink? link)
    {
        link = null;
        if (token.Length > LongestToken || !Base64Url.IsValid(token))
            return false;
        byte[] bytes = Base64Url.DecodeFromChars(token);
        if (bytes.Length <= SignatureBytes || !CryptographicOperations.FixedTimeEquals(bytes.AsSpan(0, SignatureBytes), Signature(bytes.AsSpan(SignatureBytes), key)))
            return false;
        if (Encoding.UTF8.GetString(bytes.AsSpan(SignatureBytes)).Split('\n') is not [var until, var message, var job]
            || !long.TryParse(until, NumberStyles.None, CultureInfo.InvariantCulture, out long seconds) || !Planning.Agendas.JobId.TryParse(job, out _))
            return false;
        link = new(job, message, Instant.FromUnixTimeSeconds(seconds));
        return true;
    }

    private static byte[] Signature(ReadOnlySpan<byte> said, byte[] key) =>
        HMACSHA256.HashData(key, (byte[])[.. "job link\n"u8, .. said])[..SignatureBytes];
}
