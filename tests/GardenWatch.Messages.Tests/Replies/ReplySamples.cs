using System.Collections.Immutable;
using System.Text;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Quantities;
using MimeKit;
using NodaTime;

namespace GardenWatch.Messages.Tests.Replies;

/// <summary>One message, and the shapes in which mail programs wrap an answer to it.</summary>
internal static class ReplySamples
{
    public static readonly LocalDate Today = new(2026, 4, 21);

    public static Speech English(UnitSystem units) => new(units, DateTimeZone.Utc);

    public static readonly ImmutableArray<AskedJob> Jobs =
    [
        new(1, "Cover the tomatoes (low bed)"), new(2, "Sow radish, batch 3 (kitchen bed)"), new(3, "Thin radish, batch 2 (kitchen bed)"),
        new(4, "Start winter squash (indoors)"), new(5, "Spread slug pellets (low bed)", Today: false),
    ];

    public const string Asked =
        """
        Tue 21 April: cover the tomatoes by 7:30 pm, 3 more jobs, rain on
        Thursday

        BEFORE IT'S TOO LATE
          1. Cover the tomatoes (low bed) by 7:30 pm.
             35 °F at your bed about 5 am, clear and calm: frost on the leaves
             is likely (7 in 10). Fleece is worth about 3 °F.

        TODAY SUITS
          2. Sow radish, batch 3 (kitchen bed), 5:30 to 7:45 pm.
             Soil 52 °F at dawn and warming; 45 °F is enough.

          3. Thin radish, batch 2 (kitchen bed), 5:30 to 8 pm.
             To 2 inches apart; 15 minutes.

          4. Start winter squash (indoors), any hour.

        ON THE WAY
          5. Spread slug pellets (low bed), tomorrow, 5:30 to 8:30 pm.

        --
        Quarry Lane, Tuesday 21 April, 6 am.
        Reply with "done 1", "later 2 3 days" or "skip 3". Anything else you
        write is kept as a note.
        """;

    private const string Who = "Quarry Lane <garden@example.org>";
    private static readonly string Marked = string.Join('\n', Asked.Split('\n').Select(line => ("> " + line).TrimEnd()));
    private static readonly string AskedHtml = "<div>" + Asked.Replace("\n", "<br>", StringComparison.Ordinal) + "</div>";

    public static MimeMessage Mail(string shape, string words)
    {
        string html = System.Net.WebUtility.HtmlEncode(words).Replace("\n", "<br>", StringComparison.Ordinal);
        return shape switch
        {
            "plain" or "us" => Plain(words),
            "on" => Plain($"{words}\n\nOn Tue, 21 Apr 2026 at 06:00, {Who} wrote:\n\n{Marked}\n"),
            "onbroken" => Plain($"{words}\n\nOn Tuesday, 21 April 2026 at 06:00:12 BST, Quarry Lane\n<garden@example.org>\nwrote:\n\n{Marked}\n"),
            "bare" => Plain($"{words}\n\n{Marked}\n"),
            "bottom" => Plain($"On 21/04/2026 06:00, {Who} wrote:\n{Marked}\n\n{words}\n\nPat\n"),
            "de" => Plain($"{words}\n\nAm 21.04.2026 um 06:00 schrieb {Who}:\n{Marked}\n"),
            "fr" => Plain($"{words}\n\nLe mar. 21 avr. 2026 à 06:00, {Who} a écrit :\n\n{Marked}\n"),
            "nl" => Plain($"{words}\n\nOp di 21 apr. 2026 om 06:00 schreef {Who}:\n\n{Marked}\n"),
            "es" => Plain($"{words}\n\nEl mar, 21 abr 2026 a las 6:00, {Who} escribió:\n\n{Marked}\n"),
            "it" => Plain($"{words}\n\nIl giorno mar 21 apr 2026 alle ore 06:00 {Who} ha scritto:\n\n{Marked}\n"),
            "sv" => Plain($"{words}\n\nDen tis 21 apr. 2026 kl 06:00 skrev {Who}:\n\n{Marked}\n"),
            "headed" => Plain($"{words}\n\n________________________________\nFrom: {Who}\nSent: Tuesday, April 21, 2026 6:00 AM\nTo: Pat Miller <pat@example.org>\nSubject: Tue 21 April: cover the tomatoes by 7:30 pm\n\n{Asked}\n"),
            "headedde" => Plain($"{words}\n\nVon: {Who}\nGesendet: Dienstag, 21. April 2026 06:00\nAn: Pat Miller\nBetreff: Tue 21 April\n\n{Asked}\n"),
            "original" => Plain($"{words}\n\n-----Original Message-----\nFrom: {Who}\nSent: 21 April 2026 06:00\nTo: Pat\nSubject: Tue 21 April\n\n{Asked}\n"),
            "unmarked" => Plain($"{words}\n\nOn Tue, Apr 21, 2026 at 6:00 AM {Who} wrote:\n{Asked}\n"),
            "phone" => Plain($"{words}\n\nSent from my phone\n\n> On 21 Apr 2026, at 06:00, {Who} wrote:\n> \n{Marked}\n"),
            "phonede" => Plain($"{words}\n\nVon meinem Mobiltelefon gesendet\n\nAm 21.04.2026 um 06:00 schrieb Quarry Lane:\n\n{Marked}\n"),
            "phonefr" => Plain($"{words}\n\nEnvoyé de mon téléphone\n\nLe 21 avr. 2026 à 06:00, {Who} a écrit :\n\n{Marked}\n"),
            "signed" => Plain($"{words}\n\n-- \nPat Miller\n12 Example Road\nTel. 01234 567890\n"),
            "regards" => Plain($"{words}\n\nBest regards,\nPat Miller\nSecretary, allotment society\n"),
            "named" => Plain($"{words}\n\nPat\n"),
            "notice" => Plain($"{words}\n\nCONFIDENTIALITY NOTICE: The information contained in this message is for the 1 person it names. If done reading, delete.\n"),
            "html" => Html($"<html><head><style>p {{ margin: 0 }}</style></head><body><div dir=\"ltr\">{html}</div><br><div class=\"x_quote\"><div dir=\"ltr\">On Tue, Apr 21, 2026 at 6:00 AM Quarry Lane &lt;<a href=\"mailto:garden@example.org\">garden@example.org</a>&gt; wrote:<br></div><blockquote style=\"margin:0\">{AskedHtml}</blockquote></div></body></html>"),
            "htmlheaded" => Html($"<html><body><p>{html}<o:p></o:p></p><p>&nbsp;</p><div style=\"border-top:solid 1pt\"><p><b>From:</b> {System.Net.WebUtility.HtmlEncode(Who)}<br><b>Sent:</b> Tuesday, April 21, 2026 6:00 AM<br><b>To:</b> Pat<br><b>Subject:</b> Tue 21 April</p></div>{AskedHtml}</body></html>"),
            "htmlsigned" => Html($"<div>{html}</div><div><br></div><div class=\"mail-signature\"><div>Pat Miller</div>done 1 2 3</div>"),
            "htmlonly" => Html($"<p>{html}</p>"),
            "latin" => Plain(words, "iso-8859-1"),
            "windows" => Plain(words, "windows-1252"),
            "flowed" => Flowed(words),
            "between" => Plain(Between(words)),
            "cut" => Plain($"> 2. Sow radish, batch 3 (kitchen bed), 5:30 to 7:45 pm.\n\n{words}\n"),
            _ => throw new ArgumentOutOfRangeException(nameof(shape), shape, "There is no such shape."),
        };
    }

