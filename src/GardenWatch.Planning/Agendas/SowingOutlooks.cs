using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Sowings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>How the sowings stand, as far as the record, the packet and the warmth tell.</summary>
internal static class SowingOutlooks
{
    // A lost hour here and there hardly moves a season's sum; more than a twentieth does.
    internal const double KnownShare = 0.95;
    // What is over is told for so long, then it is the journal's.
    private const int ToldAfterEndDays = 7;

    /// <summary>What was begun, and what has lately come to an end.</summary>
    public static ImmutableArray<SowingOutlook> Of(Season season) =>
        [.. season.Sowings.Where(sowing => sowing.Stage.IsAlive() || IsLatelyOver(sowing, season.Today)).Select(sowing => OutlookOf(season, sowing))];

    /// <summary>Batches to come, with when they will likely be sown and picked.</summary>
    public static ImmutableArray<SowingOutlook> Ahead(Season season) =>
        [.. season.Sowings.Where(sowing => sowing.Stage == Stage.Planned).Select(sowing => OutlookOf(season, sowing))];

    private static bool IsLatelyOver(Sowing sowing, LocalDate today) =>
        sowing.Stage.IsOver() && sowing.Stage != Stage.Skipped && sowing.EndedOn is { } ended && ended <= today && ended >= today.PlusDays(-ToldAfterEndDays);

    private static SowingOutlook OutlookOf(Season season, Sowing sowing)
    {
        var planting = sowing.Planting;
        var bed = season.Plan.BedOf(planting.BedId);
        var speech = season.Weather.Speech;
        string crop = speech.Word(planting.Crop.Name);
        string name = planting.Sowings is null ? crop : speech.Say($"{crop}, batch {sowing.Batch}");
        double? gathered = sowing.Stage.IsAlive() && planting.Crop.Warmth is { } need && sowing.CountedSince is { } since
            ? Gathered(need, season.Weather, bed, since, season.Today)
            : null;
        double? needed = planting.Crop.Warmth?.HarvestCd?.From;
        string stage = sowing.Stage.Word();
        var harvest = sowing.BearingLikely;
        var (nextStage, next) = OutlookWords.Next(sowing);
        return new SowingOutlook
        {
            Id = sowing.Id,
            Crop = planting.Crop.Name,
            Variety = planting.Variety,
            BedId = bed.Id,
            BedName = bed.Name,
            Name = char.ToUpperInvariant(name[0]) + name[1..],
            Stage = stage,
            By = sowing.By,
            GatheredCd = gathered,
            NeededCd = needed,
            NextStage = nextStage,
            Next = next,
            Harvest = harvest,
            HarvestByPacket = sowing.BearingByPacket,
            SowLikely = sowing.SowLikely,
            Over = sowing.OverLikely,
            IsLast = sowing.IsLast,
            Because = sowing.Because,
            Sentence = OutlookWords.Sentence(sowing, gathered, needed, season.Today, speech),
            Changed = !season.LastSaid.Stages.TryGetValue(sowing.Id, out string? said) || said != stage,
        };
    }

    /// <summary>Degree-days since a date; null when a day since then is not known.</summary>
    private static double? Gathered(WarmthNeed need, GardenWeather weather, Bed bed, LocalDate since, LocalDate today)
    {
        var hours = weather.BedOf(bed).Weather;
        var warmth = hours.Column(new(Measure.Warmth, BaseCelsius: need.Base.Celsius, CeilingCelsius: need.Ceiling?.Celsius));
        int first = hours.Series.FirstAtOrAfter(weather.Calendar.DayOf(since).Start);
        int last = hours.Series.LastAtOrBefore(weather.Calendar.DayOf(today).Start) - 1;
        if (last < first)
            return 0;
        return warmth.Known(first, last) >= KnownShare * (last - first + 1) ? warmth.Total(first, last) : null;
    }
}

/// <summary>One line for a batch: since when, how warm, what comes next and when.</summary>
internal static class OutlookWords
{
    public static (string? Stage, DateInterval? When) Next(Sowing sowing) => sowing.Stage switch
    {
        Stage.Planned => (sowing.IsSetOut && sowing.Planting.StartBedId is null ? "set out" : "sown", sowing.SowLikely),
        Stage.Sown when sowing.TooHotToComeUp is not null => ("up", null),
        Stage.Sown when sowing.UpLikely is { } up => ("up", up),
        Stage.Sown or Stage.Up or Stage.Hardening when sowing.IsSetOut => ("set out", sowing.SetOutLikely),
        Stage.Sown or Stage.Up or Stage.SetOut or Stage.Growing => sowing.BearingLikely is { } bearing ? ("bearing", bearing) : (null, null),
        Stage.Bearing => sowing.OverLikely is { } over ? ("finished", over) : (null, null),
        _ => (null, null),
    };

