using System.Collections.Immutable;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;
using MimeKit;
using MimeKit.Utils;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>What a mail's headers make of it, before its body is fetched.</summary>
public abstract record MailStanding
{
    private MailStanding() { }
    /// <summary>It names no message of ours, and is nobody's business here.</summary>
    public sealed record Strange : MailStanding;
    public sealed record Reply(OutboxRow Message) : MailStanding;
    /// <summary>From a server or a program: a word about a mail that came back, or nothing.</summary>
    public sealed record FromProgram(string Reason) : MailStanding;
    /// <param name="Fate"><see cref="ReplyFate"/>.</param>
    public sealed record Refused(string Fate) : MailStanding;
}

/// <summary>Whose answer a mail is. What counts is the secret in the message's own id, which came only to its addressee; never From.</summary>
internal sealed class ReplyReading(GardenStore store)
{
    /// <summary>A digest of last month may be answered; of an older one nobody knows the numbers.</summary>
    public static readonly Duration Longest = Duration.FromDays(62);

    private static readonly string[] Kinds = [MessageKind.Digest + ".", MessageKind.Warning + ".", MessageKind.Notice + "."];

    private readonly MessageIds _ids = new(store.Secrets);

    public MailStanding StandingOf(HeaderList headers, Instant now)
    {
        if (AutomaticMail.ReasonOf(headers) is { } reason)
            return new MailStanding.FromProgram(reason);
        var named = MailReferences.Of(headers).Where(SeemsOurs).ToList();
        var found = named.Select(id => store.Outbox.FindMessage(id, now)).OfType<OutboxRow>().ToList();
        if (named.Count == 0 && MailReferences.MarkIn(headers[HeaderId.Subject]) is { } mark)
        {
            named.Add(mark);
            if (store.Outbox.FindMark(mark, now) is { } marked)
                found.Add(marked);
        }
        found.RemoveAll(row => !_ids.IsSecret(row));
        return named.Count == 0 ? new MailStanding.Strange()
            : found.Count == 0 ? new MailStanding.Refused(ReplyFate.Forged)
            : found.Any(row => row.Key.Garden != found[0].Key.Garden) ? new MailStanding.Refused(ReplyFate.Crossed)
            : now - found[0].CreatedAt > Longest ? new MailStanding.Refused(ReplyFate.Old)
            : new MailStanding.Reply(found[0]);
    }

    /// <summary>The message of ours that came back; null when none is named that can't be guessed.</summary>
    public OutboxRow? Returned(BouncedMail bounced, Instant now) => bounced.MessageIds
        .Where(SeemsOurs)
        .Select(id => store.Outbox.FindMessage(id, now))
        .FirstOrDefault(row => row is not null && _ids.IsSecret(row));

    /// <summary>The id by which a mail is known; made of its headers where it has none.</summary>
    public static string IdOf(HeaderList headers)
    {
        if (MailReferencesId(headers) is { Length: > 0 and <= 250 } id)
            return id;
        string all = string.Join('\n', headers.Select(header => $"{header.Field}:{header.Value}").Take(50));
        return "none." + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(all)));
    }

    public static ImmutableArray<Answer> AnswersOf(FetchedMail mail, OutboxRow row, GardenOnDuty garden, Instant now)
    {
        var today = garden.Place.Calendar.DateOf(WrittenAt(mail.Message, row, now));
        if (ReplyReader.WishIn(MailReferences.Bare(mail.Message.Subject)) is { } wish)
            return [wish];
        using var asked = Sent(row);
        var text = ReplyText.Of(mail.Message, asked?.TextBody);
        return ReplyReader.Read(text, today, new(garden.Known(row.Key.Addressee).Units, garden.Place.Calendar.Zone, garden.Plan.Tongue), JobsOf(row));
    }

    /// <summary>Without those that our message showed, by their names, as some programs give them other ids.</summary>
    public static ImmutableArray<ReplyPicture> PicturesOf(FetchedMail mail, OutboxRow row)
    {
        using var asked = Sent(row);
        var ours = asked?.BodyParts.OfType<MimePart>().Select(part => part.FileName).OfType<string>().ToHashSet(StringComparer.OrdinalIgnoreCase) ?? [];
        return [.. mail.Pictures.Where(picture => !ours.Contains(picture.Name))];
    }

    /// <summary>As its writer's program says, within what can be: not before the message that it answers, and not to come.</summary>
    private static Instant WrittenAt(MimeMessage mail, OutboxRow row, Instant now)
    {
        var said = mail.Headers.Contains(HeaderId.Date) && DateUtils.TryParse(mail.Headers[HeaderId.Date], out var date) ? Instant.FromDateTimeOffset(date) : now;
        return said > now || said < row.CreatedAt ? now : said;
    }

    internal static ImmutableArray<AskedJob> JobsOf(OutboxRow row) =>
    [
        .. row.Jobs.Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => line.Split('=', 2))
            .Select(parts => (Number: int.Parse(parts[0], CultureInfo.InvariantCulture), Fields: parts[1].Split('\t')))
            .Select(job => new AskedJob(
                job.Number, job.Fields.ElementAtOrDefault(1) ?? "",
                job.Fields.ElementAtOrDefault(2) switch { DigestRound.Asked => true, DigestRound.Waits => false, _ => null })),
    ];

    /// <summary>Null when its bytes are not kept any more.</summary>
    private static MimeMessage? Sent(OutboxRow row) => row.Bytes.Length == 0 ? null : MimeMessage.Load(new MemoryStream(row.Bytes, writable: false));

    private static bool SeemsOurs(string id) => Kinds.Any(kind => id.StartsWith(kind, StringComparison.Ordinal));

    private static string? MailReferencesId(HeaderList headers) => headers[HeaderId.MessageId]?.Trim().Trim('<', '>').Trim();
}
