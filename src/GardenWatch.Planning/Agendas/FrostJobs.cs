using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
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
    // With nothing known of tonight, lows of the last nights above this make a frost on the leaf unlikely: the ground
    // minimum of cold nights lay at most 7.4 K under the screen's at De Bilt, 1980 to 2019.
    private const double MildNightsC = 10;

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);
    private readonly FrostWords _words = new(weather, news, weather.Calendar.DateOf(asOf));
    private readonly CoverTimes _times = new(plan, weather, asOf);

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
        var warm = _times.WarmAt(weather.BedOf(wanted), morning.Start, morning.End);
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
            Reasons = [new("warm-enough", FrostWords.Values(("airC", CoverTimes.UncoverAirC)),
                Speech.Say($"The air is over {Speech.Temperature(CoverTimes.UncoverAirC)} from about {Speech.Hour(from)}; light and air must get in."))],
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
        double cautious = news.State == WeatherState.Fresh ? limit : limit + FrostWords.StaleMargin.Value;
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
        Reasons = [new("called-off", FrostWords.Values(("leafLowC", look.Leaf?.Celsius ?? double.NaN), ("limitC", look.LimitC)),
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
        var actBy = _times.ActBy(look, limitReached);
        actBy = actBy with { At = QuarterHour.Before(actBy.At) };
        var last = weather.Calendar.NightOf(lastNight);
        double? between = _times.HighBetween(bed, look.Date, lastNight);
        // It lies till after the last cold night where the days between are cool.
        var until = between < CoverTimes.CoolDayHighC ? last : look.Night;
        var undo = wanted.Stays ? null : _times.WarmAt(bed, until.Start + Duration.FromHours(4), until.End + Duration.FromHours(8));
        var reasons = ImmutableArray.CreateBuilder<Reason>();
        if (news.State != WeatherState.Fresh)
            reasons.Add(new(Reason.StaleWeather, FrostWords.Values(), _words.StaleSentence(look.Unknown)));
        if (look.Unknown)
            reasons.Add(new("unknown-night", FrostWords.Values(), Speech.Say("Frost can't be judged for this night: the forecast has gaps. Cover if the evening is clear and still.")));
        else
            reasons.Add(_words.FrostReason(wanted, look, bed));
        if (look.Kept)
            reasons.Add(new("kept", FrostWords.Values(), Speech.Say("It was said this morning, and the forecast has since moved by less than forecasts waver.")));
        var covering = _words.Covering(wanted, look);
        if (covering is { } worth)
            reasons.Add(worth.Reason);
        if (lastNight > look.Date)
            reasons.Add(new("more-nights", FrostWords.Values(), (between < CoverTimes.CoolDayHighC && !wanted.Stays, lastNight == look.Date.PlusDays(1)) switch
            {
                (true, true) => Speech.Say($"The night after may need it too; it may stay on between ({Speech.Temperature(between!.Value)} by day)."),
                (true, false) => Speech.Say($"The nights until {Speech.DayFrom(_today, lastNight)} may need it too; it may stay on between ({Speech.Temperature(between!.Value)} by day)."),
                (false, true) => Speech.Say("The night after may need it too."),
                _ => Speech.Say($"The nights until {Speech.DayFrom(_today, lastNight)} may need it too."),
            }));
        if (actBy.Instead is { } instead)
            reasons.Add(new("no-slot", FrostWords.Values(), instead));
        var undoAt = undo is { } warm ? _times.UndoAt(warm, bed) : null;
        if (undoAt is { } off)
            reasons.Add(new("undo", FrostWords.Values(), off.Sentence));

        var slots = Presence.Slots(plan, weather.Calendar, look.Date, 1)
            .Select(slot => new Window(Instant.Max(slot.From, asOf), Instant.Min(slot.Until, actBy.At)))
            .Where(slot => slot.From < slot.Until)
            .ToImmutableArray();
        return new Job
        {
            Id = wanted.Id.ToString(),
            SubjectId = wanted.Id.SubjectId,
            Kind = JobKind.Cover,
            Name = covering is { Doubtful: true } && FrostWords.Bears(wanted) ? Speech.Say($"Pick, then cover the {Speech.Word(wanted.Sowing!.Planting.Crop.Plants)}") : wanted.Name,
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
}
