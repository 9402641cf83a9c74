using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Play;
using NodaTime;

namespace GardenWatch.Trial.Score;

/// <summary>What was spread, sown and set out on advice, and what it met, as tables.</summary>
internal static class DeedFigures
{
    private const int SoilDays = 3;
    private const int Nights = 7;

    /// <summary>What the plan asks for.</summary>
    public static RainWanted OnRain { get; } = new(EnoughMm: 6, TooMuchMm: 15, WashoutMmPerHour: 8);

    /// <summary>What is watered in by hand wants no rain, but may be washed away all the same.</summary>
    private static readonly RainWanted ByHand = OnRain with { EnoughMm = 0 };

    public static SpreadScore Spreadings(AdvisedSeason season, ObservedWeather observed, DeedKind kind) =>
        SpreadScore.Of(season.Deeds.Where(deed => deed.Kind == kind).Select(deed => deed.At), observed.Weather, kind == DeedKind.Spread ? OnRain : ByHand);

    public static string SpreadTable(IReadOnlyCollection<AdvisedSeason> seasons, ObservedWeather observed)
    {
        var text = new StringBuilder(
            "| spread | times | right | too little | too much | washed away | not known | rain of 24 h: tenth, middle, nine tenths | hardest hour, middle and most |\n|---|---|---|---|---|---|---|---|---|\n");
        Row("for the rain to come", DeedKind.Spread);
        Row("and watered in by hand", DeedKind.SpreadAndWater);
        return text.ToString();

        void Row(string name, DeedKind kind)
        {
            var all = new SpreadScore([.. seasons.SelectMany(season => Spreadings(season, observed, kind).Spreadings)]);
            double[] mm = [.. all.Spreadings.Select(spread => spread.RainMm).Where(rain => !double.IsNaN(rain)).Order()];
            double[] peak = [.. all.Spreadings.Select(spread => spread.PeakMmPerHour).Where(rain => !double.IsNaN(rain)).Order()];
            text.AppendLine(CultureInfo.InvariantCulture,
                $"| {name} | {all.Spreadings.Length} | {all.Count(SpreadVerdict.Right)} | {all.Count(SpreadVerdict.TooDry)} | {all.Count(SpreadVerdict.TooWet)} | {all.Count(SpreadVerdict.WashedAway)} | {all.Count(SpreadVerdict.Unknown)} | {Share(mm, 0.1):0.0}, {Share(mm, 0.5):0.0}, {Share(mm, 0.9):0.0} mm | {Share(peak, 0.5):0.0}, {Share(peak, 1):0.0} mm/h |");
        }
    }

    /// <summary>De Bilt measured no soil, so this is our own model over the air, sun and rain that came: advice and verdict share its faults.</summary>
    public static ImmutableArray<SoilMet> SoilsMet(IEnumerable<Deed> deeds, ObservedWeather observed)
    {
        var soil = new Dictionary<double, double[]>();
        return SoilMet.Of(deeds, SoilAt, SoilDays);

        double SoilAt(Deed deed, Instant at)
        {
            if (deed.SoilDepthMetres is not { } depth)
                return double.NaN;
            if (!soil.TryGetValue(depth, out double[]? hours))
                soil[depth] = hours = SoilTemperature.Hourly(observed.Weather, DeBilt.Place, depth, SoilSurface.TendedGround);
            int hour = observed.Weather.LastAtOrBefore(at);
            return hour >= 0 && hour < hours.Length ? hours[hour] : double.NaN;
        }
    }

    public static string MetTable(IReadOnlyCollection<AdvisedSeason> seasons, ObservedWeather observed)
    {
        var deeds = seasons.SelectMany(season => season.Deeds).ToList();
        var soils = SoilsMet(deeds, observed).ToLookup(met => (met.Deed.Kind, met.Deed.Subject));
        var nights = NightsMet.Of(deeds, observed, Nights).ToLookup(met => (met.Deed.Kind, met.Deed.Subject));
        var text = new StringBuilder(
            "| job | times | dates: tenth, middle, nine tenths | soil wanted | soil met, mean of 3 days: least, middle | colder than wanted | by over 1 K | nights wanted | coldest air of 7 nights: least, middle | colder than wanted | by over 2 K | ground frost in 7 nights |\n|---|---|---|---|---|---|---|---|---|---|---|---|\n");
        foreach (var group in soils.OrderBy(group => group.Key.Kind).ThenBy(group => group.Min(met => observed.Calendar.DateOf(met.Deed.At).DayOfYear)))
        {
            double[] met = [.. group.Select(one => one.MeanC).Where(mean => !double.IsNaN(mean)).Order()];
            var after = nights[group.Key].ToList();
            double[] lows = [.. after.Select(one => one.AirLowC).Where(low => !double.IsNaN(low)).Order()];
            double[] days = [.. group.Select(one => (double)observed.Calendar.DateOf(one.Deed.At).DayOfYear).Order()];
            var asked = group.First().Deed;
            text.AppendLine(CultureInfo.InvariantCulture,
                $"| {(group.Key.Kind == DeedKind.Sow ? "sow" : "set out")} {group.Key.Subject} | {group.Count()} | {DayOf(Share(days, 0.1))}, {DayOf(Share(days, 0.5))}, {DayOf(Share(days, 0.9))} | {Wanted(asked.SoilNeededC, asked.SoilDepthMetres)} | {Share(met, 0):0.0}, {Share(met, 0.5):0.0} | {group.Count(one => one.WarmEnough == false)} | {group.Count(one => one.MeanC < one.Deed.SoilNeededC - 1)} | {Wanted(asked.NightsNeededC, null)} | {Share(lows, 0):0.0}, {Share(lows, 0.5):0.0} | {(asked.NightsNeededC is null ? "" : after.Count(one => one.WarmEnough == false))} | {(asked.NightsNeededC is null ? "" : after.Count(one => one.AirLowC < one.Deed.NightsNeededC - 2))} | {after.Count(one => one.GroundLowC < 0)} |");
        }
        return text.ToString();
    }

    private static string DayOf(double dayOfYear) =>
        double.IsNaN(dayOfYear) ? "" : new LocalDate(2001, 1, 1).PlusDays((int)dayOfYear - 1).ToString("d MMM", CultureInfo.InvariantCulture);

    private static string Wanted(double? celsius, double? depthMetres) => celsius is not { } wanted ? ""
        : string.Create(CultureInfo.InvariantCulture, $"{wanted} °C{(depthMetres is { } depth ? $" at {depth * 100:0} cm" : "")}");

    private static double Share(double[] sorted, double share) =>
        sorted.Length == 0 ? double.NaN : sorted[(int)Math.Round(share * (sorted.Length - 1))];
}