    public static string Sentence(Sowing sowing, double? gathered, double? needed, LocalDate today, Speech speech)
    {
        if (sowing.Stage is Stage.Missed or Stage.Dropped or Stage.Finished or Stage.KeptForSeed)
            return Ended(sowing, speech);
        var parts = new List<string> { Beginning(sowing, speech) };
        if (sowing is { TooHotToComeUp: var (high, limit), Stage: Stage.Sown })
            parts.Add(speech.Say($"too hot to come up now (soil {speech.Of(high, limit, Dimension.Temperature)} at most): shade it and water at noon, the seed is not lost; look when it cools"));
        else if (sowing.UpLikely is { } up && sowing.Stage == Stage.Sown)
            parts.Add(speech.Say($"up {speech.Dates(up.Start, up.End)}"));
        else if (sowing is { Stage: Stage.Up, By: Evidence.Expected })
            parts.Add(speech.Say("up by now, if all went well"));
        if (sowing.Stage == Stage.Hardening)
            parts.Add(speech.Say($"outdoors by day since {speech.Date(sowing.HardeningSince!.Value)}"));
        if (sowing.SetOutLikely is { } setOut && sowing.IsSetOut && sowing.SetOutOn is null)
            parts.Add(speech.Say($"its bed is likely fit {speech.Dates(setOut.Start, setOut.End)}"));
        if (gathered is { } g && needed is { } n)
            parts.Add(speech.Of(g, n, Dimension.Warmth));
        if (sowing.BearingSince is { } picked)
            parts.Add(speech.Say($"picked since {speech.Date(picked)}"));
        else if (sowing.BearingLikely?.End < today)
            parts.Add(speech.Say("ripe by now if all went well"));
        else if (FirstPicking(sowing, speech) is { } picking)
            parts.Add(picking);
        if (sowing is { IsLast: true, Because: { } because })
            parts.Add(speech.Say($"the last one here: {because}"));
        return string.Join("; ", parts) + ".";
    }

    /// <summary>By warmth, by earlier years or by the packet; by both where they disagree.</summary>
    public static string? FirstPicking(Sowing sowing, Speech speech)
    {
        if (sowing.BearingByRecord is { } years)
            return speech.Say($"first picking {speech.Dates(years.Start, years.End)}, as in earlier years");
        string? packet = sowing.BearingByPacket is { } p ? speech.Say($"{speech.Dates(p.Start, p.End)} by the packet") : null;
        string? warmth = sowing.BearingByWarmth is { } w ? speech.Say($"{speech.Dates(w.Start, w.End)} by warmth") : null;
        if ((warmth ?? packet) is not { } first)
            return null;
        return warmth is not null && packet is not null && sowing.EstimatesDisagree
            ? speech.Say($"first picking {warmth}, {packet}")
            : speech.Say($"first picking {first}");
    }

    private static string Beginning(Sowing sowing, Speech speech) => sowing switch
    {
        { Stage: Stage.Planned, SowLikely: { } likely } => ToBeBegun(sowing, speech.Dates(likely.Start, likely.End), speech),
        { Stage: Stage.Planned } => speech.Say("planned"),
        { SetOutOn: { } out_ } => IsRough(sowing) ? speech.Say($"set out about {speech.Date(out_)}") : speech.Say($"set out {speech.Date(out_)}"),
        { SownOn: { } sown } => IsRough(sowing) ? speech.Say($"sown about {speech.Date(sown)}") : speech.Say($"sown {speech.Date(sown)}"),
        { Begun: { } begun } => speech.Say($"growing, taken as begun {speech.Dates(begun.Start, begun.End)}"),
        _ => speech.Say("growing since before the record began"),
    };

    private static string ToBeBegun(Sowing sowing, string dates, Speech speech) =>
        !sowing.IsSetOut ? speech.Say($"to be sown {dates}")
        : sowing.Planting.StartBedId is null ? speech.Say($"to be set out {dates}")
        : speech.Say($"to be started {dates}");

    private static bool IsRough(Sowing sowing) => sowing.Begun is { Length: > 1 };

    private static string Ended(Sowing sowing, Speech speech)
    {
        string because = sowing.Because ?? "";
        return sowing.Stage switch
        {
            Stage.Dropped => speech.Say($"left out: {because}."),
            Stage.Missed => speech.Say($"not sown this season: {because}."),
            Stage.KeptForSeed => speech.Say($"left to ripen its seed since {speech.Date(sowing.EndedOn!.Value)}."),
            _ when sowing.By == Evidence.Expected => speech.Say($"taken as over: {because}."),
            _ => speech.Say($"over since {speech.Date(sowing.EndedOn!.Value)}."),
        };
    }
}
