using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Threading.Channels;
using GardenWatch.Acceptance.Mailbox;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Rounds;
using GardenWatch.Store;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

/// <summary>Replies in a mailbox as providers run them, read over a real line.</summary>
public sealed class RealReplyTests(RealMailbox mailbox) : IClassFixture<RealMailbox>, IDisposable
{
    private const string Account = "garden@example.org";
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly TemporaryFolder _data = new();
    private readonly ConcurrentQueue<string> _pictures = new();
    private readonly Channel<ReplyRead> _taken = Channel.CreateUnbounded<ReplyRead>();
    private HouseBench? _bench;
    private GardenStore? _store;

    public void Dispose()
    {
        _bench?.Dispose();
        _store?.Dispose();
        _data.Dispose();
    }

    [Fact]
    public async Task A_reply_is_told_of_by_the_server_and_again_after_the_server_was_restarted()
    {
        var digest = await Sent();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        // So seldom that only the server's word can bring it.
        var running = Round(Options(pollEvery: TimeSpan.FromHours(1), idle: true)).Run(stop.Token);
        await Put(digest, "done 1", "first");
        Assert.Equal("first@example.org", (await Next()).MailId);
        await mailbox.RestartReading();
        await Put(digest, "done 1", "second");
        Assert.Equal("second@example.org", (await Next()).MailId);
        await stop.CancelAsync();
        await running;
    }

    [Fact]
    public async Task A_mail_that_the_server_told_of_in_the_midst_of_another_answer_is_news()
    {
        var digest = await Sent();
        var ct = TestContext.Current.CancellationToken;
        await Put(digest, "done 1", "listed");
        await using var inbox = new ImapInbox(Options(pollEvery: TimeSpan.FromHours(1), idle: true), TimeProvider.System);
        await inbox.Connect(ct);
        var listed = (await inbox.From(null, new(2026, 1, 1), ct))[^1];
        await Put(digest, "done 2", "behind");
        using (await inbox.Fetch(listed, ct))
        {
            // With its answer the server tells of the other mail, and never again.
        }
        await inbox.News(ct).WaitAsync(Patience, ct);
        Assert.Equal("behind@example.org", ReplyReading.IdOf((await inbox.From(listed.Uid + 1, new(2026, 1, 1), ct)).Single().Headers));
    }

    [Fact]
    public async Task A_server_that_tells_nothing_is_asked_and_the_same_mail_is_taken_once()
    {
        var digest = await Sent();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        await Put(digest, "done 1", "same");
        await Put(digest with { MessageId = "digest.00112233445566778899aabbccddeeff@example.org" }, "done 1", "forged");
        await Put(digest, "done 1", "same");
        await Put(digest, "skip 2", "last");
        var running = Round(Options(pollEvery: TimeSpan.FromMilliseconds(100), idle: false)).Run(stop.Token);
        Assert.Equal("same@example.org", (await Next()).MailId);
        Assert.Equal("last@example.org", (await Next()).MailId);
        await Put(digest, "skip 2", "later");
        Assert.Equal("later@example.org", (await Next()).MailId);
        await stop.CancelAsync();
        await running;
    }

    [Fact]
    public async Task A_large_mail_is_read_by_its_words_and_its_pictures_come_from_a_file()
    {
        var digest = await Sent();
        byte[] picture = new byte[12 * 1024 * 1024];
        for (int i = 0; i < picture.Length; i++)
            picture[i] = (byte)(i * 31 + i / 251);
        using var mail = new MimeMessage();
        mail.From.Add(MailboxAddress.Parse("pat@example.org"));
        mail.To.Add(MailboxAddress.Parse(Account));
        mail.MessageId = "large@example.org";
        mail.InReplyTo = digest.MessageId;
        mail.Body = new Multipart("mixed")
        {
            new TextPart("plain") { Text = "done 1" },
            new MimePart("image", "jpeg") { FileName = "bed.jpg", ContentTransferEncoding = ContentEncoding.Base64, Content = new MimeContent(new MemoryStream(picture)) },
        };
        using var wire = new MemoryStream();
        await mail.WriteToAsync(wire, TestContext.Current.CancellationToken);
        await mailbox.Put(Account, wire.ToArray(), TestContext.Current.CancellationToken);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var running = Round(Options(pollEvery: TimeSpan.FromHours(1), idle: true)).Run(stop.Token);
        var read = await Next();
        Assert.IsType<Answer.Done>(Assert.Single(read.Answers));
        Assert.Equal($"bed.jpg FileStream {Convert.ToHexString(SHA256.HashData(picture))}", Assert.Single(_pictures));
        await stop.CancelAsync();
        await running;
    }

