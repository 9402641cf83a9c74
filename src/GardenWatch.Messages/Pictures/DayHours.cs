using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>Hours in which weather suits a job and the gardener can be there.</summary>
internal sealed record Lane(int Number, ImmutableArray<string> Names, ImmutableArray<Window> Windows, Window Best);

/// <summary>An hour by which jobs must be done, or after which they are undone; words from the fullest to the shortest.</summary>
internal sealed record Post(Instant At, ImmutableArray<int> Numbers, ImmutableArray<string> Words);

/// <summary>Rain of one day over the hours in which it is expected.</summary>
/// <param name="Likely">More likely than not, in hours that are known.</param>
internal sealed record RainSpan(Instant From, Instant Until, int Blocks, double Mm, bool Likely, ImmutableArray<string> Words);

/// <summary>Frost in the night between the covering and the uncovering. Its own hours are not known.</summary>
/// <param name="Chance">Null when the forecast alone has it.</param>
internal sealed record FrostSpan(Instant From, Instant Until, double? Chance, ImmutableArray<string> Words);

/// <summary>What of an agenda falls into the hours of the day line.</summary>
internal sealed record DayHours(
    Instant From, Instant Until, ImmutableArray<Lane> Lanes, ImmutableArray<Post> By, ImmutableArray<Post> Undo,
    ImmutableArray<RainSpan> Rain, FrostSpan? Frost)
{
    private const int LanesAtMost = 3;
    private const int DigestHours = 30;
    private const int WarningHours = 17;
    private static readonly LocalTime NightFrom = new(18, 0), NightUntil = new(9, 0);
    private static readonly Duration AllDay = Duration.FromHours(20);

    /// <summary>From five in the morning to eleven on the next day.</summary>
    public static DayHours OfDigest(Agenda agenda, IReadOnlyDictionary<string, int> numbers, Words words)
    {
        var five = (agenda.Date + new LocalTime(5, 0)).InZoneLeniently(agenda.Zone).ToInstant();
        var from = Instant.Min(five, WholeHour(agenda.AsOf, agenda.Zone));
        return Of(agenda, numbers, words, from, from + Duration.FromHours(DigestHours));
    }

    /// <summary>From the hour of the warning on, as far as the way back where that is in sight.</summary>
    public static DayHours OfWarning(Agenda agenda, IReadOnlyDictionary<string, int> numbers, Words words)
    {
        var from = WholeHour(agenda.AsOf, agenda.Zone);
        var until = from + Duration.FromHours(WarningHours);
        var back = agenda.Jobs.Where(job => numbers.ContainsKey(job.Id)).Select(job => job.UndoAt).OfType<Instant>()
            .Where(at => at < from + Duration.FromHours(DigestHours)).DefaultIfEmpty(until).Max();
        return Of(agenda, numbers, words, from, Instant.Max(until, back + Duration.FromHours(2)));
    }

    /// <summary>One job by one hour stands in the headline; a line is for what lies beside what.</summary>
    public bool TellsSomething =>
        (!Lanes.IsEmpty || !By.IsEmpty) && Lanes.Length + By.Sum(post => post.Numbers.Length) + Undo.Length + Rain.Length + (Frost is null ? 0 : 1) >= 2;

    private static DayHours Of(Agenda agenda, IReadOnlyDictionary<string, int> numbers, Words words, Instant from, Instant until)
    {
        var speech = words.Speech;
        Job[] jobs = [.. agenda.Jobs.Where(job => job.Standing == Standing.Now && numbers.ContainsKey(job.Id)).OrderBy(job => numbers[job.Id])];
        var lanes = jobs.Where(job => job.ActBy is null).Select(Laned).OfType<Lane>()
            .OrderBy(lane => lane.Best.From).ThenBy(lane => lane.Number).Take(LanesAtMost).OrderBy(lane => lane.Number);
        var by = jobs.Where(job => job.ActBy > from && job.ActBy <= until).GroupBy(job => job.ActBy!.Value)
            .OrderBy(post => post.Key).Select(post => new Post(post.Key, Numbers(post), ByWords(post, speech.Hour(post.Key), words)));
        var undo = jobs.Where(job => job.UndoAt > from && job.UndoAt <= until).GroupBy(job => job.UndoAt!.Value)
            .OrderBy(post => post.Key).Select(post => new Post(post.Key, Numbers(post), UndoWords(post, speech.Hour(post.Key), words)));
        return new(from, until, [.. lanes], [.. by], [.. undo], [.. RainOf(agenda, speech, from, until)], FrostOf(agenda, speech, jobs, from, until));

        Lane? Laned(Job job)
        {
            var all = job.Windows.IsEmpty && job.Best is { } only ? [only] : job.Windows;
            var open = all.Where(window => window.From < until && window.Until > from && window.Until - window.From < AllDay)
                .Select(window => new Window(Instant.Max(window.From, from), Instant.Min(window.Until, until))).ToImmutableArray();
            if (open.IsEmpty)
                return null;
            var best = open.FirstOrDefault(window => job.Best is { } named && window.From <= named.From && window.Until > named.From, open[0]);
            return new(numbers[job.Id], [words.FirstLower(JobLines.Deed(job)), words.FirstLower(JobLines.Deed(job)).Split(',')[0], speech.Word(job.Kind.Word())], open, best);
        }

        ImmutableArray<int> Numbers(IEnumerable<Job> post) => [.. post.Select(job => numbers[job.Id])];
    }

    private static ImmutableArray<string> ByWords(IEnumerable<Job> jobs, string hour, Words words) =>
        jobs.Select(job => words.Speech.Word(job.Kind.Word())).Distinct().ToArray() is [var kind]
            ? [words.Speech.Say($"{kind} by {hour}"), words.Speech.Say($"by {hour}")]
            : [words.Speech.Say($"by {hour}")];

    private static ImmutableArray<string> UndoWords(IEnumerable<Job> jobs, string hour, Words words)
    {
        string way = jobs.Select(job => words.WayBack(job.Kind).Split(' ')[0]).Distinct().ToArray() is [var one] ? words.FirstLower(one) : words.Speech.Say("undone");
        return [words.Speech.Say($"{way} after {hour}"), words.Speech.Say($"{way} {hour}")];
    }

    private static IEnumerable<RainSpan> RainOf(Agenda agenda, Speech speech, Instant from, Instant until)
    {
        foreach (var day in agenda.Week)
        {
            if (RainHang.Of(day, agenda.Zone) is not { } rain || rain.From >= until || rain.Until <= from)
                continue;
            string amount = speech.Say($"rain {speech.Water(rain.Mm)}");
            yield return new(rain.From, rain.Until, rain.Blocks, rain.Mm, rain.Likely,
                day.RainChance is { } chance ? [$"{amount}, {RainHang.Odds(chance, speech)}", amount] : [amount]);
        }
    }

    private static FrostSpan? FrostOf(Agenda agenda, Speech speech, Job[] jobs, Instant from, Instant until)
    {
        var covers = jobs.Where(job => job is { Threat: null, Kind: JobKind.Cover or JobKind.Protect } && job.ActBy >= from && job.UndoAt > job.ActBy).ToArray();
        if (covers.Length == 0 || agenda.Week.FirstOrDefault(day => day.Date == agenda.Date) is not { } tonight || !WeatherWords.HasFrost(tonight))
            return null;
        // A cover may lie from the morning before to the evening after; the night at its widest is from six to nine.
        var begins = Instant.Max(covers.Max(job => job.ActBy!.Value), At(agenda.Date, NightFrom));
        var ends = Instant.Min(Instant.Min(covers.Min(job => job.UndoAt!.Value), At(agenda.Date.PlusDays(1), NightUntil)), until);
        return begins >= ends ? null
            : new(begins, ends, tonight.FrostChance, [tonight.FrostChance is { } chance ? speech.Say($"frost, {RainHang.Odds(chance, speech)}") : speech.Say("frost is likely"), speech.Say("frost")]);

        Instant At(LocalDate date, LocalTime time) => (date + time).InZoneLeniently(agenda.Zone).ToInstant();
    }

    private static Instant WholeHour(Instant instant, DateTimeZone zone) =>
        instant - Duration.FromTicks(instant.InZone(zone).TimeOfDay.TickOfDay % NodaConstants.TicksPerHour);
}
