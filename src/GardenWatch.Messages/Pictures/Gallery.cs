using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>
/// The pictures of one message, from its agenda. Each is null where it would show nothing. They bear the numbers that
/// <paramref name="lines"/> has given by then.
/// </summary>
internal sealed class Gallery(Agenda agenda, Words words, JobLines lines, Frame frame)
{
    public const string NotDrawn = "The pictures could not be drawn on this machine; every fact of them is in words.";

    private const int LeastDays = 3;
    private const double FrostWorthDrawing = 0.1;
    private const double FreezingC = 0;
    private const double AnyHourDays = 20.0 / 24;

    private bool _failed;

    private ImmutableDictionary<string, int> Numbers => lines.Numbers.ToImmutableDictionary(n => n.JobId, n => n.Number);

    private Speech Speech => words.Speech;

    /// <summary>The foot, with a line that says so when a picture could not be drawn.</summary>
    public ImmutableArray<FootLine> Told(ImmutableArray<FootLine> foot) => _failed ? foot.Add(new(Speech.Say(NotDrawn))) : foot;

    /// <summary>Today and tonight, hour by hour.</summary>
    public Picture? Day() => Try(() => OfHours(DayHours.OfDigest(agenda, Numbers, words), Speech.Say("today and tonight"), Speech.Say("The day as a line.")));

    /// <summary>The hours ahead of a warning.</summary>
    public Picture? HoursAhead() => Try(() => OfHours(DayHours.OfWarning(agenda, Numbers, words), Speech.Say("the hours ahead"), Speech.Say("The hours ahead as a line.")));

    /// <summary>A missing library or a fault in a drawing may cost the picture; a frost is warned of all the same.</summary>
    private Picture? Try(Func<Picture?> draw)
    {
        try
        {
            return draw();
        }
        catch (Exception)
        {
            _failed = true;
            return null;
        }
    }

    private Picture? OfHours(DayHours hours, string label, string opening)
    {
        if (!hours.TellsSomething)
            return null;
        var numbers = Numbers;
        var shown = hours.By.SelectMany(post => post.Numbers).Concat(hours.Lanes.Select(lane => lane.Number)).ToHashSet();
        var said = new List<string> { opening };
        foreach (var job in agenda.Jobs.Where(job => numbers.TryGetValue(job.Id, out int number) && shown.Contains(number)).OrderBy(job => numbers[job.Id]))
        {
            string back = job.UndoAt is { } undo ? " " + words.Undone(job.Kind, undo) : "";
            said.Add(Speech.Say($"Job {numbers[job.Id]}, {words.FirstLower(JobLines.Deed(job))}: {lines.When(job)}.") + back);
        }
        if (hours.Frost is { } frost)
            said.Add(Words.Sentence($"{frost.Words[0]}, {words.Night(agenda.Date)}"));
        said.AddRange(hours.Rain.Select(rain => Words.Sentence($"{rain.Words[0]}, {words.On(DateOf(rain.From))}")));
        said.Add(Speech.Say("All of it is in words below."));
        return Made(PictureKind.Day, label, string.Join(' ', said), null, DayLine.Draw(hours, agenda.Zone, Clock, frame));
    }

    /// <summary>Seven days of a fresh forecast; of an old one the table tells what is known.</summary>
    public Picture? Week() => Try(WeekOrNone);

    private Picture? WeekOrNone()
    {
        if (agenda.Weather.State != WeatherState.Fresh || agenda.Week.Length < LeastDays)
            return null;
        var days = agenda.Week.Take(7).ToImmutableArray();
        var facts = new WeekFacts([.. days.Select(DayOf)], [.. WeekJobs(days)], Degrees, Speech.Say($"frost, {Degrees(FreezingC)}"), Speech.Say("not known"));
        return WeekLog.Draw(facts, frame) is { } drawing
            ? Made(PictureKind.Week, Speech.Say("the week"), WeekSaid(days), null, drawing)
            : null;
    }

    private WeekDayFacts DayOf(DayAhead day)
    {
        bool frost = HasFrost(day);
        WeekRain? rain = RainHang.Of(day, agenda.Zone) is { } hang
            ? new(Days(hang.From), hang.Until > agenda.Zone.AtStartOfDay(day.Date.PlusDays(1)).ToInstant() - Duration.FromMinutes(1) ? Days(day.Date) + 1 : Days(hang.Until),
                hang.Blocks, hang.Mm, hang.Likely, hang.Mm >= 0.5 ? Speech.Water(hang.Mm) : RainHang.Odds(day.RainChance ?? 0, Speech))
            : null;
        return new(
            Words.Joined(Speech.Tongue.ShortDay(day.Date)), day.HighC, day.LowC, day.RainMm is not null || day.RainChance is not null,
            rain, frost ? day.LeafLowC : null, frost ? day.FrostChance ?? 0.5 : null, day.FrostChance is { } chance ? RainHang.Odds(chance, Speech) : Speech.Say("likely"));
    }

