using System.Buffers.Text;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>Who asks for a page.</summary>
/// <param name="Person">Null before signing in, and where the page asks for no password.</param>
/// <param name="Nonce">Of the session, to which forms are bound.</param>
public sealed record Visitor(WebPerson? Person, string Nonce);

/// <summary>
/// Knows a visitor again by a signed cookie. What it says is signed with a key of the person's own, which signing out
/// renews, and with the password's print: a new password ends all sessions of before.
/// </summary>
public sealed class Visitors(Settings settings, GardenStore store, IClock clock)
{
    private const string CookieName = "gardenwatch", SecureName = "__Host-gardenwatch";
    private static readonly Duration Lasts = Duration.FromDays(60);
    private static readonly Duration RenewedFrom = Duration.FromDays(30);

    /// <summary>Whether the page asks for a password.</summary>
    public bool AsksForPassword => !settings.People.IsEmpty;

    /// <summary>Null when the store can give no key: then nobody can be known.</summary>
    public Visitor? Of(HttpContext context)
    {
        if (store.Secrets.PageKey() is not { } key)
            return null;
        var now = clock.GetCurrentInstant();
        if (context.Request.Cookies[IsSecure(context) ? SecureName : CookieName] is { Length: < 500 } cookie && Read(cookie, key, now, out var expires) is { } known)
        {
            if (expires - now < RenewedFrom)
                Hand(context, known, key, now);
            return known;
        }
        var stranger = new Visitor(null, NewNonce());
        Hand(context, stranger, key, now);
        return stranger;
    }

    /// <summary>A session of its own, so that one handed to a stranger before never becomes a person's.</summary>
    public Visitor? SignIn(HttpContext context, WebPerson person)
    {
        if (store.Secrets.PageKey() is not { } key)
            return null;
        var visitor = new Visitor(person, NewNonce());
        Hand(context, visitor, key, clock.GetCurrentInstant());
        return visitor;
    }

    /// <summary>Ends all sessions of the person, on every device.</summary>
    public void SignOut(HttpContext context, Visitor visitor)
    {
        if (visitor.Person is { } person)
            store.Secrets.RenewSessionKey(person.Name);
        if (store.Secrets.PageKey() is { } key)
            Hand(context, new(null, NewNonce()), key, clock.GetCurrentInstant());
    }

    public bool Sees(Visitor visitor, string gardenId) => !AsksForPassword || visitor.Person?.Sees(gardenId) == true;

    /// <summary>Goes with every form of a session.</summary>
    public string FormToken(Visitor visitor) => store.Secrets.PageKey() is { } key ? FormToken(visitor, key) : "";

    public bool IsFormToken(Visitor visitor, string? token) => store.Secrets.PageKey() is { } key && token is { Length: < 200 }
        && CryptographicOperations.FixedTimeEquals(Encoding.UTF8.GetBytes(token), Encoding.UTF8.GetBytes(FormToken(visitor, key)));

    /// <summary>Reached by the address of the settings, and that is one over TLS.</summary>
    private bool IsSecure(HttpContext context) => settings.WebAddress is { Scheme: "https" } address
        && string.Equals(context.Request.Host.Value, address.Authority, StringComparison.OrdinalIgnoreCase);

    private static string FormToken(Visitor visitor, byte[] key) =>
        Base64Url.EncodeToString(HMACSHA256.HashData(key, Encoding.UTF8.GetBytes($"form\n{visitor.Person?.Name}\n{visitor.Nonce}")));

    private static string NewNonce() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(16));

    private void Hand(HttpContext context, Visitor visitor, byte[] key, Instant now)
    {
        var expires = now + Lasts;
        bool secure = IsSecure(context);
        context.Response.Cookies.Append(secure ? SecureName : CookieName, Written(visitor, key, expires), new()
        {
            HttpOnly = true,
            // A link in a mail shall find its reader signed in; forms have their token.
            SameSite = SameSiteMode.Lax,
            Secure = secure,
            Path = "/",
            MaxAge = Lasts.ToTimeSpan(),
            IsEssential = true,
        });
    }

    private string Written(Visitor visitor, byte[] key, Instant expires)
    {
        string said = string.Create(CultureInfo.InvariantCulture,
            $"{visitor.Nonce}.{expires.ToUnixTimeSeconds()}.{Base64Url.EncodeToString(Encoding.UTF8.GetBytes(visitor.Person?.Name ?? ""))}");
        return $"{said}.{Base64Url.EncodeToString(Sign(said, visitor.Person, key))}";
    }

    private Visitor? Read(string cookie, byte[] key, Instant now, out Instant expires)
    {
        expires = default;
        if (cookie.Split('.') is not [{ Length: > 0 } nonce, var until, var named, var signature]
            || !long.TryParse(until, NumberStyles.None, CultureInfo.InvariantCulture, out long seconds) || seconds > 40_000_000_000
            || Bytes(named) is not { } nameBytes || Bytes(signature) is not { } signed)
            return null;
        expires = Instant.FromUnixTimeSeconds(seconds);
        string name = Encoding.UTF8.GetString(nameBytes);
        var person = settings.People.FirstOrDefault(known => known.Name == name);
        if (person is null && name.Length > 0 || expires <= now)
            return null;
        return CryptographicOperations.FixedTimeEquals(signed, Sign($"{nonce}.{until}.{named}", person, key)) ? new(person, nonce) : null;
    }

    private byte[] Sign(string said, WebPerson? person, byte[] key)
    {
        if (person is null)
            return HMACSHA256.HashData(key, Encoding.UTF8.GetBytes("session\n" + said));
        byte[] own = store.Secrets.SessionKey(person.Name) ?? RandomNumberGenerator.GetBytes(32);
        return HMACSHA256.HashData(own, (byte[])[.. Encoding.UTF8.GetBytes("session\n" + said + "\n"), .. person.Password.Print]);
    }

    private static byte[]? Bytes(string text) => text.Length < 300 && Base64Url.IsValid(text) ? Base64Url.DecodeFromChars(text) : null;
}
