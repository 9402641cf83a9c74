using System.Collections.Immutable;
using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>How warm and how wet the ground of each bed is.</summary>
internal static class BedOutlooks
{
    private const double SoilDepthMetres = 0.05;
    private const int SoilHours = 72;
    private const double TraceMm = 0.2;

    public static ImmutableArray<BedOutlook> Of(Sowings.Season season) =>
        [.. season.Plan.Beds.Select(bed => OutlookOf(bed, season.Weather, season.AsOf, season.Water.Of(bed)))];

    private static BedOutlook OutlookOf(Bed bed, GardenWeather weather, Instant asOf, BedWater water)
    {
        double? soil = bed.IsIndoors ? null : MeanSoil(weather.BedOf(bed).Weather, asOf, SoilHours);
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
        // A room's air is not the garden's.
        bool told = bed.Over != Overhead.Windowsill;
        if (told && WaterOf(water, speech) is { } saying)
            sentence = sentence is null ? saying : $"{sentence} {saying}";
        return new(bed.Id, bed.Name, soil, soil is null ? null : SoilDepthMetres * 100, rain,
            told ? water.DeficitMm : null, told && water is { Advice.Watering: Watering.Now } ? water.Litres : null, sentence, bed.Size, bed.At);
    }

    /// <summary>Nothing of a bed that has enough.</summary>
    private static string? WaterOf(BedWater water, Speech speech) => water switch
    {
        { Advice.Watering: Watering.Now, Litres: { } litres } => speech.Say($"Lacks {speech.Water(water.DeficitMm!.Value)}: give {speech.WaterToGive(litres)}."),
        { Advice.Watering: Watering.Now } => speech.Say($"Lacks {speech.Water(water.DeficitMm!.Value)}: give it that."),
        // What would not go short for days without rain is nothing to tell.
        { Advice: { Watering: Watering.WaitForRain, DaysUntilStress: <= WateringDecision.LeadDays } } => speech.Say($"Lacks {speech.Water(water.DeficitMm!.Value)}; rain that is sure enough comes first."),
        _ => null,
    };

    /// <summary>Mean of the past hours at 5 cm, °C; null with a gap in them.</summary>
    public static double? MeanSoil(BedWeather weather, Instant asOf, int hours)
    {
        var soil = weather.Column(new(Measure.Soil, SoilDepthMetres));
        int last = weather.Series.LastAtOrBefore(asOf);
        double sum = 0;
        for (int hour = last - hours + 1; hour <= last; hour++)
        {
            if (hour < 0 || hour >= soil.Hours || double.IsNaN(soil[hour]))
                return null;
            sum += soil[hour];
        }
        return sum / hours;
    }
}
