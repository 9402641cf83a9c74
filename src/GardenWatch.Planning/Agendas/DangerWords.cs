using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Turns a danger that was seen into the job as the gardener reads it: why, by when, when to undo it, and what not to do.</summary>
internal sealed class DangerWords(Plan plan, GardenWeather weather, WeatherNews news, Instant asOf)
{
    public const string Lightning = "Thunder heard: go in at once, and wait 30 minutes after the last of it.";

    private static readonly Duration Soonest = Duration.FromHours(1);
    private static readonly Duration Quarter = Duration.FromMinutes(15);

    private readonly LocalDate _today = weather.Calendar.DateOf(asOf);

    private Speech Speech => weather.Speech;

    public Job Described(DangerWanted danger, DangerSight sight, DangerFacts facts, bool near, bool kept, bool cautious)
    {
        var wanted = danger.What;
        var (actBy, slots, instead) = ActBy(danger, sight, facts);
        var reasons = ImmutableArray.CreateBuilder<Reason>();
        if (news.State != WeatherState.Fresh)
            reasons.Add(Said(Reason.StaleWeather, news.State == WeatherState.Missing
                ? Speech.Say("There is no forecast to go by.")
                : Speech.Say($"The forecast is {Speech.Counted(Math.Round(news.Age!.Value.TotalHours), "hour")} old, so the advice is careful.")));
        reasons.Add(cautious ? Said("unknown-danger", Unknown(danger.Danger)) : Why(danger, sight, facts));
        if (kept)
            reasons.Add(Said("kept", Speech.Say("It was said earlier today, and the forecast has since moved by less than forecasts waver.")));
        if (instead is not null)
            reasons.Add(Said("no-slot", instead));
        var undo = Undo(danger, sight);
        if (undo is { } back)
            reasons.Add(Said("undo", back.Sentence));
        return Bare(danger, near ? Standing.Now : Standing.Soon) with
        {
            Minutes = wanted.Minutes,
            Windows = slots,
            Best = slots.IsEmpty ? null : slots[^1],
            ActBy = actBy,
            UndoAt = undo?.At,
            Chance = sight.Share is { } share ? new(share, ChanceSource.Members) : null,
            Reasons = reasons.ToImmutable(),
            Needs = NeedsOf(danger, facts, reasons[0].Text),
            Cautions = Cautions(danger, facts),
            How = wanted.How,
            Otherwise = wanted.Otherwise,
            Threat = new(danger.Danger, sight.Hours.Start, sight.Hours.End),
            DecidingValue = facts.Value,
        };
    }

    /// <summary>The number that decided, as the agenda's JSON has it; none where the gardener's own phrases have other numbers.</summary>
    private static ImmutableArray<Need> NeedsOf(DangerWanted danger, DangerFacts facts, string sentence)
    {
        (string Name, string Phrase, string Unit)? known = danger.Danger switch
        {
            Danger.Wind => ("gust", "gust high next 1 hour", "m/s"),
            Danger.Heat => ("heat", "air high today", "°C"),
            _ => null,
        };
        return known is var (name, phrase, unit) && danger.What.Numbers.TryGetValue(name, out var limit)
            ? [new(string.Create(CultureInfo.InvariantCulture, $"{phrase} at least {limit.Value:0.#} {unit}"),
                facts.Value is { } value ? value >= limit.Value : null, facts.Value, unit, facts.Value - limit.Value, null, sentence)]
            : [];
    }

    public Job CalledOff(DangerWanted danger, DangerFacts facts)
    {
        string text = danger.Danger == Danger.Hail ? Speech.Say("No hail, and no storm of the kind that brings it, is in the forecast any more.")
            : facts.Value is { } gust ? Speech.Say($"The wind stays lighter, gusts to {Speech.Speed(gust)} at most.")
            : Speech.Say("The forecast tells of no gale any more.");
        return Bare(danger, Standing.Dropped) with
        {
            Reasons = [Said("called-off", text)],
            DecidingValue = facts.Value,
            Threat = new(danger.Danger, asOf, asOf),
        };
    }

