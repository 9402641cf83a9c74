using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Store;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>A garden with all that its messages need.</summary>
/// <param name="Notes">What is wrong with its file just now, said in each message until it is put right.</param>
public sealed record GardenOnDuty(Plan Plan, GardenPlace Place, ImmutableArray<string> Notes)
{
    /// <summary>Who gets the messages of a date: while the gardener is away, the sitter, and programs as ever.</summary>
    public ImmutableArray<Addressee> AddresseesOn(LocalDate date)
    {
        var sitters = Plan.Away
            .Where(away => away.Holds(date) && away.Sitter is not null)
            .Select(away => away.Sitter!)
            .Distinct(StringComparer.OrdinalIgnoreCase)
            .Select(Known)
            .ToImmutableArray();
        return sitters.IsEmpty ? Plan.Digest.To : [.. sitters, .. Plan.Digest.To.Where(to => ChannelWords.IsProgram(to.Address))];
    }

    /// <summary>The absence for which somebody looks after the garden; null for one who is told as ever.</summary>
    public Absence? SittingOf(Addressee told, LocalDate date) =>
        Plan.Away.FirstOrDefault(away => away.Holds(date) && string.Equals(away.Sitter, told.Address, StringComparison.OrdinalIgnoreCase));

    /// <summary>Nobody is there, so only what would be lost is told; not yet on the day of leaving.</summary>
    public bool IsLeftAlone(LocalDate date) => Plan.Away.Any(away => away.Sitter is null && away.From < date && date <= away.To);

    /// <summary>An addressee as the plan describes this one, or as the garden has it.</summary>
    public Addressee Known(string address) =>
        Plan.Digest.To.FirstOrDefault(to => string.Equals(to.Address, address, StringComparison.OrdinalIgnoreCase)) ?? new(address, Plan.Units);
}

/// <summary>When a digest is made, which it says itself where that is not its hour.</summary>
public enum DigestTiming
{
    AtItsHour,
    Late,
    /// <summary>The first of a garden, as soon as it could be.</summary>
    First,
}

