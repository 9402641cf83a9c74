using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Rounds;

/// <summary>A month in virtual time on a real store: the machine stops and comes back, the mail server is away, links break.</summary>
public sealed class VirtualSeasonTests : StoreCase
{
    private static readonly Duration Step = Duration.FromMinutes(5);

    [Theory]
    [InlineData(1, "Europe/Berlin", "2027-03-01")]
    [InlineData(2, "America/Santiago", "2027-08-15")]
    [InlineData(3, "Australia/Lord_Howe", "2027-09-15")]
    public async Task Each_date_has_one_digest_when_there_was_a_way_out_and_none_twice_but_when_in_doubt(int seed, string zoneId, string first)
    {
        var zone = DateTimeZoneProviders.Tzdb[zoneId];
        var begin = zone.AtStartOfDay(StoreText.ToDate(first)).ToInstant();
        var season = new Season(Data.Path, new Random(seed), new("g", zone, new(6, 0), new(17, 0), ["a@example.org", "b@example.org"], "p"), begin);

        await season.Live(begin + Duration.FromDays(30), TestContext.Current.CancellationToken);

        Assert.True(season.Owed.Count > 8, $"only {season.Owed.Count} dates had a quiet last hour");
        Assert.True(season.Restarts > 30);
        Assert.NotEmpty(season.Doubted);
        foreach (var date in season.Owed)
        {
            Assert.Contains($"{StoreText.Of(date)} a@example.org", season.Delivered);
            Assert.Contains($"{StoreText.Of(date)} b@example.org", season.Delivered);
        }
        foreach (var message in season.Delivered.CountBy(name => name))
            Assert.True(message.Value == 1 || (message.Value <= 3 && season.Doubted.Contains(message.Key)), $"{message.Key} came {message.Value} times");
    }

    private sealed class Season(string folder, Random random, GardenRounds garden, Instant begin)
    {
        private readonly FakeClock clock = new(begin);
        private bool machineUp = true, mailUp = true;

        public List<string> Delivered { get; } = [];
        public HashSet<string> Doubted { get; } = [];
        public int Restarts { get; private set; }

        /// <summary>Dates on which machine and mail server were up all through the last hour of the digest's window.</summary>
        public List<LocalDate> Owed { get; } = [];

        public async Task Live(Instant end, CancellationToken ct)
        {
            GardenStore? store = null;
            SendRound? round = null;
            int quiet = 0;
            for (var now = clock.GetCurrentInstant(); now < end; now = clock.GetCurrentInstant())
            {
                Chance();
                if (!machineUp || random.Next(150) == 0)
                {
                    round?.Dispose();
                    store?.Dispose();
                    (store, round) = (null, null);
                }
                if (machineUp && store is null)
                {
                    store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(folder, StoreUse.Run, now)).Store;
                    round = new SendRound(store.Outbox, Post, clock, random.NextDouble, NullLogger.Instance);
                    Restarts++;
                }
                if (store is not null)
                {
                    Tick(store, now);
                    await round!.Run(ct);
                }
                quiet = machineUp && mailUp ? quiet + 1 : 0;
                var local = now.InZone(garden.Zone);
                if (local.TimeOfDay == new LocalTime(11, 55) && quiet >= 12)
                    Owed.Add(local.Date);
                clock.Advance(Step);
            }
            round?.Dispose();
            store?.Dispose();
        }

        private void Chance()
        {
            if (random.Next(machineUp ? 200 : 60) == 0)
                machineUp = !machineUp;
            if (random.Next(mailUp ? 100 : 40) == 0)
                mailUp = !mailUp;
        }

        private void Tick(GardenStore store, Instant now)
        {
            foreach (var due in Due.Rounds(StoredLedger.Of(store, "forecast", now), [garden], Duration.FromHours(1), now))
            {
                switch (due)
                {
                    case DueRound.Digest digest:
                        store.Outbox.Add([.. digest.Addressees.Select(addressee => Draft(digest, addressee, now))]);
                        break;
                    case DueRound.DigestSkipped skipped:
                        store.Ledger.Mark(skipped.GardenId, LedgerTable.DigestSkipped, skipped.Date, now);
                        break;
                    case DueRound.EveningLook look:
                        store.Ledger.Mark(look.GardenId, LedgerTable.EveningLook, look.Date, now);
                        break;
                }
            }
        }

        private static OutboxDraft Draft(DueRound.Digest digest, string addressee, Instant now) => new(
            new("g", addressee, MessageKind.Digest, StoreText.Of(digest.Date)), $"{StoreText.Of(digest.Date)} {addressee}", "", [1], now,
            digest.Window.End, Urgent: false, "");

        private Task<SendOutcome> Post(OutboxRow row, CancellationToken ct)
        {
            if (!mailUp)
                return Task.FromResult<SendOutcome>(new SendOutcome.TryLater("no connection"));
            Delivered.Add(row.MessageId);
            if (random.Next(12) > 0)
                return Task.FromResult<SendOutcome>(new SendOutcome.Accepted("250"));
            Doubted.Add(row.MessageId);
            return Task.FromResult<SendOutcome>(new SendOutcome.InDoubt("dropped after the final dot"));
        }
    }
}
