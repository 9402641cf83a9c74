using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>Where the digest shall go.</summary>
public abstract record ToldSaid
{
    private const string Example = "a mail address such as `me@example.org`, the address of a push such as `https://push.example.org/garden-4f1c9`, or `terminal`";

    private ToldSaid() { }

    public sealed record ByMail(string Address) : ToldSaid
    {
        /// <summary>How most providers call their server for outgoing mail.</summary>
        public string UsualServer => "smtp." + Address[(Address.LastIndexOf('@') + 1)..];
    }

    /// <param name="Address">As good as a secret: who knows it can read along.</param>
    public sealed record ByPush(Uri Address) : ToldSaid;

    /// <summary>A way out that the settings know already.</summary>
    public sealed record ByChannel(string Word) : ToldSaid;

    /// <summary>Nothing is sent: the digest is read at the terminal or on the page.</summary>
    public sealed record Nobody : ToldSaid;

    public sealed record Fault(string Problem, string Instead) : ToldSaid;

    /// <param name="channels">Those that are set up.</param>
    public static ToldSaid Read(string text, params ImmutableArray<string> channels)
    {
        string said = Words.Tidy(text);
        if (channels.FirstOrDefault(word => word == WrittenNumber.Plain(said)) is { } channel)
            return new ByChannel(channel);
        if (said.StartsWith("mailto:", StringComparison.OrdinalIgnoreCase))
            said = said["mailto:".Length..];
        if (WrittenNumber.Plain(said) is "" or "terminal" or "none" or "nobody" or "nowhere" or "no" or "page" or "here" or "nothing")
            return new Nobody();
        if (Uri.TryCreate(said, UriKind.Absolute, out var address) && address.Scheme is "https" or "http" && channels.Contains(ChannelWords.Push))
            return new Fault("a push is set up already", "`push`, which uses it");
        if (address?.Scheme is "https" or "http")
            return address.AbsolutePath.Length > 1
                ? new ByPush(address)
                : new Fault($"`{said}` names no topic", "the push server's address with the topic you follow, such as `https://push.example.org/garden-4f1c9`");
        if (PlanFile.IsMailAddress(said))
            return new ByMail(said);
        return said.Contains(' ', StringComparison.Ordinal) && said.Split([' ', ','], StringSplitOptions.RemoveEmptyEntries) is { Length: > 1 } several && several.All(PlanFile.IsMailAddress)
            ? new Fault("several addresses are named", "one for now; the others go into the plan: `digest: { to: [one@example.org, two@example.org] }`")
            : new Fault($"`{Cut(said)}` is no address", Example);
    }

    private static string Cut(string text) => text.Length > 60 ? text[..60] + "…" : text;
}

/// <summary>The server for outgoing mail, as one types it: "smtp.example.org", "smtp.example.org:465".</summary>
/// <param name="Port">Null for the usual one.</param>
public sealed record MailServerSaid(string Host, int? Port)
{
    /// <summary>Encrypted from the first byte at 465; a server on this machine may speak in clear; else it must turn to encryption.</summary>
    public string Security => Port == 465 ? "tls" : IsThisMachine && Port is null or 25 or > 1024 ? "none" : "starttls";

    private bool IsThisMachine => Host is "localhost" or "127.0.0.1";

    /// <summary>Null when it is no host's name.</summary>
    public static MailServerSaid? Read(string text)
    {
        string said = Words.Tidy(text);
        int colon = said.LastIndexOf(':');
        int? port = null;
        if (colon > 0)
        {
            if (!int.TryParse(said.AsSpan(colon + 1), NumberStyles.None, CultureInfo.InvariantCulture, out int number) || number is < 1 or > 65535)
                return null;
            (port, said) = (number, said[..colon]);
        }
        return Uri.CheckHostName(said) is UriHostNameType.Dns or UriHostNameType.IPv4 ? new(said.ToLowerInvariant(), port) : null;
    }
}
