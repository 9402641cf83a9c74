using System.Collections.Immutable;
using System.Diagnostics;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Tests.Digests;
using MimeKit;

namespace GardenWatch.Messages.Tests.Mail;

public sealed partial class OutgoingMailTests
{
    public static TheoryData<string> Names => DigestSamples.Names;

    [Theory]
    [MemberData(nameof(Names))]
    public void A_mail_reads_back_as_text_and_html_of_the_letter(string name)
    {
        var letter = Marked(name);
        using var message = Read(Rendered(name).Bytes);
        Assert.Equal(letter.Subject, message.Subject);
        Assert.Equal(DigestText.Write(letter), message.TextBody!.ReplaceLineEndings("\n"));
        // Heavy ones lose pictures, never words.
        Assert.Contains(message.HtmlBody!.ReplaceLineEndings("\n"), MailWeight.Lighter(letter).Select(DigestHtml.Write));
        var parts = Assert.IsType<MultipartAlternative>(message.Body);
        bool drawn = message.HtmlBody!.Contains("<picture>", StringComparison.Ordinal);
        Assert.Equal(["text/plain", drawn ? "multipart/related" : "text/html"], parts.Select(part => part.ContentType.MimeType));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Each_picture_that_the_html_names_is_in_the_mail_and_no_other(string name)
    {
        using var message = Read(Rendered(name).Bytes);
        var named = CidNamed().Matches(message.HtmlBody!).Select(match => match.Groups[1].Value).Order(StringComparer.Ordinal).ToArray();
        var pictures = message.BodyParts.OfType<MimePart>().Where(part => part is not TextPart).ToArray();
        Assert.Equal(named, pictures.Select(picture => picture.ContentId).Order(StringComparer.Ordinal));
        Assert.All(pictures, picture =>
        {
            Assert.Equal("image/png", picture.ContentType.MimeType);
            Assert.Equal(ContentDisposition.Inline, picture.ContentDisposition?.Disposition);
            using var content = new MemoryStream();
            picture.Content!.DecodeTo(content, TestContext.Current.CancellationToken);
            Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], content.ToArray()[..4]);
        });
        Assert.Equal(pictures.Length > 0, ((MultipartAlternative)message.Body!)[1] is MultipartRelated { Root: TextPart });
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void A_whole_mail_stays_under_100_KB(string name) =>
        Assert.InRange(Rendered(name).Bytes.Length, 1_000, 99_999);

    [Fact]
    public void A_frosty_morning_has_its_day_week_and_beds_and_the_first_two_on_dark_paper()
    {
        using var message = Read(Rendered("frosty-morning").Bytes);
        Assert.Equal(
            ["day.png", "day-dark.png", "week.png", "week-dark.png", "beds.png"],
            message.BodyParts.OfType<MimePart>().Where(part => part is not TextPart).Select(part => part.FileName));
    }

    [Fact]
    public void The_headers_say_what_it_is_and_ask_for_no_automatic_answer()
    {
        var mail = Rendered("frosty-morning");
        using var message = Read(mail.Bytes);
        Assert.Equal("quarry-lane.2026-04-21.1@example.org", message.MessageId);
        Assert.Equal("pat@example.org", Assert.Single(message.To.Mailboxes).Address);
        Assert.Equal("Quarry Lane", Assert.Single(message.From.Mailboxes).Name);
        Assert.Equal("quarry-lane@example.org", Assert.Single(message.ReplyTo.Mailboxes).Address);
        Assert.Equal(new DateTimeOffset(2026, 4, 21, 6, 0, 0, TimeSpan.FromHours(-4)), message.Date);
        Assert.Equal("auto-generated", message.Headers["Auto-Submitted"]);
        Assert.Equal($"<mailto:quarry-lane@example.org?subject=stop%20%5B{message.MessageId!.Split('@')[0]}%5D>", message.Headers["List-Unsubscribe"]);
        Assert.Equal("<quarry-lane.example.org>", message.Headers["List-Id"]);
        Assert.Equal("1.0", message.Headers["MIME-Version"]);
    }

    [Fact]
    public void The_same_mail_has_the_same_bytes() =>
        Assert.Equal(Rendered("frosty-morning").Bytes, Rendered("frosty-morning").Bytes.AsEnumerable());