    private IEnumerable<WeekJob> WeekJobs(ImmutableArray<DayAhead> days)
    {
        var numbers = Numbers;
        double end = Days(days[^1].Date) + 1;
        foreach (var job in agenda.Jobs.Where(job => job.Standing is Standing.Now or Standing.Soon && numbers.ContainsKey(job.Id)).OrderBy(job => numbers[job.Id]))
        {
            var window = job.Best ?? job.Windows.Cast<Window?>().FirstOrDefault();
            if ((job.ActBy ?? window?.From) is not { } begins)
                continue;
            var (from, until) = (Days(begins), job.ActBy is null ? Days(window!.Value.Until) : Days(begins));
            // Any hour of a day is no place in it.
            if (from >= 0 && from < end && until - from < AnyHourDays)
                yield return new(numbers[job.Id], JobLines.MarkOf(job), from, until);
        }
    }

    /// <summary>"The week as a weather log. Frost tonight, 7 in 10. Rain on Thursday, 0.3 in. Highs from 55 to 71 °F."</summary>
    private string WeekSaid(ImmutableArray<DayAhead> days)
    {
        var said = new List<string> { Speech.Say("The week as a weather log.") };
        said.AddRange(days.Where(HasFrost).Select(day =>
            Speech.Say($"Frost {words.Night(day.Date)}, {(day.FrostChance is { } chance ? words.Odds(chance) : Speech.Say("likely"))}.")));
        foreach (var day in days)
        {
            if (RainHang.Of(day, agenda.Zone) is { } rain)
                said.Add(Speech.Say($"Rain {words.On(day.Date)}, {(rain.Mm >= 0.5 ? Speech.Water(rain.Mm) : Speech.Say("a little"))}{(day.RainChance is { } chance ? ", " + words.Odds(chance) : "")}."));
        }
        Range(Speech.Say("Highs"), days.Select(day => day.HighC));
        Range(Speech.Say("Nights"), days.Select(day => day.LowC));
        string[] unknown = [.. days.Where(day => day.HighC is null || day.LowC is null || day.RainMm is null).Select(day => Speech.DayFrom(words.Today, day.Date))];
        if (unknown.Length > 0)
            said.Add(Speech.Say($"Not all is known of {string.Join(", ", unknown)}."));
        said.Add(Speech.Say("The table below says the same."));
        return string.Join(' ', said);

        void Range(string what, IEnumerable<double?> values)
        {
            double[] known = [.. values.OfType<double>()];
            if (known.Length == 0)
                return;
            string low = Speech.Temperature(known.Min()), high = Speech.Temperature(known.Max());
            said.Add(low == high ? $"{what} {low}." : Speech.Say($"{what} {low.Split('\u00A0')[0]} to {high}."));
        }
    }

    private static bool HasFrost(DayAhead day) =>
        day.FrostChance is { } chance ? chance >= FrostWorthDrawing : WeatherWords.HasFrost(day);

    /// <summary>The beds to scale. Those without a size are named, not drawn; with no sizes at all the boxes are alike.</summary>
    public Picture? Beds() => Try(BedsOrNone);

    private Picture? BedsOrNone()
    {
        if (BedLayout.Of(agenda.Beds) is not { } layout)
            return null;
        bool us = Speech.Units == UnitSystem.Us;
        var facts = new BedPlanFacts(
            [.. layout.Beds.Select(bed => FactsOf(bed.Bed, bed.Ground))], us ? 0.3048 : 0.25, layout.ToScale, Length);
        var (drawing, letters) = BedPlan.Draw(facts, frame);
        string[] captions = [.. Captions(layout), .. letters.Count == 0 ? [] : new[] { string.Join(", ", letters.Select(key => $"{key.Letter}: {key.Name}")) + "." }];
        string[] said =
        [
            layout.ToScale ? Speech.Say("Plan of the beds to scale.") : Speech.Say("The beds in the order of the plan."),
            .. facts.Beds.Select(Said),
            .. Captions(layout),
        ];
        return Made(PictureKind.Beds, Speech.Say("the beds"), string.Join(' ', said), captions.Length == 0 ? null : string.Join(' ', captions), drawing);
    }