/// <summary>Writes the morning's digest and the evening's warning, whole, into the outbox.</summary>
/// <param name="channels">The ways out beside mail; null for none.</param>
/// <param name="eveningLook">When each evening's look is; null for the usual hour.</param>
/// <param name="links">Makes the links by which jobs are answered on the page; null where no address of the page is set.</param>
/// <param name="answersTo">Where answers by mail are read; null where none are.</param>
public sealed class DigestRound(
    GardenStore store, Mornings mornings, string from, HouseChannels? channels = null, LocalTime? eveningLook = null, string? answersTo = null,
    JobLinks? links = null)
{
    /// <summary>So long the first way out has to take an urgent message before the second is tried.</summary>
    public static readonly Duration SecondChannelAfter = Duration.FromMinutes(20);

    private readonly Calendars _calendars = new(store);
    private readonly MessageIds _ids = new(store.Secrets);
    private readonly HouseChannels _channels = channels ?? HouseChannels.None;

    // After this the night is over, whatever the message said.
    private static readonly Duration WarningLife = Duration.FromHours(3);
    private const int LongestSkippedRun = 60;
    private const int DaysBetweenAtRest = 7;
    // What was answered before anybody had a digest is still news in the first.
    private static readonly Duration FirstAcknowledges = Duration.FromDays(7);

    /// <summary>One message an addressee, each owed from the moment it is stored; a second call for the same date adds none.</summary>
    /// <param name="window">From the hour at which it was due until it expires.</param>
    public WriteOutcome Digest(GardenOnDuty garden, LocalDate date, ImmutableArray<string> addressees, Interval window, DigestTiming timing, Instant now)
    {
        // One who gets it later than another is told the same as news.
        var said = mornings.LastSaidOf(garden.Plan, StartOf(date, garden));
        var agendas = new AgendasByUnits(units => AgendaWithNotes(garden, units, said, now));
        var whole = agendas.Whole(garden.Plan.Units);
        bool weekly = whole.Rests && !garden.Plan.Digest.DailyAtRest;
        if (!IsDue(garden, whole, weekly, date, now))
            return store.Ledger.Mark(garden.Plan.GardenId, LedgerTable.DigestRested, date, now);
        var occasion = new DigestOccasion
        {
            DueAt = timing == DigestTiming.Late ? window.Start : null,
            AnswerAddress = answersTo,
            StagesLastSaid = said.Stages.IsEmpty ? null : said.Stages,
            NextOn = weekly ? date.PlusDays(DaysBetweenAtRest) : null,
        };
        var journal = mornings.JournalOf(garden.Plan, now).Entries;
        var drafts = addressees.Select(garden.Known).Select(told =>
        {
            var sitting = garden.SittingOf(told, date);
            var agenda = sitting is null ? agendas.For(told) : agendas.For(told).ForSitter();
            var digest = Messages.Digests.Digest.Of(
                agenda, journal, told, occasion with
                {
                    Skipped = MissedBefore(garden.Plan.GardenId, told.Address, date, now),
                    NextAt = timing == DigestTiming.First ? told.At ?? garden.Plan.Digest.At : null,
                    NotedSince = store.Outbox.LastDigestTo(garden.Plan.GardenId, told.Address, now)?.CreatedAt ?? now - FirstAcknowledges,
                    Sitting = sitting,
                });
            byte[]? calendar = garden.Plan.Digest.AttachCalendar && !ChannelWords.IsOne(told.Address) ? _calendars.FileOf(agenda, told.Units, now) : null;
            return Draft(garden, MessageKind.Digest, StoreText.Of(date), told.Address, digest, agenda, window.End, urgent: false, now, calendar: calendar);
        }).ToList();
        return store.Outbox.Add(drafts, new ToldToday(garden.Plan.GardenId, said.After(whole), date, now));
    }

    /// <summary>Not where the garden rests and had one in the last days, nor where nobody is there and nothing would be lost.</summary>
    private bool IsDue(GardenOnDuty garden, Agenda agenda, bool weekly, LocalDate date, Instant now)
    {
        var made = store.Outbox.Made(MessageKind.Digest, date.PlusDays(1 - DaysBetweenAtRest), now)
            .Where(key => key.Garden == garden.Plan.GardenId)
            .Select(key => StoreText.TryDate(key.Occasion))
            .ToHashSet();
        // Who gets it later than another gets it, too.
        if (made.Contains(date))
            return true;
        if (garden.IsLeftAlone(date))
            return agenda.Jobs.Any(job => job is { Protects: true, Standing: Standing.Now });
        return !weekly || made.Count == 0;
    }

    /// <summary>
    /// A warning of what would be lost tonight and was not said, or was said as milder than it is, and of what was asked for
    /// today in vain. Before the evening only of what can't wait for it.
    /// </summary>
    /// <returns>The drafts that the store could not take, for sending all the same; empty when all is stored or nothing is new.</returns>
    public IReadOnlyList<OutboxDraft> Look(GardenOnDuty garden, LocalDate date, bool evening, Instant now)
    {
        var said = mornings.LastSaidOf(garden.Plan, now);
        var agendas = new AgendasByUnits(units => AgendaWithNotes(garden, units, said, now));
        var whole = agendas.Whole(garden.Plan.Units);
        var (threats, calledOff) = NewsOf(whole);
        if (threats.IsEmpty && calledOff.IsEmpty)
            return [];
        var until = threats.Concat(calledOff).Max(job => job.ActBy ?? now) + WarningLife;
        string occasion = $"{StoreText.Of(date)} {1 + RevisionsOf(garden.Plan.GardenId, date, now)}";
        bool mayWake = garden.Plan.Digest.FrostMayWake && threats.Any(PushHours.IsAgainstFrost);
        var drafts = new List<OutboxDraft>();
        foreach (var told in garden.AddresseesOn(date))
            Warn(told, secondAfter: null);
        if (drafts.Any(draft => draft.Urgent))
        {
            // A program that took it has reached nobody, so nothing waits for it.
            string? firstWay = drafts.FirstOrDefault(draft => draft.Urgent && !ChannelWords.IsProgram(draft.Key.Addressee))?.Key.Addressee;
            foreach (string channel in garden.Plan.Digest.UrgentToo.Where(channel => drafts.All(draft => draft.Key.Addressee != channel)))
                Warn(garden.Known(channel), firstWay);
        }
        return store.Outbox.Add(drafts, new ToldToday(garden.Plan.GardenId, said.AfterTelling(threats.Concat(calledOff), date), date, now)) is WriteOutcome.Failed
            ? [.. drafts.Where(draft => draft.Urgent)]
            : [];

        (ImmutableArray<Job> Threats, ImmutableArray<Job> CalledOff) NewsOf(Agenda agenda) => evening
            ? (Threats.NewOrWorse(agenda, said), Threats.CalledOff(agenda, said))
            : (Threats.Pressing(agenda, said, eveningLook), []);

        void Warn(Addressee told, string? secondAfter)
        {
            var agenda = agendas.For(told);
            var (threats, calledOff) = NewsOf(agenda);
            if (threats.IsEmpty && calledOff.IsEmpty)
                return;
            // What quiet hours hold back until nothing can be done any more only disturbs.
            if (FirstTry(garden, told.Address, mayWake, secondAfter, now) > threats.Concat(calledOff).Max(job => job.ActBy ?? now))
                return;
            drafts.Add(Draft(
                garden, MessageKind.Warning, occasion, told.Address, WarningMessage.Of(agenda, threats, calledOff, told, answersTo, said), agenda, until,
                urgent: !threats.IsEmpty, now, mayWake, secondAfter,
                under: store.Outbox.Find(new(garden.Plan.GardenId, told.Address, MessageKind.Digest, StoreText.Of(date)))?.MessageId));
        }
    }

    private int RevisionsOf(string gardenId, LocalDate date, Instant now) => store.Outbox.Made(MessageKind.Warning, date, now)
        .Where(key => key.Garden == gardenId && key.Occasion.StartsWith(StoreText.Of(date), StringComparison.Ordinal))
        .Select(key => key.Occasion)
        .Distinct()
        .Count();

    private Agenda AgendaWithNotes(GardenOnDuty garden, UnitSystem units, LastSaid said, Instant now)
    {
        var agenda = mornings.AgendaOf(garden.Plan with { Units = units }, garden.Place, said, now);
        return garden.Notes.IsEmpty ? agenda : agenda with { Notes = [.. agenda.Notes, .. garden.Notes] };
    }

    private static Instant StartOf(LocalDate date, GardenOnDuty garden) => garden.Place.Calendar.DayOf(date).Start;

    /// <summary>The agenda in each unit system that is asked for, made once, and cut to an addressee's beds.</summary>
    private sealed class AgendasByUnits(Func<UnitSystem, Agenda> make)
    {
        private readonly Dictionary<UnitSystem, Agenda> _made = [];

        public Agenda Whole(UnitSystem units)
        {
            if (!_made.TryGetValue(units, out var agenda))
                _made[units] = agenda = make(units);
            return agenda;
        }

        public Agenda For(Addressee told) => Whole(told.Units).OfBeds(told.BedIds);
    }

    /// <param name="mayWake">Whether it is pushed in the quiet hours, too.</param>
    /// <param name="secondAfter">The addressee whose way out has the first try; null when this one is no second.</param>
    private OutboxDraft Draft(
        GardenOnDuty garden, string kind, string occasion, string address, Letter letter, Agenda agenda, Instant expires, bool urgent, Instant now,
        bool mayWake = false, string? secondAfter = null, string? under = null, byte[]? calendar = null)
    {
        var key = new OutboxKey(garden.Plan.GardenId, address, kind, occasion);
        string id = _ids.LeftOf(key);
        byte[] bytes;
        if (ChannelWords.IsOne(address))
        {
            bytes = _channels.Render(address, ChannelNote.Of(letter, agenda, kind, urgent, expires));
        }
        else
        {
            var mail = OutgoingMail.Render(links is null ? letter : letter with { JobLinks = links.Of(letter.Numbers, id, now) }, id, from, address, now, under, calendar);
            (id, bytes) = (mail.MessageId, [.. mail.Bytes]);
        }
        return new(key, id, letter.Subject, bytes, now, expires, urgent, JobLines(letter, agenda), FirstTry(garden, address, mayWake, secondAfter, now))
        {
            FallbackForKey = secondAfter is null ? null : key with { Addressee = secondAfter },
        };
    }

    /// <param name="secondAfter">The addressee whose way out has the first try; null when this one is no second.</param>
    private static Instant FirstTry(GardenOnDuty garden, string address, bool mayWake, string? secondAfter, Instant now) =>
        PushHours.Soonest(garden, address, mayWake, secondAfter is null ? now : now + SecondChannelAfter);

    /// <summary>"1=job id", a tab and the job's name, a line each, and behind another tab whether it was asked for or waits: what "done 1" and "all done" mean.</summary>
    private static string JobLines(Letter letter, Agenda agenda)
    {
        var waiting = letter.Sections.SelectMany(section => section.Rows).OfType<JobRow>().Where(row => row.Mark == Mark.Waiting).Select(row => row.Number).ToHashSet();
        // Nothing here may throw: a message that is not written warns of nothing.
        return string.Join('\n', letter.Numbers.Select(number => string.Create(
            CultureInfo.InvariantCulture,
            $"{number.Number}={number.JobId}\t{(agenda.Jobs.FirstOrDefault(job => job.Id == number.JobId) is { } job ? job.NameWithBed : "")}\t{(waiting.Contains(number.Number) ? Waits : Asked)}")));
    }

    /// <summary>The jobs of <see cref="JobLines"/>.</summary>
    internal static IEnumerable<JobId> JobIdsOf(string jobLines)
    {
        foreach (string line in jobLines.Split('\n'))
        {
            int begin = line.IndexOf('=', StringComparison.Ordinal) + 1;
            int end = line.IndexOf('\t', StringComparison.Ordinal);
            if (JobId.TryParse(line[begin..(end < begin ? line.Length : end)], out var id))
                yield return id.Value;
        }
    }

    internal const string Asked = "asked", Waits = "waits";

    /// <summary>The days just before on which an addressee got no digest: this was off, or there was no way out until noon.</summary>
    private DateInterval? MissedBefore(string gardenId, string address, LocalDate date, Instant now)
    {
        var missed = store.Ledger.Since(date.PlusDays(-LongestSkippedRun), now)
            .Where(entry => entry.Garden == gardenId && entry.Kind == LedgerTable.DigestSkipped)
            .Select(entry => entry.Date)
            .Concat(store.Outbox.Undelivered(gardenId, address, date.PlusDays(-LongestSkippedRun), now))
            .ToHashSet();
        var first = date;
        while (missed.Contains(first.PlusDays(-1)))
            first = first.PlusDays(-1);
        return first == date ? null : new(first, date.PlusDays(-1));
    }
}
