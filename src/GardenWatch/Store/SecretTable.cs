using System.Security.Cryptography;

namespace GardenWatch.Store;

/// <summary>Keys that this installation made for itself; they never leave it, only what is derived from them does.</summary>
public sealed class SecretTable(StoreConnection connection)
{
    private const string Calendar = "calendar";
    private const string Messages = "messages";
    private const string Page = "page";
    private const string JobLinks = "job links";
    private const string Sessions = "sessions of ";
    private const int KeyBytes = 32;

    private const string Add = "INSERT INTO secret (name, body) VALUES ($name, $body) ON CONFLICT (name) DO NOTHING";
    private const string Set = "INSERT INTO secret (name, body) VALUES ($name, $body) ON CONFLICT (name) DO UPDATE SET body = $body";
    private const string Select = "SELECT body FROM secret WHERE name = $name";

    /// <summary>Made at the first call; null when it is not there and can't be stored.</summary>
    public byte[]? CalendarKey() => Key(Calendar);

    /// <summary>Makes Message-IDs that nobody can guess. As <see cref="CalendarKey"/>.</summary>
    public byte[]? MessageKey() => Key(Messages);

    /// <summary>All calendar addresses of before are void.</summary>
    public WriteOutcome RenewCalendarKey() => Renew(Calendar);

    /// <summary>Signs what the page hands to a browser; as <see cref="CalendarKey"/>.</summary>
    public byte[]? PageKey() => Key(Page);

    /// <summary>Signs the links to a job in messages; as <see cref="CalendarKey"/>.</summary>
    public byte[]? JobLinkKey() => Key(JobLinks);

    /// <summary>Signs one person's sessions; as <see cref="CalendarKey"/>.</summary>
    public byte[]? SessionKey(string person) => Key(Sessions + person);

    /// <summary>All sessions of this person are over.</summary>
    public WriteOutcome RenewSessionKey(string person) => Renew(Sessions + person);

    private WriteOutcome Renew(string name) => connection.Write(Set, ("$name", name), ("$body", RandomNumberGenerator.GetBytes(KeyBytes)));

    private byte[]? Key(string name)
    {
        if (Find(name) is { } kept)
            return kept;
        _ = connection.Write(Add, ("$name", name), ("$body", RandomNumberGenerator.GetBytes(KeyBytes)));
        // Another process may have been faster: what is stored counts.
        return Find(name);
    }

    private byte[]? Find(string name) => connection.Read(Select, row => row.GetFieldValue<byte[]>(0), ("$name", name)).FirstOrDefault();
}
