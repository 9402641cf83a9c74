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

    public static ImmutableArray<SowingOutlook> Of(
        Plan plan, ImmutableArray<Sowing> sowings, GardenWeather weather, LastSaid lastSaid, Instant asOf) =>
        [.. sowings
            .Where(sowing => sowing.Stage is not (Stage.Planned or Stage.Skipped))
            .Select(sowing => OutlookOf(plan, sowing, weather, lastSaid, asOf))];

    /// <summary>First pickings by the packet's days; null when the crop's packet, or the beginning, is not known.</summary>
    public static DateInterval? HarvestOf(Sowing sowing) =>
        sowing.CountedSince is { } since && sowing.Planting.Crop.Days is { } days
            ? new(since.PlusDays(days.From), since.PlusDays(days.To))
            : null;

    private static SowingOutlook OutlookOf(
        Plan plan, Sowing sowing, GardenWeather weather, LastSaid lastSaid, Instant asOf)
    {
        var planting = sowing.Planting;
        var bed = plan.BedOf(planting.BedId);
        var today = weather.Calendar.DateOf(asOf);
        string crop = weather.Speech.Word(planting.Crop.Name);
        string name = planting.Sowings is null ? crop : weather.Speech.Say($"{crop}, batch {sowing.Batch}");
        double? gathered = planting.Crop.Warmth is { } need && sowing.CountedSince is { } since
            ? Gathered(need, weather, bed, since, today)
            : null;
        double? needed = planting.Crop.Warmth?.HarvestCd?.From;
        string stage = StageWord(sowing.Stage);
        var harvest = HarvestOf(sowing);
        return new SowingOutlook
        {
            Id = sowing.Id,
            Crop = planting.Crop.Name,
            Variety = planting.Variety,
            BedId = bed.Id,
            BedName = bed.Name,
            Name = char.ToUpperInvariant(name[0]) + name[1..],
            Stage = stage,
            GatheredCd = gathered,
            NeededCd = needed,
            NextStage = harvest is null ? null : "bearing",
            Next = harvest,
            Harvest = harvest,
            Sentence = Sentence(sowing, gathered, needed, harvest, today, weather.Speech),
            Changed = !lastSaid.Stages.TryGetValue(sowing.Id, out string? said) || said != stage,
        };
    }

    private static string Sentence(
        Sowing sowing, double? gathered, double? needed, DateInterval? harvest, LocalDate today, Speech speech)
    {
        string beginning =
            sowing.SetOutOn is { } out_ ? speech.Say($"set out {speech.Date(out_)}")
            : sowing.SownOn is { } sown ? speech.Say($"sown {speech.Date(sown)}")
            : speech.Say("growing since before the record began");
        string warmth = gathered is { } g && needed is { } n ? $"; {speech.Of(g, n, Dimension.Warmth)}" : "";
        string picking = harvest switch
        {
            null => "",
            { End: var end } when end < today => speech.Say("; ripe by now if all went well"),
            { } range => speech.Say($"; first picking {speech.Dates(range.Start, range.End)} by the packet"),
        };
        return beginning + warmth + picking + ".";
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

    private static string StageWord(Stage stage) => stage switch
    {
        Stage.SetOut => "set out",
        Stage.Up => "up",
        Stage.Sown => "sown",
        _ => "growing",
    };
}

/// <summary>How warm and how wet the ground of each bed is.</summary>
internal static class BedOutlooks
{
    private const double SoilDepthMetres = 0.05;
    private const double TraceMm = 0.2;

    public static ImmutableArray<BedOutlook> Of(Plan plan, GardenWeather weather, Instant asOf) =>
        [.. plan.Beds.Select(bed => OutlookOf(bed, weather, asOf))];

    private static BedOutlook OutlookOf(Bed bed, GardenWeather weather, Instant asOf)
    {
        double? soil = bed.IsIndoors ? null : Mean(weather.BedOf(bed).Weather, asOf);
        double? rain = bed.IsIndoors ? null : weather.RainMm(asOf - Duration.FromDays(7), asOf);
        var speech = weather.Speech;
        string? sentence = (soil, rain) switch
        {
            (null, null) => null,
            ({ } s, null) => speech.Say($"soil {speech.Temperature(s)}."),
            (null, { } r) => speech.Say($"{Fallen(r)} in 7 days."),
            ({ } s, { } r) => speech.Say($"soil {speech.Temperature(s)}. {Fallen(r)} in 7 days."),
        };
        string Fallen(double mm) => mm < TraceMm ? speech.Say("No rain") : speech.Say($"{speech.Water(mm)} of rain");
        return new(bed.Id, bed.Name, soil, soil is null ? null : SoilDepthMetres * 100, rain, null, null, sentence, bed.Size, bed.At);
    }

    private static double? Mean(BedWeather weather, Instant asOf)
    {
        var soil = weather.Column(new(Measure.Soil, SoilDepthMetres));
        int last = weather.Series.LastAtOrBefore(asOf);
        double sum = 0;
        for (int hour = last - 71; hour <= last; hour++)
        {
            if (hour < 0 || hour >= soil.Hours || double.IsNaN(soil[hour]))
                return null;
            sum += soil[hour];
        }
        return sum / 72;
    }
}