    private static MimeMessage Plain(string text, string charset = "utf-8")
    {
        var part = new TextPart("plain");
        var encoding = System.Text.CodePagesEncodingProvider.Instance.GetEncoding(charset) ?? Encoding.GetEncoding(charset);
        part.Content = new MimeContent(new MemoryStream(encoding.GetBytes(text)));
        part.ContentTransferEncoding = ContentEncoding.QuotedPrintable;
        part.ContentType.Charset = charset;
        return Mail(part);
    }

    private static MimeMessage Html(string html) => Mail(new TextPart("html") { Text = html });

    /// <summary>RFC 3676, broken at 60.</summary>
    private static MimeMessage Flowed(string words)
    {
        var text = new StringBuilder();
        int column = 0;
        foreach (string word in words.Split(' '))
        {
            if (column + word.Length > 60)
            {
                text.Append('\n');
                column = 0;
            }
            text.Append(word).Append(' ');
            column += word.Length + 1;
        }
        var part = new TextPart("plain") { Text = $"{text.ToString().TrimEnd()}\n\n-- \nPat\n" };
        part.ContentType.Parameters["format"] = "flowed";
        return Mail(part);
    }

    /// <summary>"~2" stands for the quoted lines down to job 2.</summary>
    private static string Between(string words)
    {
        string[] lines = Marked.Split('\n');
        int at = 0;
        var text = new StringBuilder($"On 21/04/2026 06:00, {Who} wrote:\n");
        foreach (string line in ("~1\n" + words).Split('\n'))
        {
            if (line[0] != '~')
            {
                text.Append(line).Append('\n');
                continue;
            }
            int head = Array.FindIndex(lines, each => each.StartsWith($">   {line[1..]}.", StringComparison.Ordinal));
            text.AppendJoin('\n', lines[at..(head + 1)]).Append('\n');
            at = head + 1;
        }
        return text.AppendJoin('\n', lines[at..]).Append('\n').ToString();
    }

    private static MimeMessage Mail(MimeEntity body)
    {
        var message = new MimeMessage { Body = body, Subject = "Re: Tue 21 April: cover the tomatoes by 7:30 pm" };
        message.From.Add(new MailboxAddress("Pat Miller", "pat@example.org"));
        message.To.Add(new MailboxAddress("Quarry Lane", "garden@example.org"));
        using var wire = new MemoryStream();
        message.WriteTo(wire, TestContext.Current.CancellationToken);
        message.Dispose();
        // As it comes in: from its bytes.
        return MimeMessage.Load(new MemoryStream(wire.ToArray()), TestContext.Current.CancellationToken);
    }
}
