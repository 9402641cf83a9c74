using System.Collections.Immutable;
using System.Text;
using GardenWatch.Messages.Replies;
using GardenWatch.Planning.Journals;
using GardenWatch.Rounds;
using GardenWatch.Store;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging.Abstractions;
using MimeKit;
using NodaTime;

namespace GardenWatch.Tests.Rounds;

/// <summary>Mails in a mailbox that does as it is told, against a digest that the house has sent.</summary>
public sealed class ReplyRoundTests : IDisposable
{
    private readonly TemporaryFolder _data = new();
    private readonly HouseBench _bench;
    private readonly GardenStore _store;
    private readonly List<ReplyRead> _taken = [];
    private readonly Inbox _inbox = new();
    private string? _cannotTake;
    private bool _brokenStore;
    private House? _house;

    public ReplyRoundTests()
    {
        _bench = new(_data);
        _store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(_data.Path, StoreUse.Run, _bench.Clock.GetCurrentInstant())).Store;
    }

    public void Dispose()
    {
        _bench.Dispose();
        _store.Dispose();
        _data.Dispose();
    }

    [Fact]
    public async Task A_reply_is_taken_for_the_message_and_the_person_it_answers()
    {
        var (round, digest) = await Sent();
        // From is another address: what counts is that the writer has the message.
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1", from: "pat.at.work@example.com");
        await Look(round);
        var read = Assert.Single(_taken);
        Assert.Equal(digest.Id, read.Message.Id);
        Assert.Equal("pat@example.org", read.Message.Key.Addressee);
        Assert.Equal(["1"], Assert.IsType<Answer.Done>(Assert.Single(read.Answers)).Jobs);
    }

    [Fact]
    public async Task The_same_mail_again_changes_nothing_also_under_another_number_or_in_a_new_folder()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1", id: "reply-1@example.org");
        await Look(round);
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1", id: "reply-1@example.org");
        await Look(round);
        _inbox.Validity = 8;
        await Look(round);
        Assert.Single(_taken);
    }

    [Fact]
    public async Task References_alone_and_the_mark_in_the_subject_of_a_new_mail_are_enough()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"References: <other@example.com> <{digest.MessageId}>", "done 1");
        _inbox.Add($"Subject: Re: Sun 26 April [{digest.MessageId.Split('@')[0]}]", "skip 1");
        await Look(round);
        Assert.Equal([typeof(Answer.Done), typeof(Answer.Skip)], _taken.SelectMany(read => read.Answers).Select(answer => answer.GetType()));
    }

    [Theory]
    [InlineData("In-Reply-To: <digest.00112233445566778899aabbccddeeff@example.org>")]
    [InlineData("Subject: Re: x [digest.00112233445566778899aabbccddeeff]")]
    [InlineData("Subject: Re: x [digest.%%%%]")]
    public async Task A_guessed_id_is_refused_and_counted_and_its_body_not_even_fetched(string header)
    {
        var (round, _) = await Sent();
        _inbox.Add(header, "done 1", from: "pat@example.org");
        await Look(round);
        Assert.Empty(_taken);
        Assert.Equal(0, _inbox.Fetched);
        Assert.Equal(header.Contains('%', StringComparison.Ordinal) ? 0 : 1, _store.Replies.FatesSince(Instant.MinValue).GetValueOrDefault(ReplyFate.Forged));
    }

    [Fact]
    public async Task A_message_whose_id_could_have_been_guessed_is_not_answered()
    {
        var (round, digest) = await Sent();
        var key = digest.Key with { Occasion = "2026-01-01" };
        Assert.True(_store.Outbox.Add(Draft(key, "digest.0123456789abcdef01234567@example.org")).IsWritten);
        _inbox.Add("In-Reply-To: <digest.0123456789abcdef01234567@example.org>", "done 1");
        await Look(round);
        Assert.Empty(_taken);
    }

    [Fact]
    public async Task A_mail_that_names_two_gardens_is_refused()
    {
        var (round, digest) = await Sent();
        var other = digest.Key with { Garden = "other-garden" };
        string id = new MessageIds(_store.Secrets).LeftOf(other) + "@example.org";
        Assert.True(_store.Outbox.Add(Draft(other, id)).IsWritten);
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>\r\nReferences: <{id}> <{digest.MessageId}>", "done 1");
        await Look(round);
        Assert.Empty(_taken);
        Assert.Equal(1, _store.Replies.FatesSince(Instant.MinValue)[ReplyFate.Crossed]);
    }

    [Fact]
    public async Task A_digest_of_last_month_may_be_answered_and_one_of_the_year_before_may_not()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _bench.Clock.Advance(Duration.FromDays(40));
        await Look(round);
        Assert.Single(_taken);
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _bench.Clock.Advance(Duration.FromDays(300));
        await Look(round);
        Assert.Single(_taken);
    }

    [Theory]
    [InlineData("Auto-Submitted: auto-replied")]
    [InlineData("Auto-Submitted: auto-generated (vacation)")]
    [InlineData("Precedence: bulk")]
    [InlineData("X-Autoreply: yes")]
    [InlineData("Subject: Automatic reply: Sun 26 April")]
    [InlineData("Subject: Abwesenheitsnotiz: ich bin im Urlaub")]
    [InlineData("Return-Path: <>")]
    public async Task An_automatic_answer_is_no_answer(string header)
    {
        var (round, digest) = await Sent();
        _inbox.Add($"{header}\r\nIn-Reply-To: <{digest.MessageId}>", "done 1");
        await Look(round);
        Assert.Empty(_taken);
        Assert.Equal(1, _store.Replies.FatesSince(Instant.MinValue)[ReplyFate.Automatic]);
    }

    [Fact]
    public async Task A_bounce_marks_the_addressee_until_that_one_answers()
    {
        var (round, digest) = await Sent();
        _inbox.AddRaw(Report(digest.MessageId, "failed", "550 5.1.1 no such mailbox"));
        await Look(round);
        var bounce = Assert.Single(_store.Replies.BouncesSince(Instant.MinValue));
        Assert.Equal(("pat@example.org", true, "550 5.1.1 no such mailbox"), (bounce.Addressee, bounce.ForGood, bounce.Reason));
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        await Look(round);
        Assert.Empty(_store.Replies.BouncesSince(Instant.MinValue));
    }

    [Fact]
    public async Task A_bounce_that_keeps_to_no_standard_is_known_by_the_id_in_it()
    {
        var (round, digest) = await Sent();
        _inbox.AddRaw($"From: MAILER-DAEMON@mx.example.org\r\nSubject: failure notice\r\nMessage-ID: <b2@example.org>\r\n\r\nSorry, your message could not be delivered.\r\n<pat@example.org>: 550 5.2.2 mailbox is full\r\n\r\n--- Below is a copy:\r\nMessage-ID: <{digest.MessageId}>\r\n");
        await Look(round);
        Assert.Equal("550 5.2.2 mailbox is full", Assert.Single(_store.Replies.BouncesSince(Instant.MinValue)).Reason);
    }

    [Fact]
    public async Task A_forged_bounce_marks_nobody()
    {
        var (round, _) = await Sent();
        _inbox.AddRaw(Report("digest.00112233445566778899aabbccddeeff@example.org", "failed", "550 5.1.1 no such mailbox"));
        await Look(round);
        Assert.Empty(_store.Replies.BouncesSince(Instant.MinValue));
    }

    [Fact]
    public async Task What_cannot_be_written_now_is_taken_at_a_later_look()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "skip 2");
        _cannotTake = "the disk is full";
        await Look(round);
        Assert.Empty(_taken);
        _cannotTake = null;
        await Look(round);
        Assert.Equal(2, _taken.Count);
    }

    [Fact]
    public async Task While_a_mail_has_to_wait_it_is_looked_at_again_each_minute_and_not_only_when_another_comes()
    {
        var (_, digest) = await Sent();
        var time = new WaitsPass();
        int looks = 0;
        var round = new ReplyRound(
            _store, () => _inbox, "garden/INBOX", (_, _) => ++looks < 40 ? "the disk is full" : null, () => _house!.Round!.OnDuty, _bench.Clock, time, NullLogger.Instance);
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _inbox.OnNews = stop.Cancel;
        await round.Run(stop.Token);
        Assert.Equal(40, looks);
        Assert.Equal(12, time.Waits.Count(wait => wait == TimeSpan.FromSeconds(5)));
        Assert.Equal(27, time.Waits.Count(wait => wait == TimeSpan.FromMinutes(1)));
    }

    [Fact]
    public async Task Records_that_cannot_be_read_just_now_say_nothing_against_a_mail()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _brokenStore = true;
        await Look(round);
        _brokenStore = false;
        await Look(round);
        Assert.Single(_taken);
        Assert.DoesNotContain(ReplyFate.Broken, _store.Replies.FatesSince(Instant.MinValue).Keys);
    }

    [Fact]
    public async Task One_mail_that_breaks_us_stops_none_of_the_others()
    {
        var (round, digest) = await Sent();
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 1");
        _inbox.BreaksAt = 1;
        _inbox.Add($"In-Reply-To: <{digest.MessageId}>", "done 2");
        await Look(round);
        await Look(round);
        Assert.Equal(["2"], Assert.IsType<Answer.Done>(Assert.Single(Assert.Single(_taken).Answers)).Jobs);
        Assert.Equal(1, _store.Replies.FatesSince(Instant.MinValue)[ReplyFate.Broken]);
    }

    [Fact]
    public async Task Who_asks_for_no_more_gets_no_more()
    {
        var house = _bench.House(_store);
        await _bench.Knock(house, HouseBench.At(HouseBench.Sunday, 6));
        var digest = Assert.Single(_store.Outbox.Recent(5, _bench.Clock.GetCurrentInstant()));
        _inbox.Add($"Subject: stop [{digest.MessageId.Split('@')[0]}]", "");
        await Look(RoundOf(house));
        Assert.Equal(MessageWish.Stop, Assert.Single(_taken).AsTaken().Wish);
        await _bench.Knock(house, HouseBench.At(HouseBench.Sunday.PlusDays(1), 6));
        Assert.DoesNotContain(_store.Outbox.Recent(5, _bench.Clock.GetCurrentInstant()), row => row.Id != digest.Id);
    }

    [Fact]
    public async Task Other_peoples_mail_is_neither_fetched_nor_remembered()
    {
        var (round, _) = await Sent();
        _inbox.Add("In-Reply-To: <something@example.com>", "done 1");
        _inbox.Add("Subject: hello", "done 1");
        await Look(round);
        Assert.Equal(0, _inbox.Fetched);
        Assert.Empty(_store.Replies.FatesSince(Instant.MinValue));
    }

    private async Task<(ReplyRound Round, OutboxRow Digest)> Sent()
    {
        var house = _house = _bench.House(_store);
        await _bench.Knock(house, HouseBench.At(HouseBench.Sunday, 6));
        return (RoundOf(house), Assert.Single(_store.Outbox.Recent(5, _bench.Clock.GetCurrentInstant())));
    }

    private ReplyRound RoundOf(House house) => new(
        _store, () => _inbox, "garden/INBOX",
        (read, _) =>
        {
            if (_brokenStore)
                throw new SqliteException("disk I/O error", 10);
            if (_cannotTake is null)
                _taken.Add(read);
            return _cannotTake;
        },
        () => house.Round!.OnDuty, _bench.Clock, TimeProvider.System, NullLogger.Instance);

    private async Task Look(ReplyRound round)
    {
        while (await round.Look(_inbox, TestContext.Current.CancellationToken))
        {
        }
    }

    private OutboxDraft Draft(OutboxKey key, string messageId) =>
        new(key, messageId, "x", [1], _bench.Clock.GetCurrentInstant(), _bench.Clock.GetCurrentInstant() + Duration.FromHours(1), false, "1=x\tx\tasked");

    private static string Report(string id, string action, string said) =>
        $"From: MAILER-DAEMON@example.org\r\nSubject: Undelivered\r\nMessage-ID: <b1@example.org>\r\nMIME-Version: 1.0\r\nContent-Type: multipart/report; report-type=delivery-status; boundary=b\r\n\r\n"
        + $"--b\r\nContent-Type: text/plain\r\n\r\nIt did not work.\r\n--b\r\nContent-Type: message/delivery-status\r\n\r\nReporting-MTA: dns; mx.example.org\r\n\r\nFinal-Recipient: rfc822; pat@example.org\r\nAction: {action}\r\nStatus: 5.1.1\r\nDiagnostic-Code: smtp; {said}\r\n\r\n"
        + $"--b\r\nContent-Type: message/rfc822\r\n\r\nMessage-ID: <{id}>\r\nSubject: x\r\n\r\nx\r\n--b--\r\n";

    /// <summary>Waits pass at once, and are written down.</summary>
    private sealed class WaitsPass : TimeProvider
    {
        public System.Collections.Concurrent.ConcurrentQueue<TimeSpan> Waits { get; } = new();

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period)
        {
            if (dueTime > TimeSpan.Zero)
                Waits.Enqueue(dueTime);
            return base.CreateTimer(callback, state, dueTime > TimeSpan.Zero ? TimeSpan.Zero : dueTime, period);
        }
    }

    private sealed class Inbox : IReplyInbox
    {
        private readonly List<byte[]> _mails = [];

        public uint Validity { get; set; } = 7;

        public int Fetched { get; private set; }

        /// <summary>The mail whose body breaks whoever reads it; zero for none.</summary>
        public uint BreaksAt { get; set; }

        public void Add(string headers, string body, string from = "pat@example.org", string? id = null) =>
            AddRaw($"From: {from}\r\nMessage-ID: <{id ?? $"m{_mails.Count}@example.org"}>\r\n{headers}\r\nContent-Type: text/plain\r\n\r\n{body}\r\n");

        public void AddRaw(string mail) => _mails.Add(Encoding.UTF8.GetBytes(mail));

        public Task Connect(CancellationToken ct) => Task.CompletedTask;

        public Task<IReadOnlyList<InboxMail>> From(uint? uid, LocalDate since, CancellationToken ct) => Task.FromResult<IReadOnlyList<InboxMail>>(
            [.. _mails.Select((mail, i) => new InboxMail((uint)i + 1, MimeMessage.Load(new MemoryStream(mail), ct).Headers, mail.Length)).Where(mail => mail.Uid >= (uid ?? 1))]);

        public Task<FetchedMail?> Fetch(InboxMail mail, CancellationToken ct)
        {
            Fetched++;
            return mail.Uid == BreaksAt
                ? throw new InvalidOperationException("It breaks whoever reads it.")
                : Task.FromResult<FetchedMail?>(new(MimeMessage.Load(new MemoryStream(_mails[(int)mail.Uid - 1]), ct), []));
        }

        /// <summary>Nothing is left to be looked at.</summary>
        public Action? OnNews { get; set; }

        public Task News(CancellationToken ct)
        {
            OnNews?.Invoke();
            ct.ThrowIfCancellationRequested();
            return Task.CompletedTask;
        }

        public ValueTask DisposeAsync() => ValueTask.CompletedTask;
    }
}
