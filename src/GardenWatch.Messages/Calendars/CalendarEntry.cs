using System.Security.Cryptography;
using System.Text;
using NodaTime;

namespace GardenWatch.Messages.Calendars;

/// <summary>One job, or the way back of one, as a calendar shows it.</summary>
/// <param name="Key">The job's id, and a word for the way back: the same while the job is open.</param>
/// <param name="Bed">Null for what concerns the whole garden.</param>
/// <param name="Tentative">Of dates that the weather still has to make.</param>
public sealed record CalendarEntry(string Key, string Summary, string Description, string? Bed, CalendarTime When, bool Tentative)
{
    /// <summary>It runs already, so its beginning is the instant of the look and not the window's own.</summary>
    public bool HasBegun { get; init; }

    /// <summary>A UUID made of the key (RFC 9562, version 8), so that each reading of the calendar has the same.</summary>
    public string Uid
    {
        get
        {
            byte[] bytes = SHA256.HashData(Encoding.UTF8.GetBytes(Key))[..16];
            bytes[6] = (byte)((bytes[6] & 0x0F) | 0x80);
            bytes[8] = (byte)((bytes[8] & 0x3F) | 0x80);
            return new Guid(bytes, bigEndian: true).ToString("D");
        }
    }
}

/// <summary>An entry with what was said of it before.</summary>
/// <param name="Sequence">Grows whenever its time or its certainty changes.</param>
/// <param name="ModifiedAt">When anything of it last changed.</param>
public sealed record RevisedEntry(CalendarEntry Entry, int Sequence, Instant ModifiedAt);
