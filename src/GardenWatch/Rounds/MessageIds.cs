using System.Security.Cryptography;
using System.Text;
using GardenWatch.Store;

namespace GardenWatch.Rounds;

/// <summary>
/// Message-IDs that only those know who got the message: who answers with one had it, whatever From says. The same message has the
/// same id after a restart, so that a double can be known as one.
/// </summary>
internal sealed class MessageIds(SecretTable secrets)
{
    private const int TokenBytes = 16;

    // Where the store takes no key, answers to these messages are refused, but they go out.
    private byte[] _key = RandomNumberGenerator.GetBytes(32);
    private bool _stored;

    /// <summary>What stands before the <c>@</c>.</summary>
    public string LeftOf(OutboxKey key)
    {
        if (!_stored && secrets.MessageKey() is { } kept)
            (_key, _stored) = (kept, true);
        byte[] hash = HMACSHA256.HashData(_key, Encoding.UTF8.GetBytes(string.Join('\n', key.Garden, key.Addressee.ToLowerInvariant(), key.Kind, key.Occasion)));
        return $"{key.Kind}.{Convert.ToHexStringLower(hash.AsSpan(0, TokenBytes))}";
    }

    /// <summary>Whether a stored message has an id that can't be guessed; those of before the key could be.</summary>
    public bool IsSecret(OutboxRow row) => CryptographicOperations.FixedTimeEquals(
        Encoding.UTF8.GetBytes(LeftOf(row.Key)), Encoding.UTF8.GetBytes(row.MessageId.Split('@')[0]));
}