    private static Job Bare(DangerWanted danger, Standing standing) => new()
    {
        Id = danger.What.Id.ToString(),
        SubjectId = danger.What.Id.SubjectId,
        Kind = danger.What.Id.Kind,
        Name = danger.What.Name,
        Crop = danger.What.Sowing?.Planting.Crop.Name,
        BedId = danger.What.Bed?.Id,
        BedName = danger.What.Bed?.Name,
        SowingId = danger.What.Sowing?.Id,
        Standing = standing,
        Protects = true,
    };

    private Reason Why(DangerWanted danger, DangerSight sight, DangerFacts facts)
    {
        string when = When(sight.Hours);
        switch (danger.Danger)
        {
            case Danger.Wind:
            {
                double limit = danger.What.Numbers.TryGetValue("gust", out var gust) ? gust.Value : double.NaN;
                string from = double.IsNaN(limit) ? danger.Stake : Speech.Say($"from {Speech.Speed(limit)} on {danger.Stake}");
                return new("wind", Values(("gust", facts.Value), ("limit", limit)), Speech.Say($"Gusts to {Speech.Speed(facts.Value ?? limit)} {when}: {from}."));
            }
            case Danger.Heat:
            {
                string day = Speech.DayFrom(_today, weather.Calendar.DateOf(sight.Hours.Start));
                string high = facts.Value is { } value ? Speech.Temperature(value) : Speech.Say("Heat");
                string sun = danger.What.Id.Kind == JobKind.Vent ? Speech.Say(" and sun") : "";
                return new("heat", Values(("highC", facts.Value)), Speech.Say($"{high}{sun} {day}: {danger.Stake}."));
            }
            default:
            {
                var values = Values(("class", facts.Value), ("gust", facts.Gust), ("rainMm", facts.RainPeakMm));
                return facts.Value switch
                {
                    HailClass.Heavy => new("hail", values, Speech.Say($"Heavy hail {when}: {danger.Stake}.")),
                    HailClass.Told => new("hail", values, Speech.Say($"Hail {when}: {danger.Stake}.")),
                    _ => new("storm", values, Speech.Say($"A thunderstorm {when}{Force(facts)}: hail may fall from it, and {danger.Stake}.")),
                };
            }
        }
    }

    private string Force(DangerFacts facts) => (facts.Gust, facts.RainPeakMm) switch
    {
        ({ } gust, { } rain and >= 1) => Speech.Say($", gusts to {Speech.Speed(gust)} and {Speech.Water(rain)} of rain in an hour"),
        ({ } gust, _) => Speech.Say($", gusts to {Speech.Speed(gust)}"),
        _ => "",
    };

    private string Unknown(Danger danger) => danger switch
    {
        Danger.Wind => Speech.Say("The wind can’t be judged: the forecast has gaps. Do it if the sky looks wild."),
        Danger.Heat => Speech.Say("The day’s heat can’t be judged: the forecast has gaps. Do it if the morning is clear and warm."),
        _ => Speech.Say("Hail can’t be judged: the forecast has gaps. Do it if clouds tower up."),
    };

    /// <summary>"today from 14:00 to 17:00", "tomorrow about 03:00", "today from 22:00 to tomorrow, 05:00".</summary>
    private string When(Interval hours)
    {
        var (from, until) = (weather.Calendar.DateOf(hours.Start), weather.Calendar.DateOf(hours.End - Duration.Epsilon));
        string day = Speech.DayFrom(_today, from);
        if (hours.Start <= asOf)
            return until == _today ? Speech.Say($"until {Speech.Hour(hours.End)}") : Speech.Say($"until {Speech.DayFrom(_today, until)}, {Speech.Hour(hours.End)}");
        if (hours.Duration <= Duration.FromHours(1))
            return Speech.Say($"{day} about {Speech.Hour(hours.Start)}");
        return from == until
            ? Speech.Say($"{day} from {Speech.Hours(hours.Start, hours.End)}")
            : Speech.Say($"{day} from {Speech.Hour(hours.Start)} to {Speech.DayFrom(_today, until)}, {Speech.Hour(hours.End)}");
    }

