using System.Text;
using System.Text.RegularExpressions;
using CsCheck;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Tests.Digests;
using MimeKit;

namespace GardenWatch.Messages.Tests.Mail;

/// <summary>The bytes that go out, held against the standards by a reader of our own.</summary>
public sealed partial class MailLintTests
{
    public static TheoryData<string> Names => DigestSamples.Names;

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_sample_keeps_to_the_standards(string name) =>
        Assert.Empty(MailLint.Faults(OutgoingMailTests.Rendered(name).Bytes));

    [Theory]
    [MemberData(nameof(Names))]
    public void Subject_names_and_every_job_are_the_letters_own(string name)
    {
        var letter = DigestSamples.Of(name);
        var mail = RawMail.Read(OutgoingMailTests.Rendered(name).Bytes.AsSpan());
        Assert.Equal(letter.Subject, Shown(mail, "Subject"));
        Assert.Contains(Unquoted(letter.GardenName), Unquoted(Shown(mail, "From")), StringComparison.Ordinal);
        string plain = Run(mail.Leaves.Single(part => part.MediaType == "text/plain").Text());
        string html = Run(System.Net.WebUtility.HtmlDecode(Tag().Replace(mail.Leaves.Single(part => part.MediaType == "text/html").Text(), " ")));
        var jobs = letter.Sections.SelectMany(section => section.Rows).OfType<JobRow>().Select(job => Run(Plain(job.Deed))).ToList();
        Assert.All(jobs, deed =>
        {
            Assert.Contains(deed, plain, StringComparison.Ordinal);
            Assert.Contains(deed, Plain(html), StringComparison.Ordinal);
        });
    }

    [Fact]
    public void Hostile_words_in_every_place_break_no_rule_and_add_no_header() => Gen.Select(Nasty, Nasty, Nasty).Sample((name, subject, text) =>
    {
        var letter = new Note
        {
            Zone = SampleGarden.Zone, GardenId = text, GardenName = name, Heading = name, Subject = subject, Headline = text, Lead = text,
            Sections = [new(name, [new JobRow(1, text, name, subject, Mark.Now, [new(Voice.Evidence, text)]), new LineRow(name)])],
            Foot = [new(text)], Numbers = [(1, "x")], AnswerAddress = "answers@example.org",
        };
        var mail = OutgoingMail.Render(letter, "a.1", "garden@example.org", "pat@example.org", SampleGarden.At(SampleGarden.Tuesday, 6), "under@example.org");
        Assert.Empty(MailLint.Faults(mail.Bytes));
        using var stream = new MemoryStream([.. mail.Bytes]);
        using var read = MimeMessage.Load(stream);
        Assert.Equal("pat@example.org", Assert.Single(read.GetRecipients()).Address);
        Assert.Equal(["garden@example.org"], read.From.Mailboxes.Select(from => from.Address));
        Assert.Equal(mail.Bytes, OutgoingMail.Render(letter, "a.1", "garden@example.org", "pat@example.org", SampleGarden.At(SampleGarden.Tuesday, 6), "under@example.org").Bytes.AsEnumerable());
    }, iter: 400);

    [Fact]
    public void Text_of_any_kind_reads_back_from_quoted_printable_in_lines_of_76() => Nasty.Sample(text =>
    {
        byte[] encoded = QuotedPrintable.Encode(text);
        Assert.All(Encoding.ASCII.GetString(encoded).Split("\r\n"), line => Assert.InRange(line.Length, 0, 76));
        var part = RawMail.Read([.. "Content-Transfer-Encoding: quoted-printable\r\n\r\n"u8, .. encoded]);
        // Half a surrogate pair is no character, and lines end in CRLF.
        Assert.Equal(string.Concat(text.EnumerateRunes()).ReplaceLineEndings("\r\n"), part.Text());
    }, iter: 2_000);

    [Theory]
    [InlineData("pat@gärten.example")]
    [InlineData("Pät Müller <pat@example.org>")]
    [InlineData("\"Pat, Sam\" <pat@example.org>")]
    public void Addressees_beyond_latin_letters_are_encoded(string to)
    {
        var mail = OutgoingMail.Render(DigestSamples.Of("quiet-morning"), "a.1", "Jårdin ✿ <garden@example.org>", to, SampleGarden.At(SampleGarden.Tuesday, 6));
        Assert.Empty(MailLint.Faults(mail.Bytes));
        Assert.Contains("Jårdin ✿", Shown(RawMail.Read(mail.Bytes.AsSpan()), "From"), StringComparison.Ordinal);
    }

