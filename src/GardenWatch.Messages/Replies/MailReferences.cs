using System.Collections.Immutable;
using System.Text.RegularExpressions;
using MimeKit;

namespace GardenWatch.Messages.Replies;

/// <summary>Which of our messages a mail answers, as its own headers say. Nobody knows such an id who did not get the message.</summary>
public static partial class MailReferences
{
    private const int Most = 50;
    private const int LongestId = 250;
    private const int LongestSubject = 500;

    /// <summary>Message-IDs without brackets, the one answered directly first, then from the latest to the first of the talk.</summary>
    public static ImmutableArray<string> Of(HeaderList headers)
    {
        ArgumentNullException.ThrowIfNull(headers);
        var ids = IdsIn(headers[HeaderId.InReplyTo]).Concat(IdsIn(headers[HeaderId.References]).Reverse());
        return [.. ids.Where(id => id.Length <= LongestId).Distinct(StringComparer.Ordinal).Take(Most)];
    }

    /// <summary>
    /// What stands in brackets at the end of a subject: the left part of our Message-ID. A link in a message begins a new mail, which has no reference.
    /// </summary>
    public static string? MarkIn(string? subject) =>
        subject is { Length: <= LongestSubject } && Bracketed().Match(subject) is { Success: true } mark ? mark.Groups[1].Value : null;

    /// <summary>The subject without that mark and the "Re:" before it.</summary>
    public static string Bare(string? subject) =>
        subject is null or { Length: > LongestSubject } ? "" : Answering().Replace(Bracketed().Replace(subject, ""), "").Trim();

    internal static IEnumerable<string> IdsIn(string? header)
    {
        if (header is null)
            yield break;
        for (int at = 0; at < header.Length;)
        {
            int open = header.IndexOf('<', at);
            int close = open < 0 ? -1 : header.IndexOf('>', open);
            if (close < 0)
                yield break;
            yield return header[(open + 1)..close].Trim();
            at = close + 1;
        }
    }

    [GeneratedRegex(@"\[([a-z]{3,20}\.[0-9a-f]{16,64})\]\s*$", RegexOptions.CultureInvariant)]
    private static partial Regex Bracketed();

    [GeneratedRegex(@"^\s*(?:(?:re|aw|sv|antw|odp|rif)\s*:\s*)+", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Answering();
}
