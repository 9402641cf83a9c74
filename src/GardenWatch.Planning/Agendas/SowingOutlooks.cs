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
    private const double KnownShare = 0.95;
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
        string name = planting.Crop.Name + (planting.Sowings is null ? "" : $", batch {sowing.Batch}");
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
            Sentence = OutlookWords.Sentence(sowing, gathered, needed, season.Today, season.Weather.Speech),
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
            return Ended(sowing);
        var parts = new List<string> { Beginning(sowing) };
        if (sowing is { TooHotToComeUp: var (high, limit), Stage: Stage.Sown })
            parts.Add($"too hot to come up now (soil {speech.Of(high, limit, Dimension.Temperature)} at most): shade it and water at noon, the seed is not lost; look when it cools");
        else if (sowing.UpLikely is { } up && sowing.Stage == Stage.Sown)
            parts.Add($"up {Speech.Dates(up.Start, up.End)}");
        else if (sowing is { Stage: Stage.Up, By: Evidence.Expected })
            parts.Add("up by now, if all went well");
        if (sowing.Stage == Stage.Hardening)
            parts.Add($"outdoors by day since {Speech.Date(sowing.HardeningSince!.Value)}");
        if (sowing.SetOutLikely is { } setOut && sowing.IsSetOut && sowing.SetOutOn is null)
            parts.Add($"its bed is likely fit {Speech.Dates(setOut.Start, setOut.End)}");
        if (gathered is { } g && needed is { } n)
            parts.Add(speech.Of(g, n, Dimension.Warmth));
        if (sowing.BearingSince is { } picked)
            parts.Add($"picked since {Speech.Date(picked)}");
        else if (sowing.BearingLikely?.End < today)
            parts.Add("ripe by now if all went well");
        else if (FirstPicking(sowing) is { } picking)
            parts.Add(picking);
        if (sowing is { IsLast: true, Because: { } because })
            parts.Add($"the last one here: {because}");
        return string.Join("; ", parts) + ".";
    }

    /// <summary>By warmth or by the packet; by both where they disagree.</summary>
    public static string? FirstPicking(Sowing sowing)
    {
        string? packet = sowing.BearingByPacket is { } p ? $"{Speech.Dates(p.Start, p.End)} by the packet" : null;
        string? warmth = sowing.BearingByWarmth is { } w ? $"{Speech.Dates(w.Start, w.End)} by warmth" : null;
        if (warmth is null)
            return packet is null ? null : $"first picking {packet}";
        return sowing.EstimatesDisagree
            ? $"first picking {warmth}, {packet}"
            : $"first picking {warmth}";
    }

    private static string Beginning(Sowing sowing) =>
        sowing.Stage == Stage.Planned
            ? sowing.SowLikely is { } likely
                ? $"to be {(sowing.IsSetOut && sowing.Planting.StartBedId is null ? "set out" : sowing.IsSetOut ? "started" : "sown")} {Speech.Dates(likely.Start, likely.End)}"
                : "planned"
        : sowing.SetOutOn is { } out_ ? $"set out {Told(sowing)}{Speech.Date(out_)}"
        : sowing.SownOn is { } sown ? $"sown {Told(sowing)}{Speech.Date(sown)}"
        : sowing.Begun is { } begun ? $"growing, taken as begun {Speech.Dates(begun.Start, begun.End)}"
        : "growing since before the record began";

    private static string Told(Sowing sowing) => sowing.Begun is { Length: > 1 } ? "about " : "";

    private static string Ended(Sowing sowing) => sowing.Stage switch
    {
        Stage.Dropped => $"left out: {sowing.Because}.",
        Stage.Missed => $"not sown this season: {sowing.Because}.",
        Stage.KeptForSeed => "seed was saved.",
        _ when sowing.By == Evidence.Expected => $"taken as over: {sowing.Because}.",
        _ => $"over since {Speech.Date(sowing.EndedOn!.Value)}.",
    };
}
