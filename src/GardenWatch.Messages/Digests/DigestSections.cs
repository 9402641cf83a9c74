using System.Collections.Immutable;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>The body of a digest, from what can't wait to what was a year ago. An empty section is left out.</summary>
internal sealed class DigestSections(
    Agenda agenda, IReadOnlyList<JournalEntry> journal, DigestOccasion occasion, string reader, Words words, WeatherWords weather, JobLines jobs, Gallery gallery, Room room)
{
    private const int TodayOnWeekdays = 5;
    private const int TodayOnWeekends = 6;
    private const int BesideWhatPresses = 2;
    private const int SoonOnQuietMornings = 2;
    private const int SowingsOnQuietMornings = 1;
    // A small job of the catalogue. Common practice.
    private const int MinutesWhereUnknown = 15;
    private const int MostNoted = 6;
    private const int NearDays = 21, FarDays = 60;

    private Speech Speech => words.Speech;

    public ImmutableArray<Section> All(bool quiet)
    {
        Section?[] sections = quiet
            ? [Quiet(), BeforeLeaving(), Noted(), Notes()]
            : occasion.Sitting is not null
            ? [BeforeTooLate(), TodaySuits(), OnTheWay(), Ground(), Noted(), Notes()]
            : [BeforeTooLate(), BeforeLeaving(), TodaySuits(), OnTheWay(), Waiting(), Growing(), Ground(), Noted(), YearAgo(), Notes()];
        return [.. sections.OfType<Section>().Select(room.Cut)];
    }

    public Section? BeforeTooLate()
    {
        var pressing = Standing(Planning.Agendas.Standing.Now).Where(job => job.Protects).ToArray();
        return Titled(Speech.Say("Before it’s too late"), jobs.Rows(pressing, room.Jobs, Speech.Say("Before it’s too late as well")));
    }

    public Section? TodaySuits()
    {
        var suiting = Standing(Planning.Agendas.Standing.Now).Where(job => !job.Protects).ToLookup(jobs.StepsBehind);
        Job[] fresh = [.. suiting[false]];
        if (room == Room.Page)
            return Titled(Speech.Say("Today suits"), jobs.Rows([.. fresh, .. suiting[true]], room.Jobs, Speech.Say("Fit for today as well")));
        Job[] waterings = [.. fresh.Where(JobLines.IsWatering)];
        bool fold = waterings.Length > 1;
        if (fold)
            fresh = [.. fresh.Except(waterings)];
        bool weekend = agenda.Date.DayOfWeek is IsoDayOfWeek.Saturday or IsoDayOfWeek.Sunday;
        // What can't wait has taken its share of the morning's attention.
        int pressing = Standing(Planning.Agendas.Standing.Now).Count(job => job.Protects);
        int most = Math.Clamp((weekend ? TodayOnWeekends : TodayOnWeekdays) - pressing, BesideWhatPresses, room.Jobs);
        most = Math.Min(most, FittingIn(fresh));
        bool noHurry = fresh.Skip(most).All(job => job.ActBy is null && job.Kind != JobKind.Water);
        var rows = jobs.Rows(fresh, most, noHurry ? Speech.Say("Any day soon will do") : Speech.Say("Fit for today as well"));
        return Titled(Speech.Say("Today suits"),
            [.. fold ? rows.Add(jobs.Waterings(waterings)) : rows, .. StillOpen([.. suiting[true]])]);
    }

    /// <summary>After weeks of silence a list of what was not answered helps nobody: once a week one thing is asked, the nearest to a beginning.</summary>
    private IEnumerable<Row> StillOpen(Job[] unanswered)
    {
        if (agenda.SilentForDays is null)
            return jobs.InOneLine(unanswered, Speech.Say("Still open, when you like"));
        var asked = unanswered.OrderBy(job => job.Kind is JobKind.SetOut ? 0 : job.Kind is JobKind.StartIndoors or JobKind.Sow ? 1 : 2).Take(IsRoundUp ? 1 : 0);
        return jobs.InOneLine([.. asked], Speech.Say("One question, as it has been quiet: is this done, or off"));
    }

    private bool IsRoundUp => agenda.Date.DayOfWeek == IsoDayOfWeek.Sunday;

    /// <summary>As many as the gardener's minutes allow, in their order; always one.</summary>
    private int FittingIn(Job[] suiting)
    {
        if (agenda.MinutesAtHand is not { } atHand)
            return suiting.Length;
        int taken = Standing(Planning.Agendas.Standing.Now).Where(job => job.Protects).Sum(MinutesOf);
        int fit = 0;
        foreach (var job in suiting)
        {
            taken += MinutesOf(job);
            if (taken > atHand && fit > 0)
                break;
            fit++;
        }
        return fit;

        static int MinutesOf(Job job) => job.Minutes ?? MinutesWhereUnknown;
    }

    public Section? BeforeLeaving() => Titled(Speech.Say("Before you leave"), [.. agenda.BeforeLeaving.Select(line => new LineRow(line))]);

    public Section? OnTheWay()
    {
        var days = agenda.Week.Take(7).Select(weather.Day).ToImmutableArray();
        IEnumerable<Row> week = days.IsEmpty ? [] : [new WeekRow(days)];
        // The picture bears the numbers of the jobs below it, so these are given first.
        var soon = jobs.Rows(Soon(), room.Jobs, Speech.Say("Later in these days"));
        return Titled(Speech.Say("On the way"), [.. Drawn(gallery.Week()), .. week, .. soon]);
    }

    public Section? Waiting()
    {
        // What passed by is said once, with what can take its place; it has no number, for there is nothing to answer.
        var lapsed = Standing(Planning.Agendas.Standing.Missed).Take(room.Jobs).Select(job => new LineRow(TooLate(job)));
        string aswell = Speech.Say("Waiting as well");
        var waiting = room == Room.Page ? jobs.Rows(ByLikelyDate(), room.Jobs, aswell) : jobs.BriefRows([.. ByLikelyDate().Where(IsNear)], room.Jobs, aswell);
        return Titled(Speech.Say("Waiting"), [.. waiting, .. lapsed]);
    }

    private Section? Growing()
    {
        var told = agenda.Sowings.Where(sowing => TellsAll || IsNews(sowing)).ToArray();
        var dropped = told.Where(sowing => sowing.Stage == DroppedStage).ToArray();
        var named = dropped.Length > 1 ? [.. told.Except(dropped)] : told;
        // The beds look as they did unless a stage changed.
        var plan = TellsAll || told.Length > 0 ? gallery.Beds() : null;
        IEnumerable<Row> left = dropped.Length > 1 ? [new SayingRow(Speech.Say("Left out"), LeftOut(dropped))] : [];
        return Titled(Speech.Say("Growing"), [.. Drawn(plan), .. named.Take(room.Lines).Select(Said), .. left]);
    }

    private static readonly string DroppedStage = Stage.Dropped.Word();

    /// <summary>What was dropped, in one line, with what takes its place.</summary>
    private static string LeftOut(SowingOutlook[] dropped) => string.Join(' ', dropped.Select(sowing => Words.Sentence($"{Said(sowing).Label}: {sowing.Because}")));

    private Section? Ground()
    {
        var beds = agenda.Beds.Select(bed => (bed.Name, Text: SaidOf(bed))).Where(bed => bed.Text.Length > 0).Take(room.Lines).ToArray();
        if (beds.Length == 0)
            return null;
        // Beds that have nothing of their own to tell share a line.
        var rows = beds.GroupBy(bed => bed.Text)
            .Select(alike => (Row)new SayingRow(
                alike.Count() == beds.Length && beds.Length > 1
                    ? Speech.Say("All beds")
                    : Words.FirstUpper(string.Join(", ", alike.Select(bed => Plain.OneLine(bed.Name, Plain.NameLength)))),
                alike.Key))
            .ToList();
        var depths = agenda.Beds.Where(bed => bed.SoilC is not null).Select(bed => bed.SoilDepthCm).OfType<double>().Distinct().ToArray();
        if (depths is [var depth])
            rows.Add(new LineRow(Speech.Say($"Soil is taken {Speech.Length(depth / 100)} down.")));
        return Titled(Speech.Say("Ground"), rows);
    }

    /// <summary>What was understood from answers since the digest before, so that a slip is seen.</summary>
    private Section? Noted()
    {
        if (occasion.NotedSince is not { } since)
            return null;
        var noted = journal.Where(entry => entry.RecordedAt > since && entry.RecordedAt <= agenda.AsOf && entry.Origin != AnswerOrigin.Import
            && !(entry.Date < occasion.Sitting?.From)).ToArray();
        var rows = noted.Take(MostNoted).Select(entry => (Row)new LineRow(Words.Sentence(NotedOf(entry)))).ToList();
        if (noted.Length > MostNoted)
            rows.Add(new LineRow(Speech.Many(noted.Length - MostNoted, "And one more.", "And {0} more.")));
        return Titled(Speech.Say("Noted"), rows);
    }

    /// <summary>In a house where several answer, who it was.</summary>
    private string NotedOf(JournalEntry entry)
    {
        string said = Plain.OneLine(JournalWords.Said(entry, Speech, agenda.Date), Plain.SentenceLength);
        return entry.Person is { } person && !string.Equals(person, reader, StringComparison.OrdinalIgnoreCase) ? $"{said.TrimEnd('.')} ({person})" : said;
    }

    /// <summary>What the gardener wrote or picked on the same days last year, the nearest first.</summary>
    public Section? YearAgo()
    {
        var then = agenda.Date.PlusYears(-1);
        var entry = journal
            .Where(entry => (entry.Kind == EntryKind.Note && !string.IsNullOrWhiteSpace(entry.Text) || entry.Kind == EntryKind.Picked)
                && entry.RecordedAt <= agenda.AsOf && Math.Abs(Period.DaysBetween(then, entry.Date)) <= 3)
            .OrderBy(entry => Math.Abs(Period.DaysBetween(then, entry.Date))).ThenBy(entry => entry.RecordedAt)
            .FirstOrDefault();
        if (entry is null)
            return null;
        var quote = entry.Kind == EntryKind.Picked
            ? new QuoteRow(Speech.Say("you picked"), Plain.OneLine(entry.Text ?? JournalWords.Thing(entry, Speech), Plain.SentenceLength))
            : new QuoteRow(Speech.Say("you wrote"), Plain.OneLine(entry.Text, Plain.SentenceLength));
        return Titled(Speech.Say("A year ago"), [quote]);
    }

    public Section? Notes() => Titled(Speech.Say("Notes"),
        [.. agenda.Notes.Take(room.Lines).Select(note => Words.Sentences([note])).Where(note => note.Length > 0).Select(note => new LineRow(note))]);

    /// <summary>What is open, what comes, what waits, what is nearest to the kitchen: a row each at most.</summary>
    private Section? Quiet()
    {
        var near = Soon().Take(SoonOnQuietMornings).ToArray();
        IEnumerable<Row> soon = near.Select(jobs.Brief);
        IEnumerable<Row> waiting = occasion.Sitting is not null || near.Length == SoonOnQuietMornings ? [] : ByLikelyDate().Where(IsNear).Take(1).Select(jobs.Brief);
        var growing = agenda.Sowings.OrderBy(sowing => sowing.Harvest?.Start ?? LocalDate.MaxIsoValue)
            .Take(SowingsOnQuietMornings).Select(Said);
        var open = StillOpen([.. Standing(Planning.Agendas.Standing.Now)]);
        IEnumerable<Row> next = occasion.NextOn is { } date ? [new LineRow(Speech.Say($"The garden rests: the next digest comes on {Speech.Day(date)}, or when there is something to do."))] : [];
        return Titled(null, [.. open.ToArray(), .. soon.ToArray(), .. waiting.ToArray(), .. growing, .. next]);
    }

    private IEnumerable<Job> Standing(Standing standing) => agenda.Jobs.Where(job => job.Standing == standing);

    private Job[] Soon() => [.. Standing(Planning.Agendas.Standing.Soon).OrderByDescending(job => job.Protects)];

    /// <summary>
    /// Those with a date in sight first, in its order. None without a fresh forecast: the notes name them as what nothing is said of.
    /// </summary>
    private Job[] ByLikelyDate() => agenda.Weather.State != WeatherState.Fresh ? [] : [.. Standing(Planning.Agendas.Standing.Waiting)
        .OrderBy(job => job.Likely?.Start ?? LocalDate.MaxIsoValue)];

    /// <summary>What is weeks away is told once a week, and a chore that is months away only on the first day.</summary>
    private bool IsNear(Job job) => job.HardlyBefore is not { } start || start <= agenda.Date.PlusDays(NearDays)
        || (job.SowingId is null && start > agenda.Date.PlusDays(FarDays) ? occasion.StagesLastSaid is null : TellsAll);

    private bool TellsAll => occasion.StagesLastSaid is null || agenda.Date.DayOfWeek == IsoDayOfWeek.Sunday;

    private static IEnumerable<Row> Drawn(Picture? picture) => picture is null ? [] : [new PictureRow(picture)];

    private bool IsNews(SowingOutlook sowing) =>
        !occasion.StagesLastSaid!.TryGetValue(sowing.Id, out var last) || last != sowing.Stage
        || (sowing.Harvest is { } harvest && Period.DaysBetween(agenda.Date, harvest.Start) is >= 0 and <= 3);

    public static SayingRow Said(SowingOutlook sowing)
    {
        string name = Plain.OneLine(sowing.Name, Plain.NameLength);
        string sentence = Plain.OneLine(sowing.Sentence, Plain.SentenceLength);
        // The outlook's line begins with the sowing's name; here that stands in the margin.
        if (sentence.StartsWith(name, StringComparison.OrdinalIgnoreCase))
            sentence = sentence[name.Length..].TrimStart(':', ',', ' ');
        return new(Words.FirstUpper(name), Words.Sentence(sentence));
    }

    /// <summary>As the bed's own sentence says it, else from its numbers; empty when nothing is known.</summary>
    public string SaidOf(BedOutlook bed)
    {
        if (!string.IsNullOrWhiteSpace(bed.Sentence))
        {
            string name = Plain.OneLine(bed.Name, Plain.NameLength) + ":";
            string own = Plain.OneLine(bed.Sentence, Plain.SentenceLength);
            return Words.Sentence(own.StartsWith(name, StringComparison.OrdinalIgnoreCase) ? own[name.Length..] : own);
        }
        var said = new List<string>();
        if (bed.SoilC is { } soil)
            said.Add(Speech.Say($"Soil {Speech.Temperature(soil)}."));
        if (bed.RainPastWeekMm is { } rain)
            said.Add(bed.WaterDeficitMm is { } lack and >= 1
                ? Speech.Say($"{Speech.Water(rain)} of rain in 7\u00A0days, short by {Speech.Water(lack)}.")
                : Speech.Say($"{Speech.Water(rain)} of rain in 7\u00A0days."));
        if (bed.WaterToGiveLitres is { } litres and >= 1)
            said.Add(Speech.Say($"Give {Speech.Volume(litres)}."));
        return string.Join(' ', said);
    }

    private string TooLate(Job job)
    {
        string passed = Speech.Say($"Too late to {words.FirstLower(JobLines.Deed(job))}");
        string instead = Plain.OneLine(job.Otherwise, Plain.SentenceLength);
        return Words.Sentence(instead.Length > 0 ? $"{passed}; {words.FirstLower(instead)}" : passed);
    }

    private static Section? Titled(string? title, IReadOnlyCollection<Row> rows) => rows.Count == 0 ? null : new(title, [.. rows]);
}