    /// <summary>
    /// The end of the gardener's last hours before the danger, and before any thunder. With none left, the danger's own hour and
    /// what to do instead; once it has begun, soon.
    /// </summary>
    private (Instant At, ImmutableArray<Window> Slots, string? Instead) ActBy(DangerWanted danger, DangerSight sight, DangerFacts facts)
    {
        var begins = facts.Thunder is { } thunder && danger.Danger != Danger.Heat ? Instant.Min(thunder, sight.Hours.Start) : sight.Hours.Start;
        var date = weather.Calendar.DateOf(begins);
        int days = Math.Max(1, Period.DaysBetween(_today, date) + 1);
        var slots = WorkInLight.Of(Presence.Slots(plan, weather.Calendar, _today, days), danger.What.Id.Kind, danger.What.Bed, weather.Calendar);
        var before = slots
            // Shade and open lids are the danger's own day's work, or the night is spent under them.
            .Where(slot => danger.Danger != Danger.Heat || weather.Calendar.DateOf(slot.From) == date)
            .Select(slot => new Window(Instant.Max(slot.From, asOf), Instant.Min(slot.Until, begins)))
            .Where(slot => slot.Until - slot.From >= Quarter)
            .ToImmutableArray();
        if (before is [.., var last])
        {
            var by = QuarterHour.Before(last.Until);
            // Those of the last day alone: nobody ties a stem three days before.
            var ofTheDay = before.Where(slot => weather.Calendar.DateOf(slot.From) == weather.Calendar.DateOf(last.From)).ToImmutableArray();
            return (by > last.From ? by : last.Until, ofTheDay, null);
        }
        if (begins > asOf + Soonest)
            return (QuarterHour.Before(begins), [], Speech.Say("None of your hours is left before it: ask somebody near, or do it on your way past."));
        string? unsafeNow = danger.Danger == Danger.Heat ? null : Speech.Say("It begins before you have an hour for it: only if it is still quiet out there.");
        return (Instant.Max(QuarterHour.Before(asOf + Soonest), asOf), [], unsafeNow);
    }

    private (Instant At, string Sentence)? Undo(DangerWanted danger, DangerSight sight)
    {
        var ends = sight.Hours.End;
        var there = Presence.Slots(plan, weather.Calendar, weather.Calendar.DateOf(ends), 2)
            .Where(slot => slot.Until - ends >= Quarter)
            .Select(slot => (Instant?)Instant.Max(slot.From, QuarterHour.After(ends)))
            .FirstOrDefault() ?? QuarterHour.After(ends);
        string when = Speech.Say($"{Speech.DayFrom(_today, weather.Calendar.DateOf(there))} after {Speech.Hour(there)}");
        return danger.What.Id.Kind switch
        {
            JobKind.Protect => (there, Speech.Say($"Opened or put back {when}, once gusts are under {Speech.Speed(CalmAgain)}.")),
            JobKind.Shelter => (there, Speech.Say($"Off again as soon as it has passed, {when}: it gets hot under there.")),
            JobKind.Vent => (ends, Speech.Say($"Shut again {Speech.DayFrom(_today, weather.Calendar.DateOf(ends))} about {Speech.Hour(ends)} if the night is cold; so on each sunny day until it cools.")),
            JobKind.Shade => (there, Speech.Say($"It may stay up while the days are hot; off {when} at the soonest.")),
            _ => null,
        };
    }

    // Below it lids and sheets are handled safely. Common practice: no ladders and no large covers above 10 m/s.
    private const double CalmAgain = 10;

    private ImmutableArray<string> Cautions(DangerWanted danger, DangerFacts facts)
    {
        var cautions = danger.What.Cautions;
        if (danger.Danger != Danger.Heat && facts.Thunder is not null && !cautions.Contains(Speech.Say(Lightning)))
            cautions = cautions.Add(Speech.Say(Lightning));
        if (danger.Danger == Danger.Heat && GreatHeat.Caution(facts.HeatIndex, Speech) is { } heat)
            cautions = cautions.Add(heat);
        return cautions;
    }

    private static Reason Said(string code, string text) => new(code, ImmutableDictionary<string, double>.Empty, text);

    private static ImmutableDictionary<string, double> Values(params ReadOnlySpan<(string Name, double? Value)> values)
    {
        var all = ImmutableDictionary.CreateBuilder<string, double>();
        foreach (var (name, value) in values)
            if (value is { } known && !double.IsNaN(known))
                all[name] = known;
        return all.ToImmutable();
    }
}
