using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>How warm and how wet the ground of each bed is.</summary>
internal static class BedOutlooks
{
    private const double SoilDepthMetres = 0.05;
    private const double TraceMm = 0.2;

    public static ImmutableArray<BedOutlook> Of(Sowings.Season season) =>
        [.. season.Plan.Beds.Select(bed => OutlookOf(bed, season.Weather, season.AsOf, BedWater.Of(season, bed)))];

    private static BedOutlook OutlookOf(Bed bed, GardenWeather weather, Instant asOf, BedWater? water)
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
        return new(bed.Id, bed.Name, soil, soil is null ? null : SoilDepthMetres * 100, rain,
            water?.Advice.DeficitMm, water is { Advice.Watering: Agronomy.Water.Watering.Now } ? water.Litres : null, sentence, bed.Size, bed.At);
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
