using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace GardenWatch.Web;

/// <summary>A password of the page as it is kept: a slow hash with its salt, from which the password can't be read.</summary>
/// <remarks>PBKDF2 (RFC 8018) with HMAC-SHA-256; rounds as advised for it in 2023, about half a second on a small computer.</remarks>
public sealed record PagePassword
{
    public const int LeastLength = 10, MostLength = 200;
    private const string Scheme = "pbkdf2-sha256";
    private const int Rounds = 600_000, LeastRounds = 100_000, MostRounds = 10_000_000, SaltBytes = 16, HashBytes = 32;

    private readonly int _rounds;
    private readonly byte[] _salt, _hash;

    private PagePassword(int rounds, byte[] salt, byte[] hash) => (_rounds, _salt, _hash) = (rounds, salt, hash);

    /// <summary>Changes with the password: sessions are bound to it.</summary>
    public ReadOnlySpan<byte> Print => _hash;

    public static PagePassword Of(string password)
    {
        byte[] salt = RandomNumberGenerator.GetBytes(SaltBytes);
        return new(Rounds, salt, Hash(password, salt, Rounds));
    }

    public static bool TryRead(string written, [NotNullWhen(true)] out PagePassword? password)
    {
        password = null;
        if (written.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries) is not [Scheme, var rounds, var salt, var hash]
            || !int.TryParse(rounds, NumberStyles.None, CultureInfo.InvariantCulture, out int count) || count is < LeastRounds or > MostRounds)
            return false;
        Span<byte> saltBytes = stackalloc byte[SaltBytes], hashBytes = stackalloc byte[HashBytes];
        if (!Convert.TryFromBase64String(salt, saltBytes, out int saltRead) || saltRead != SaltBytes
            || !Convert.TryFromBase64String(hash, hashBytes, out int hashRead) || hashRead != HashBytes)
            return false;
        password = new(count, saltBytes.ToArray(), hashBytes.ToArray());
        return true;
    }

    public bool Fits(string password) =>
        CryptographicOperations.FixedTimeEquals(Hash(password, _salt, _rounds), _hash);

    /// <summary>As it stands in its file.</summary>
    public string Written() => string.Create(
        CultureInfo.InvariantCulture, $"{Scheme} {_rounds} {Convert.ToBase64String(_salt)} {Convert.ToBase64String(_hash)}");

    // A record would print its fields.
    public override string ToString() => Scheme;

    // One word typed on two keyboards is one password.
    private static byte[] Hash(string password, byte[] salt, int rounds) =>
        Rfc2898DeriveBytes.Pbkdf2(password.Normalize(NormalizationForm.FormC), salt, rounds, HashAlgorithmName.SHA256, HashBytes);
}