    [Theory]
    [MemberData(nameof(Names))]
    public void Lines_are_short_end_in_CRLF_and_carry_seven_bits(string name)
    {
        var bytes = Rendered(name).Bytes;
        Assert.All(bytes, b => Assert.True(b < 128));
        string whole = Encoding.ASCII.GetString([.. bytes]);
        Assert.All(whole.Split("\r\n"), line =>
        {
            Assert.InRange(line.Length, 0, 998);
            Assert.DoesNotContain('\n', line);
            Assert.DoesNotContain('\r', line);
        });
    }

    [Fact]
    public void A_hostile_garden_adds_no_header_and_no_recipient()
    {
        using var message = Read(Rendered("hostile").Bytes);
        Assert.Empty(message.Bcc);
        Assert.Equal(
            ["Auto-Submitted", "Date", "From", "List-Id", "List-Unsubscribe", "MIME-Version", "Message-Id", "Reply-To", "Subject", "To"],
            message.Headers.Select(h => h.Field).Order(StringComparer.Ordinal));
    }

    [Theory]
    [InlineData("")]
    [InlineData("a b")]
    [InlineData("a@b")]
    [InlineData("a\r\nBcc: x")]
    public void A_message_id_is_made_of_plain_characters(string left) =>
        Assert.Throws<ArgumentException>(() => Render(DigestSamples.Of("quiet-morning"), left));

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_second_parser_finds_no_defect(string name)
    {
        string? python = Python();
        Assert.SkipUnless(python is not null, "python3 is not installed");
        var letter = Marked(name);
        string file = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.eml");
        await File.WriteAllBytesAsync(file, [.. Rendered(name).Bytes], TestContext.Current.CancellationToken);
        try
        {
            var start = new ProcessStartInfo(python, ["-I", "-c", SecondParser, file]) { RedirectStandardOutput = true, RedirectStandardError = true };
            using var process = Process.Start(start)!;
            string output = await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
            string errors = await process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            await process.WaitForExitAsync(TestContext.Current.CancellationToken);
            Assert.True(process.ExitCode == 0, errors);
            using var read = JsonDocument.Parse(output);
            Assert.Equal(letter.Subject, read.RootElement.GetProperty("subject").GetString());
            Assert.Equal(DigestText.Write(letter), read.RootElement.GetProperty("plain").GetString());
            Assert.Contains(read.RootElement.GetProperty("html").GetString(), MailWeight.Lighter(letter).Select(DigestHtml.Write));
            Assert.Equal("pat@example.org", read.RootElement.GetProperty("to").GetString());
        }
        finally
        {
            File.Delete(file);
        }
    }

    /// <summary>Raises on any defect (policy strict), then tells what it read.</summary>
    private const string SecondParser = """
        import email, email.policy, json, sys
        policy = email.policy.strict.clone(header_factory=email.policy.default.header_factory)
        with open(sys.argv[1], 'rb') as f:
            m = email.message_from_binary_file(f, policy=policy)
        for part in m.walk():
            assert not part.defects, part.defects
            for h in part.values():
                assert not getattr(h, 'defects', ()), h.defects
        def body(kind):
            return m.get_body((kind,)).get_content().replace('\r\n', '\n')
        json.dump({'subject': str(m['subject']), 'to': m['to'].addresses[0].addr_spec, 'plain': body('plain'), 'html': body('html')}, sys.stdout)
        """;

    [GeneratedRegex("\"cid:([^\"]+)\"")]
    private static partial Regex CidNamed();

    internal static OutgoingMail Rendered(string name) => Render(DigestSamples.Of(name), "quarry-lane.2026-04-21.1");

    private static OutgoingMail Render(Letter letter, string left) => OutgoingMail.Render(
        letter, left, "garden@example.org", "pat@example.org", SampleGarden.At(SampleGarden.Tuesday, 6));

    private static MimeMessage Read(ImmutableArray<byte> bytes)
    {
        using var stream = new MemoryStream([.. bytes]);
        return MimeMessage.Load(stream);
    }

    private static string? Python() => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Select(folder => Path.Combine(folder, "python3")).FirstOrDefault(File.Exists);
    /// <summary>As it is written into the mail: links to answers bear its mark.</summary>
    private static Letter Marked(string name)
    {
        var letter = DigestSamples.Of(name);
        return letter.AnswerAddress is null ? letter : letter with { AnswerMark = Rendered(name).MessageId.Split('@')[0] };
    }

}