    [Fact]
    public async Task Forty_megabytes_of_picture_in_a_reply_are_kept_at_a_sane_size()
    {
        var digest = await Sent();
        using (var mail = new MimeMessage())
        {
            mail.From.Add(MailboxAddress.Parse("pat@example.org"));
            mail.To.Add(MailboxAddress.Parse(Account));
            mail.MessageId = "forty@example.org";
            mail.InReplyTo = digest.MessageId;
            mail.Body = new Multipart("mixed")
            {
                new TextPart("plain") { Text = "slugs on the squash" },
                new MimePart("image", "jpeg") { FileName = "bed.jpg", ContentTransferEncoding = ContentEncoding.Base64, Content = new MimeContent(new MemoryStream(Web.PageTests.BigPicture())) },
            };
            using var wire = new MemoryStream();
            await mail.WriteToAsync(wire, TestContext.Current.CancellationToken);
            await mailbox.Put(Account, wire.ToArray(), TestContext.Current.CancellationToken);
        }
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var answering = new Answering(_store!, House!.Mornings);
        var written = new TaskCompletionSource<AnswersTaken>();
        var running = new ReplyRound(
            _store!, () => new ImapInbox(Options(pollEvery: TimeSpan.FromHours(1), idle: true), TimeProvider.System), "garden/INBOX",
            (read, garden) =>
            {
                var taken = answering.Take(garden.Plan, garden.Place, read.AsIncoming(), new MailClock().GetCurrentInstant());
                written.TrySetResult(taken);
                return taken.NotWritten;
            },
            () => House!.Round!.OnDuty, new MailClock(), TimeProvider.System, NullLogger.Instance).Run(stop.Token);
        var taken = await written.Task.WaitAsync(Patience, TestContext.Current.CancellationToken);
        Assert.Empty(taken.Asked);
        var entry = Assert.Single(_store!.Journal.AsOf("mill-bank", new MailClock().GetCurrentInstant()));
        Assert.InRange(new FileInfo(_store.JournalPictures.PathOf(entry.Pictures!)!).Length, 1, 3 << 20);
        await stop.CancelAsync();
        await running;
    }

    private async Task<OutboxRow> Sent()
    {
        mailbox.Needed();
        _bench = new(_data);
        _store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(_data.Path, StoreUse.Run, _bench.Clock.GetCurrentInstant())).Store;
        House = _bench.House(_store);
        await _bench.Knock(House, HouseBench.At(HouseBench.Sunday, 6));
        return Assert.Single(_store.Outbox.Recent(5, _bench.Clock.GetCurrentInstant()));
    }

    private House? House { get; set; }

    private ReplyOptions Options(TimeSpan pollEvery, bool idle) => new()
    {
        Host = "localhost", Port = mailbox.Ports.Imap, Security = MailSecurity.StartTls, User = Account, Password = "plain-radish", Address = Account,
        CertificateFile = mailbox.Certificate, CheckWithdrawn = false, PollEvery = pollEvery, Idle = idle,
    };

    private ReplyRound Round(ReplyOptions options) => new(
        _store!, () => new ImapInbox(options, TimeProvider.System), "garden/INBOX",
        (read, _) =>
        {
            foreach (var picture in read.Pictures)
                _pictures.Enqueue($"{picture.Name} {picture.Content.GetType().Name} {Convert.ToHexString(SHA256.HashData(picture.Content))}");
            return _taken.Writer.TryWrite(read) ? null : "nobody reads it";
        },
        () => House!.Round!.OnDuty, new MailClock(), TimeProvider.System, NullLogger.Instance);

    private Task Put(OutboxRow digest, string words, string id) => mailbox.Put(
        Account, Encoding.UTF8.GetBytes($"From: pat@example.org\r\nTo: {Account}\r\nMessage-ID: <{id}@example.org>\r\nIn-Reply-To: <{digest.MessageId}>\r\nContent-Type: text/plain\r\n\r\n{words}\r\n"),
        TestContext.Current.CancellationToken);

    private async Task<ReplyRead> Next()
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(Patience);
        return await _taken.Reader.ReadAsync(patience.Token);
    }

    /// <summary>A little after the bench's digest: the server stamps its mails by the machine's clock, long after.</summary>
    private sealed class MailClock : IClock
    {
        public Instant GetCurrentInstant() => HouseBench.At(HouseBench.Sunday, 9);
    }
}
