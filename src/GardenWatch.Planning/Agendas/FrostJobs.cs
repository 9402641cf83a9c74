using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// Covering what a frost would take, and uncovering it again. Never withheld for want of data: where the night can't
/// be judged, or the forecast is old, the advice becomes cautious and says why.
/// </summary>
/// <remarks>
/// Decision rule: a cover asked for in vain costs ten minutes, one not asked for costs the season's plants. So the crop's
/// leaf limit stands some degrees above killing (reference: FAO 10, vol. 1, ch. 4 and 6), and doubt counts as frost. The
/// one forecast is enough for tonight, and so is the share of runs that <see cref="DecisionRule"/> names; nights further
/// on are announced by the share alone where there are runs. What was advised for a night stands until the night is
/// forecast half a degree over the limit.
/// </remarks>
internal sealed class FrostJobs(Plan plan, GardenWeather weather, LastSaid lastSaid, WeatherNews news, Instant asOf)
{
    /// <summary>A frost is announced this many days ahead.</summary>
    private const int AnnouncedDays = 3;
    // An old forecast has drifted by about this much at two days' lead; so much is taken off its lows.
    private static readonly Quantity StaleMargin = new(2, Dimension.TemperatureDifference);
    /// <summary>On a day that stays under this a cover may lie on till the next night. Common practice (CSU GardenNotes 722).</summary>
    public const double CoolDayHighC = 16;
    /// <summary>On a day that gets this warm it must come off, or be open at the sides. Common practice.</summary>
    public const double TooHotUnderCoverC = 22;
    /// <summary>Taking it off after this hour to lay it again at dusk is work for nothing.</summary>
    public static readonly LocalTime TooLateToUncover = new(14, 0);
    // With nothing known of tonight, lows of the last nights above this make a frost on the leaf unlikely: the ground
    // minimum of cold nights lay at most 7.4 K under the screen's at De Bilt, 1980 to 2019.
    private const double MildNightsC = 10;
    // Covers keep in what the soil gives; a wind of about 4 m/s through the night takes it away. FAO 10, vol. 1, ch. 6.
    private const double WindyNightMetresPerSecond = 4;
    // Off when the air has come this far over freezing and the sun is up. Common practice (CSU GardenNotes 722).
    private const double UncoverAirC = 4;
    // Under fleece in the sun it soon is too hot; above this high nobody should leave it on till evening. Common practice.
    private const double TooWarmToStayOnC = 18;

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);

    private Speech Speech => weather.Speech;

    /// <summary>
    /// The cover job of one sowing; null when no cold night is in sight. One that was told today and is not wanted any more
    /// is dropped, and says so.
    /// </summary>
    public Job? Of(Wanted wanted)
    {
        var scene = weather.SceneOf(wanted);
        var nights = NightsAhead();
        bool told = WasAdvised(wanted);
        for (int index = 0; index < nights.Length; index++)
        {
            var night = nights[index];
            var look = LookAt(night.Date, night.Night, wanted, scene);
            bool tonight = index == 0;
            if (tonight && told && !look.Threatens)
                return CalledOff(wanted, look);
            if (!look.Threatens || !tonight && look.Unknown)
                continue;
            if (wanted.PutOffUntil > night.Date)
                continue;
            int until = index;
            while (until + 1 < nights.Length && LookAt(nights[until + 1].Date, nights[until + 1].Night, wanted, scene) is { Threatens: true, Unknown: false })
                until++;
            return Described(wanted, look, tonight, nights[until].Date);
        }
        return null;
    }

    /// <summary>What was covered comes off when it is warm and light, unless the next night is cold as well and the day cool.</summary>
    public Job? Off(Wanted wanted)
    {
        var morning = weather.Calendar.DayOf(_today);
        var warm = WarmAt(weather.BedOf(wanted), morning.Start, morning.End);
        var slots = Presence.Slots(plan, weather.Calendar, _today, 1).Where(slot => slot.Until > asOf).ToList();
        if (warm is not { } from)
            return null;
        var windows = slots
            .Select(slot => new Window(Instant.Max(Instant.Max(slot.From, from), asOf), slot.Until))
            .Where(window => window.From < window.Until)
            .ToImmutableArray();
        return new Job
        {
            Id = wanted.Id.ToString(),
            SubjectId = wanted.Id.SubjectId,
            Kind = JobKind.Uncover,
            Name = wanted.Name,
            Crop = wanted.Sowing?.Planting.Crop.Name,
            BedId = wanted.Bed?.Id,
            BedName = wanted.Bed?.Name,
            SowingId = wanted.Sowing?.Id,
            Standing = Standing.Now,
            Minutes = wanted.Minutes,
            Windows = windows,
            Best = windows.IsEmpty ? null : windows[0],
            Reasons = [new("warm-enough", Values(("airC", UncoverAirC)),
                Speech.Say($"The air is over {Speech.Temperature(UncoverAirC)} from about {Speech.Hour(from)}; light and air must get in."))],
        };
    }

    private ImmutableArray<(LocalDate Date, Interval Night)> NightsAhead()
    {
        var (runningDate, running) = weather.Calendar.TonightAt(asOf);
        var nights = ImmutableArray.CreateBuilder<(LocalDate, Interval)>();
        // In the morning the running night is nearly over: only one that can still be acted on counts.
        if (runningDate < _today && weather.Calendar.TimeOf(asOf) < new LocalTime(3, 0))
            nights.Add((runningDate, running));
        for (int day = 0; day < AnnouncedDays; day++)
            nights.Add((_today.PlusDays(day), weather.Calendar.NightOf(_today.PlusDays(day))));
        return nights.ToImmutable();
    }

    private NightLook LookAt(LocalDate date, Interval night, Wanted wanted, Scene scene)
    {
        double limit = wanted.Numbers["leaf"].Value;
        if (wanted.Conditions.When.Any(condition => IsOfTheCalendar(condition) && Evaluate.Holds(condition, Instant.Max(night.Start, asOf), scene) == Truth.No))
            return new(date, night, limit, weather.BedOf(wanted).Lowest(BedMeasure.Leaf, night.Start, night.End), false, false, null, false);
        double cautious = news.State == WeatherState.Fresh ? limit : limit + StaleMargin.Value;
        var from = Instant.Max(night.Start, asOf);
        var holds = Evaluate.Holds(wanted.Conditions.Whole, from, scene);
        var bed = weather.BedOf(wanted);
        var leaf = bed.Lowest(BedMeasure.Leaf, from, night.End);
        double? share = Evaluate.ShareOf(wanted.Conditions.Whole, from, GardenWeather.InRuns(scene));
        bool tonight = date <= _today;
        double rule = DecisionRule.Of(JobKind.Cover).With(wanted.Numbers).LeastShare;
        bool likely = share >= rule;
        bool cold = likely || (tonight || share is null) && (holds == Truth.Yes || leaf is { } low && low.Celsius <= cautious);
        bool kept = !cold && tonight && WasAdvised(wanted) &&
            (share >= rule - DecisionRule.ShareFlutter || Evaluate.Holds(wanted.Conditions.Whole, from, scene with { Lenient = true }) == Truth.Yes);
        bool unknown = holds == Truth.Unknown && !cold && !kept;
        return new(date, night, limit, leaf, unknown, kept, share, cold || kept || unknown && !MildLately(bed));
    }

    /// <summary>A season in which there is something to lose: what nothing is known of does not close it.</summary>
    private static bool IsOfTheCalendar(Condition condition) => Evaluate.Phrases(condition).All(phrase => phrase.Of.Measure is Measure.Daylight or Measure.Days);

    /// <summary>A message of today said to cover tonight.</summary>
    private bool WasAdvised(Wanted wanted) =>
        lastSaid.Jobs.TryGetValue(wanted.Id.ToString(), out var said) && said.Standing == Standing.Now && said.LastOn == _today;

    private Job CalledOff(Wanted wanted, NightLook look) => new()
    {
        Id = wanted.Id.ToString(),
        SubjectId = wanted.Id.SubjectId,
        Kind = JobKind.Cover,
        Name = wanted.Name,
        Crop = wanted.Sowing?.Planting.Crop.Name,
        BedId = wanted.Bed?.Id,
        BedName = wanted.Bed?.Name,
        SowingId = wanted.Sowing?.Id,
        Standing = Standing.Dropped,
        Reasons = [new("called-off", Values(("leafLowC", look.Leaf?.Celsius ?? double.NaN), ("limitC", look.LimitC)),
            look.Leaf is { } leaf
                ? Speech.Say($"The night has turned milder: leaves near {Speech.Temperature(leaf.Celsius)} about {Speech.Hour(leaf.At)}, at risk from {Speech.Temperature(look.LimitC)} down.")
                : Speech.Say("The last nights were mild, and nothing tells of a frost any more."))],
        Protects = true,
        DecidingValue = look.Leaf?.Celsius,
    };

    private bool MildLately(BedHours bed) =>
        bed.Lowest(BedMeasure.Air, asOf - Duration.FromDays(3), asOf) is { } low && low.Celsius > MildNightsC;

    private Job Described(Wanted wanted, NightLook look, bool tonight, LocalDate lastNight)
    {
        var bed = weather.BedOf(wanted);
        var limitReached = look.Leaf is null ? (Instant?)null : bed.FirstAtOrBelow(BedMeasure.Leaf, look.LimitC, Instant.Max(look.Night.Start, asOf), look.Night.End);
        var actBy = ActBy(look, limitReached);
        actBy = actBy with { At = QuarterHour.Before(actBy.At) };
        var last = weather.Calendar.NightOf(lastNight);
        double? between = HighBetween(bed, look.Date, lastNight);
        // It lies till after the last cold night where the days between are cool.
        var until = between < CoolDayHighC ? last : look.Night;
        var undo = wanted.Stays ? null : WarmAt(bed, until.Start + Duration.FromHours(4), until.End + Duration.FromHours(8));
        var reasons = ImmutableArray.CreateBuilder<Reason>();
        if (news.State != WeatherState.Fresh)
            reasons.Add(new(Reason.StaleWeather, Values(), StaleSentence(look.Unknown)));
        if (look.Unknown)
            reasons.Add(new("unknown-night", Values(), Speech.Say("Frost can't be judged for this night: the forecast has gaps. Cover if the evening is clear and still.")));
        else
            reasons.Add(FrostReason(wanted, look, bed));
        if (look.Kept)
            reasons.Add(new("kept", Values(), Speech.Say("It was said this morning, and the forecast has since moved by less than forecasts waver.")));
        var covering = Covering(wanted, look);
        if (covering is { } worth)
            reasons.Add(worth.Reason);
        if (lastNight > look.Date)
            reasons.Add(new("more-nights", Values(), (between < CoolDayHighC && !wanted.Stays, lastNight == look.Date.PlusDays(1)) switch
            {
                (true, true) => Speech.Say($"The night after may need it too; it may stay on between ({Speech.Temperature(between!.Value)} by day)."),
                (true, false) => Speech.Say($"The nights until {Speech.DayFrom(_today, lastNight)} may need it too; it may stay on between ({Speech.Temperature(between!.Value)} by day)."),
                (false, true) => Speech.Say("The night after may need it too."),
                _ => Speech.Say($"The nights until {Speech.DayFrom(_today, lastNight)} may need it too."),
            }));
        if (actBy.Instead is { } instead)
            reasons.Add(new("no-slot", Values(), instead));
        var undoAt = undo is { } warm ? UndoAt(warm, bed) : null;
        if (undoAt is { } off)
            reasons.Add(new("undo", Values(), off.Sentence));

        var slots = Presence.Slots(plan, weather.Calendar, look.Date, 1)
            .Select(slot => new Window(Instant.Max(slot.From, asOf), Instant.Min(slot.Until, actBy.At)))
            .Where(slot => slot.From < slot.Until)
            .ToImmutableArray();
        return new Job
        {
            Id = wanted.Id.ToString(),
            SubjectId = wanted.Id.SubjectId,
            Kind = JobKind.Cover,
            Name = covering is { Doubtful: true } && Bears(wanted) ? Speech.Say($"Pick, then cover the {Speech.Word(wanted.Sowing!.Planting.Crop.Plants)}") : wanted.Name,
            Crop = wanted.Sowing?.Planting.Crop.Name,
            BedId = wanted.Bed?.Id,
            BedName = wanted.Bed?.Name,
            SowingId = wanted.Sowing?.Id,
            Standing = tonight ? Standing.Now : Standing.Soon,
            Minutes = wanted.Minutes,
            Windows = slots,
            Best = slots.IsEmpty ? null : slots[^1],
            ActBy = actBy.At,
            Chance = look.Share is { } share ? new(share, ChanceSource.Members) : null,
            UndoAt = undoAt?.At,
            Reasons = reasons.ToImmutable(),
            Cautions = wanted.Cautions,
            Needs = [new(
                $"leaf low tonight at most {look.LimitC.ToString("0.#", CultureInfo.InvariantCulture)} °C", look.Unknown ? null : true, look.Leaf?.Celsius, "°C",
                look.Leaf is { } low ? look.LimitC - low.Celsius : null, null, reasons[0].Text)],
            How = wanted.How,
            Otherwise = wanted.Otherwise,
            Protects = true,
            DecidingValue = look.Leaf?.Celsius,
        };
    }

    private static bool Bears(Wanted wanted) => wanted.Sowing is { Stage: Stage.Bearing } or { BearingSince: not null };

    /// <summary>Of the days after one night and until another; null when they are one night.</summary>
    private double? HighBetween(BedHours bed, LocalDate first, LocalDate last)
    {
        double? highest = null;
        for (var date = first.PlusDays(1); date <= last; date = date.PlusDays(1))
            if (bed.Highest(BedMeasure.Air, weather.Calendar.DayOf(date)) is { } high && !(highest >= high))
                highest = high;
        return highest;
    }

    // Who reads of such a low thinks of frost, though the leaves stay warmer than the limit.
    private const double SoundsColdK = 1.5;

    /// <summary>
    /// What is said of a night whose air sounds cold for plants that no cover is asked for: under cloud and wind their leaves stay
    /// about as warm. Null for other nights, and where the forecast is old.
    /// </summary>
    public string? NoNeed(Wanted wanted)
    {
        if (news.State != WeatherState.Fresh || wanted.Stays)
            return null;
        var night = weather.Calendar.NightOf(_today);
        var bed = weather.BedOf(wanted);
        double limit = wanted.Numbers["leaf"].Value;
        if (bed.Lowest(BedMeasure.Air, night.Start, night.End) is not (var air, _) || air > limit + SoundsColdK
            || bed.Lowest(BedMeasure.Leaf, night.Start, night.End) is not (var leaf, _))
            return null;
        return Speech.Say($"{Speech.Temperature(air)} tonight, but {NightWords(night)} keeps leaves about as warm ({Speech.Temperature(leaf)}): the {Speech.Word(wanted.Sowing!.Planting.Crop.Plants)} can do without a cover; lay it where that is easy.");
    }

    private Reason FrostReason(Wanted wanted, NightLook look, BedHours bed)
    {
        var speech = weather.Speech;
        var leaf = look.Leaf!.Value;
        string when = weather.Calendar.DateOf(leaf.At) is var date && date.PlusDays(-1) <= _today
            ? speech.Say($"about {speech.Hour(leaf.At)}")
            : speech.Say($"about {speech.Hour(leaf.At)} on {speech.DayFrom(_today, date)}");
        var air = weather.Place.Lowest(BedMeasure.Air, look.Night.Start, look.Night.End);
        double taken = air is { } screen ? screen.Celsius - leaf.Celsius : 0;
        string made = air is { } a
            ? taken >= 0.5
                ? speech.Say($" (air {speech.Temperature(a.Celsius)}, less {speech.Difference(taken)} for {NightWords(look.Night)}{PocketWords(wanted.Bed)})")
                : speech.Say($" (air {speech.Temperature(a.Celsius)}, {NightWords(look.Night)})")
            : "";
        string risk = leaf.Celsius <= 0
            ? speech.Say("frost on the leaves is likely")
            : speech.Say($"{speech.Word(wanted.Sowing!.Planting.Crop.Plants)} are at risk from {speech.Temperature(look.LimitC)} down");
        return new(
            "frost",
            Values(("leafLowC", leaf.Celsius), ("airLowC", air?.Celsius ?? double.NaN), ("limitC", look.LimitC)),
            speech.Say($"Leaves near {speech.Temperature(leaf.Celsius)} {when}{made}: {risk}."));
    }

    private string NightWords(Interval night)
    {
        string sky = weather.MeanCloud(night.Start, night.End) switch
        {
            null => "",
            < 35 => Speech.Say("clear"),
            < 75 => Speech.Say("partly clouded"),
            _ => Speech.Say("clouded"),
        };
        string air = weather.MeanWind(night.Start, night.End) switch
        {
            null => "",
            < 2.5 => Speech.Say("calm"),
            < WindyNightMetresPerSecond => Speech.Say("light wind"),
            _ => Speech.Say("windy"),
        };
        string both = string.Join(", ", new[] { sky, air }.Where(word => word.Length > 0));
        return both.Length == 0 ? Speech.Say("the night") : Speech.Say($"a {both} night");
    }

    private string PocketWords(Bed? bed) => bed?.FrostPocket.Kelvins > 0 ? Speech.Say(" in a low place") : "";

    /// <summary>What the gardener's cover is worth tonight, by <see cref="Covers"/>.</summary>
    private (Reason Reason, bool Doubtful)? Covering(Wanted wanted, NightLook look)
    {
        if (wanted.Bed is not { } bed || wanted.Stays)
            return null;
        var speech = weather.Speech;
        (string Word, FrostCover Kind)? at = bed.Cover switch
        {
            CoverAtHand.LightFleece => (speech.Say("Light fleece"), FrostCover.LightFleece),
            CoverAtHand.MediumFleece => (speech.Say("Fleece"), FrostCover.MediumFleece),
            CoverAtHand.HeavyFleece => (speech.Say("Heavy fleece"), FrostCover.HeavyFleece),
            CoverAtHand.Sheet => (speech.Say("A sheet"), FrostCover.Sheet),
            CoverAtHand.Cloche => (speech.Say("A cloche"), FrostCover.Cloche),
            CoverAtHand.Frame => (speech.Say("A frame"), FrostCover.Frame),
            _ => null,
        };
        double wind = weather.MeanWind(look.Night.Start, look.Night.End) ?? double.NaN;
        if (wind > 0 && Covers.Worth(at?.Kind ?? FrostCover.LightFleece, wind) == 0)
            return (new("wind-takes-cover", Values(), Bears(wanted)
                ? speech.Say("With this wind a cover does little: pick what is ripe, water the soil, weigh every edge.")
                : speech.Say("With this wind a cover does little: water the soil, lay it double, weigh every edge.")), true);
        if (at is not { } cover)
            return null;
        double single = Covers.Worth(cover.Kind, wind), doubled = Covers.Worth(cover.Kind, wind, layers: 2);
        string worth = speech.Say($"{cover.Word} gives about {speech.Difference(single)}");
        // What is colder still takes the plants that are not moved or picked.
        double leaf = look.Leaf?.Celsius ?? look.LimitC;
        bool enough = leaf + single >= look.LimitC, enoughDoubled = doubled > single && leaf + doubled >= 0, bears = Bears(wanted);
        string advice =
            enough ? ""
            : enoughDoubled ? speech.Say(": use two layers")
            : doubled > single
            ? bears ? speech.Say(", too little even in two layers: lay both, straw or blankets on top, pick what is ripe first, bring in what can be lifted")
                : speech.Say(", too little even in two layers: lay both, straw or blankets on top, bring in what can be lifted")
            : bears ? speech.Say(", too little by itself: lay fleece as well, pick what is ripe first, bring in what can be lifted")
            : speech.Say(", too little by itself: lay fleece as well, bring in what can be lifted");
        return (new("cover-worth", Values(("worthK", single)), $"{worth}{advice}."), !enough && !enoughDoubled);
    }

    /// <summary>
    /// The end of the gardener's last slot before the sun is off the bed; else the last before the leaves reach the limit.
    /// With no slot left, the hour itself and what to do instead.
    /// </summary>
    private (Instant At, string? Instead) ActBy(NightLook look, Instant? limitReached)
    {
        var hardLimit = limitReached ?? look.Night.Start + Duration.FromHours(3);
        var slots = Presence.Slots(plan, weather.Calendar, look.Date, 1);
        var (today, dusk) = (slots.Where(slot => slot.Until > asOf).ToList(), look.Night.Start);
        var evening = today.Where(slot => slot.From < dusk).Select(slot => Instant.Min(slot.Until, dusk)).ToList();
        // A morning slot is no time to lay a cover that must not be on all day; afternoon and evening ones are.
        var noon = weather.Calendar.At(look.Date, new LocalTime(14, 0));
        if (evening.Where(at => at > noon && at > asOf).ToList() is { Count: > 0 } before)
            return (before.Max(), null);
        var late = today.Where(slot => slot.From < hardLimit).Select(slot => Instant.Min(slot.Until, hardLimit)).Where(at => at > noon).ToList();
        if (late.Count > 0)
            return (late.Max(), null);
        if (today.Where(slot => slot.From < hardLimit).ToList() is { Count: > 0 } morning)
            return (morning[^1].Until, Speech.Say("You are not there in the evening: lay it in your last free hour, open at the sides if the day is warm."));
        return (Instant.Min(dusk, hardLimit) > asOf ? Instant.Min(dusk, hardLimit) : hardLimit,
            Speech.Say("None of your hours is left before it: ask somebody near, or water the soil and bring in what can be lifted."));
    }

    private Instant? WarmAt(BedHours bed, Instant from, Instant until)
    {
        for (var hour = from; hour <= until; hour += Duration.FromHours(1))
            if (weather.IsSunUp(hour) && bed.At(BedMeasure.Air, hour) is { } air && air >= UncoverAirC)
                return Whole(hour);
        return null;
    }

    private (Instant At, string Sentence)? UndoAt(Instant warm, BedHours bed)
    {
        var speech = weather.Speech;
        var date = weather.Calendar.DateOf(warm);
        string day = speech.DayFrom(_today, date);
        var slots = Presence.Slots(plan, weather.Calendar, date, 1);
        double? high = bed.Highest(BedMeasure.Air, weather.Calendar.DayOf(date));
        var first = slots.Where(slot => slot.Until > warm).Select(slot => Instant.Max(slot.From, warm)).Cast<Instant?>().FirstOrDefault();
        if (first is { } there && there - warm <= Duration.FromHours(3))
            return (there, speech.Say($"Off again {day} after {speech.Hour(there)}."));
        if (high is > TooWarmToStayOnC)
        {
            var early = slots.Where(slot => slot.From < warm && slot.Until > warm - Duration.FromHours(4)).Select(slot => slot.Until).Cast<Instant?>().FirstOrDefault();
            return early is { } leave
                ? (leave, speech.Say($"{day[..1].ToUpperInvariant() + day[1..]} turns warm ({speech.Temperature(high.Value)}): open the sides before you leave at {speech.Hour(leave)}."))
                : (warm, speech.Say($"Off again {day} after {speech.Hour(warm)}; it turns warm under there ({speech.Temperature(high.Value)} outside)."));
        }
        return first is { } evening
            ? (evening, speech.Say($"Off {day} after {speech.Hour(warm)}; on a cool day, when you are back at {speech.Hour(evening)}."))
            : (warm, speech.Say($"Off again {day} after {speech.Hour(warm)}."));
    }

    private string StaleSentence(bool unknown) => news.State == WeatherState.Missing
        ? Speech.Say("There is no forecast to go by: cover if the evening is clear and still.")
        : unknown ? Speech.Say($"The forecast is {Speech.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old.")
        : Speech.Say($"The forecast is {Speech.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old, so {Speech.Difference(StaleMargin.Value)} of doubt is taken off its low.");

    private static Instant Whole(Instant instant) =>
        Instant.FromUnixTimeSeconds((long)Math.Ceiling(instant.ToUnixTimeSeconds() / 1800.0) * 1800);

    private static ImmutableDictionary<string, double> Values(params ReadOnlySpan<(string Name, double Value)> values)
    {
        var all = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var (name, value) in values)
            if (!double.IsNaN(value))
                all[name] = value;
        return all.ToImmutable();
    }

    private readonly record struct NightLook(
        LocalDate Date, Interval Night, double LimitC, (double Celsius, Instant At)? Leaf, bool Unknown, bool Kept, double? Share, bool Threatens);
}