    private IEnumerable<string> Captions(BedLayout layout)
    {
        if (!layout.ToScale)
        {
            yield return Speech.Say("Not to scale: the plan gives no sizes.");
            yield break;
        }
        string left = string.Join(", ", layout.LeftOut.Select(bed => Plain.OneLine(bed.Name, Plain.NameLength)));
        if (left.Length > 0)
            yield return Speech.Say($"Not drawn, for want of a size in the plan: {left}.");
        if (!layout.Placed)
            yield return Speech.Say("Sizes are true; where the plan gives no place, beds stand in its order.");
    }

    private BedFacts FactsOf(BedOutlook bed, Box ground)
    {
        var numbers = Numbers;
        var jobs = agenda.Jobs.Where(job => job.BedId == bed.Id && numbers.ContainsKey(job.Id)).OrderBy(job => numbers[job.Id]).ToArray();
        return new(
            Plain.OneLine(bed.Name, Plain.NameLength),
            bed.Size is var (width, length) ? $"{Feet(width)} × {Length(length)}" : "",
            ground,
            jobs.Any(job => job is { Kind: JobKind.Cover, Standing: Standing.Now }),
            [.. agenda.Sowings.Where(sowing => sowing.BedId == bed.Id).Select(RowOf)],
            [.. jobs.Select(job => (numbers[job.Id], JobLines.MarkOf(job)))]);
    }

    private BedRow RowOf(SowingOutlook sowing)
    {
        string name = words.FirstLower(Plain.OneLine(sowing.Name, Plain.NameLength)), crop = words.FirstLower(Plain.OneLine(Speech.Word(sowing.Crop), Plain.NameLength));
        // "Winter squash" is short as "squash".
        return new([name, name.Replace(", batch ", " ", StringComparison.Ordinal), crop, crop.Split(' ')[^1]], sowing.Stage switch
        {
            "sown" => RowStage.Sown,
            "set out" => RowStage.Plants,
            _ => RowStage.Up,
        });
    }

    private string Said(BedFacts bed)
    {
        string size = bed.Size.Length > 0 ? ", " + bed.Size.Replace("×", Speech.Say("by"), StringComparison.Ordinal) : "";
        string[] inIt =
        [
            .. bed.Rows.Select(row => row.Stage switch
            {
                RowStage.Sown => Speech.Say($"{row.Names[0]} sown"),
                RowStage.Plants => Speech.Say($"{row.Names[0]} set out"),
                _ => Speech.Say($"{row.Names[0]} growing"),
            }),
            .. bed.Jobs.Select(job => Speech.Say($"job {job.Number}")),
        ];
        return $"{Words.FirstUpper(bed.Name)}{size}: {(inIt.Length == 0 ? Speech.Say("nothing growing") : string.Join(", ", inIt))}.";
    }

    private Picture Made(PictureKind kind, string label, string alt, string? caption, Drawing drawing) => new(
        kind, agenda.GardenId, $"{agenda.Date:R} {words.Speech.Hour(agenda.AsOf)}", label, Plain.Cut(alt, 1000), caption, drawing);

    /// <summary>"6 am", "noon", "midnight"; "06:00" in metric.</summary>
    private string Clock(LocalTime time) => (Speech.Tongue.TwentyFourHours == true ? UnitSystem.Metric : Speech.Units, time.Hour) switch
    {
        (UnitSystem.Us, 0) => Speech.Say("midnight"),
        (UnitSystem.Us, 12) => Speech.Say("noon"),
        _ => Speech.Hour(time),
    };

    /// <summary>"58°".</summary>
    private string Degrees(double celsius) => Speech.Temperature(celsius).Split('\u00A0')[0] + "°";

    /// <summary>Beds are spoken of in whole and half feet or in metres.</summary>
    private string Length(double metres) => Feet(metres) + "\u00A0" + (Speech.Units == UnitSystem.Us ? Speech.Say("ft") : "m");

    private string Feet(double metres) =>
        Speech.Tongue.Number(Speech.Units == UnitSystem.Us ? metres / 0.3048 : metres, 2);

    private double Days(Instant at)
    {
        var local = at.InZone(agenda.Zone).LocalDateTime;
        return Days(local.Date) + (double)local.TimeOfDay.TickOfDay / NodaConstants.TicksPerDay;
    }

    private double Days(LocalDate date) => Period.DaysBetween(agenda.Date, date);

    private LocalDate DateOf(Instant at) => at.InZone(agenda.Zone).Date;
}
