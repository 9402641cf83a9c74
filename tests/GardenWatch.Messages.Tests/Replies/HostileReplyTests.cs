using System.Text;
using CsCheck;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Quantities;
using MimeKit;

namespace GardenWatch.Messages.Tests.Replies;

public sealed class HostileReplyTests
{
    private static readonly string[] Pieces =
    [
        "done", "1", "3 days", ">", "> ", "\n", "\r\n", "On Tue 21 wrote:", "From: x\nSent: y\nTo: z\n", "<blockquote>", "</blockquote>", "<div class=signature>",
        "<script>", "<!--", "&#x110000;", "&amp", "\0", "\u202e", "\ud800", "١", "½", "soil", "-", "at", "in", "picked", "kg", "and", ",", "all", "but", "until",
        "monday", "31 April", "9999-99-99", "99999999999999999999", "1/0", "--\n", "-- \n", "é", "=3D", "=", "{0}", "%s", "$(id)", "`id`", "'; DROP TABLE journal;--", "../../x", "🌱", "\t",
    ];

    private static readonly Gen<string> Bodies = Gen.OneOf(
        OneOf(Pieces).Array[0, 60].Select(string.Concat),
        OneOf(Pieces).Array[0, 60].Select(pieces => string.Join(' ', pieces)),
        Gen.String[0, 400]);

    private static readonly Gen<string> Charsets = OneOf("utf-8", "us-ascii", "iso-8859-1", "utf-7", "utf-16", "x-unknown", "windows-1252", "shift_jis", "\"", "");

    [Fact]
    public void Ten_thousand_bodies_of_any_kind_never_throw() =>
        Gen.Select(Bodies, Charsets, Gen.Bool, Gen.Bool).Sample(
            (body, charset, html, asked) =>
            {
                using var mail = Loaded($"From: a@example.org\r\nMIME-Version: 1.0\r\nContent-Type: text/{(html ? "html" : "plain; format=flowed")}; charset={charset}\r\n\r\n{body}");
                var answers = ReplyReader.Read(ReplyText.Of(mail, asked ? body : null), ReplySamples.Today, ReplySamples.English(UnitSystem.Us), ReplySamples.Jobs);
                return answers.Length <= 60;
            },
            iter: 10_000, threads: 1, seed: "0000c0ffee00");

    [Fact]
    public void Mails_with_broken_parts_never_throw() =>
        Gen.Select(Gen.Byte.Array[0, 60], Gen.Int[0, 4000], OneOf("on", "html", "flowed", "between", "signed", "htmlheaded")).Sample(
            (bytes, at, shape) =>
            {
                using var mail = ReplySamples.Mail(shape, "done 1");
                using var wire = new MemoryStream();
                mail.WriteTo(wire, TestContext.Current.CancellationToken);
                byte[] raw = wire.ToArray();
                for (int i = 0; i < bytes.Length; i++)
                    raw[(at + i * 37) % raw.Length] = bytes[i];
                using var broken = Parsed(raw);
                return broken is null || ReplyReader.Read(ReplyText.Of(broken), ReplySamples.Today, ReplySamples.English(UnitSystem.Us), ReplySamples.Jobs).Length <= 60;
            },
            iter: 2_000, threads: 1, seed: "0000c0ffee01");

    [Theory]
    [InlineData("<div>", 200_000)]
    [InlineData("<blockquote>", 200_000)]
    [InlineData("done 1 and ", 100_000)]
    [InlineData("a", 3_000_000)]
    [InlineData("> ", 500_000)]
    [InlineData("1,", 500_000)]
    [InlineData("On 1 wrote\n", 100_000)]
    [InlineData("From: x\n", 100_000)]
    [InlineData("&", 500_000)]
    [InlineData("done 1.\n", 200_000)]
    [InlineData("- ", 200_000)]
    [InlineData("a b c d e f g h i j k l m n o p q r s t u v w x y z, ", 30_000)]
    public void A_body_without_end_is_read_in_bounded_memory(string piece, int times)
    {
        byte[] body = Encoding.UTF8.GetBytes(new StringBuilder().Insert(0, piece, times).ToString());
        foreach (string kind in (string[])["plain", "html"])
        {
            using var mail = Parsed([.. Encoding.ASCII.GetBytes($"From: a@example.org\r\nContent-Type: text/{kind}\r\n\r\n"), .. body])!;
            long before = GC.GetAllocatedBytesForCurrentThread();
            Assert.True(ReplyReader.Read(ReplyText.Of(mail, ReplySamples.Asked), ReplySamples.Today, ReplySamples.English(UnitSystem.Us), ReplySamples.Jobs).Length <= 60);
            // What grows with the square of the body would need more; how long it takes is the machine's.
            Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 400_000_000, $"{(GC.GetAllocatedBytesForCurrentThread() - before) / 1e6:f0} MB for {kind}");
        }
    }

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    private static MimeMessage Loaded(string raw) => Parsed(Encoding.UTF8.GetBytes(raw))!;

    private static MimeMessage? Parsed(byte[] raw)
    {
        try
        {
            return MimeMessage.Load(new MemoryStream(raw), TestContext.Current.CancellationToken);
        }
        catch (FormatException)
        {
            // No mail at all: the round leaves it where it is.
            return null;
        }
    }
}