    [Fact]
    public void A_warning_hangs_under_the_digest_of_its_day()
    {
        var mail = OutgoingMail.Render(DigestSamples.Of("frost-warning"), "warning.1", "garden@example.org", "pat@example.org", SampleGarden.At(SampleGarden.Tuesday, 17), "digest.1@example.org");
        Assert.Empty(MailLint.Faults(mail.Bytes));
        var raw = RawMail.Read(mail.Bytes.AsSpan());
        Assert.Equal("<digest.1@example.org>", raw["In-Reply-To"]);
        Assert.Equal("<digest.1@example.org>", raw["References"]);
    }

    [Fact]
    public void Where_no_answers_are_read_nothing_offers_to_read_them()
    {
        var letter = DigestSamples.Of("granules-before-rain");
        Assert.Null(letter.AnswerAddress);
        var raw = RawMail.Read(OutgoingMail.Render(letter, "a.1", "garden@example.org", "kim@example.org", SampleGarden.At(SampleGarden.Tuesday, 6)).Bytes.AsSpan());
        Assert.Null(raw["Reply-To"]);
        Assert.Null(raw["List-Unsubscribe"]);
        Assert.Equal("auto-generated", raw["Auto-Submitted"]);
    }

    // The lint itself must be able to fail: one slip each, on a mail that is otherwise sound.
    [Theory]
    [InlineData("\r\nSubject:", "\nSubject:", "bare LF")]
    [InlineData("\r\nSubject:", "\r\nBcc: all@example.org\r\nSubject:", "not ours")]
    [InlineData("\r\nSubject:", "\r\nTo: sam@example.org\r\nSubject:", "2 times")]
    [InlineData("charset=utf-8", "charset=latin1", "character set")]
    [InlineData("Content-Id: <day", "Content-Id: <dawn", "not named")]
    [InlineData("quoted-printable", "8bit", "does not read back")]
    [InlineData("Message-Id: <", "Message-Id: <a b", "is none")]
    [InlineData("MIME-Version: 1.0\r\n", "", "is missing")]
    [InlineData("\r\nSubject: ", "\r\nSubject: =?utf-8?q?=C3?= ", "splits a character")]
    public void The_lint_finds(string sound, string broken, string said)
    {
        string mail = Encoding.ASCII.GetString([.. OutgoingMailTests.Rendered("frosty-morning").Bytes]);
        int at = mail.IndexOf(sound, StringComparison.Ordinal);
        Assert.True(at >= 0, sound);
        string slipped = mail[..at] + broken + mail[(at + sound.Length)..];
        Assert.Contains(MailLint.Faults([.. Encoding.ASCII.GetBytes(slipped)]), fault => fault.Contains(said, StringComparison.Ordinal));
    }

    /// <summary>Pieces that break out of headers, boundaries, encoded words and HTML, and letters of many alphabets.</summary>
    private static readonly Gen<string> Nasty = Gen.OneOf([.. ((string[])[
            "\r\nBcc: all@example.org", "\r\n\r\n", "\n", "\r", "\0", "\t", "=?utf-8?q?=0D=0ABcc:_x?=", "=?", "?=", "--=_a.1", "--=_a.1--", "--=_a.1.r",
            "\u202E", "\u2028", "\uFEFF", "\"", "\\", "<>", "<script>", "cid:evil", "\"cid:evil\"", ".", "..", "From ", "ä", "木", "🍅", "e\u0301", "\uD83C", "\u00A0", " ", "  ", "tomato", ",", ";", ":", "@", "()",
            new string('x', 90), new string('ß', 90), new string(' ', 90)]).Select(Gen.Const)])
        .Array[0, 12].Select(pieces => string.Concat(pieces));

    private static string Shown(RawMail mail, string name) => mail.Headers.Single(header => header.Is(name)).Shown;

    private static string Unquoted(string text) => text.Replace("\"", "", StringComparison.Ordinal).Replace("\\", "", StringComparison.Ordinal);

    private static string Run(string text) => string.Join(' ', text.Split((char[])[' ', '\u00A0', '\r', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries));

    private static string Plain(string text) => text.Replace('’', '\'').Replace('“', '"').Replace('”', '"');

    [GeneratedRegex("<[^>]+>")]
    private static partial Regex Tag();

    private sealed record Note : Letter;
}
