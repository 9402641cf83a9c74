using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Trial.Score;

public enum SpreadVerdict { Right, TooDry, TooWet, WashedAway, Unknown }

/// <summary>Granules spread at an instant and the rain of the 24 hours that followed.</summary>
internal readonly record struct Spreading(Instant At, double RainMm, double PeakMmPerHour, SpreadVerdict Verdict);

/// <summary>What the rain should be: enough to wash granules in, not so much nor so hard that they go with it.</summary>
internal readonly record struct RainWanted(double EnoughMm, double TooMuchMm, double WashoutMmPerHour);

/// <summary>Every spreading and what became of it.</summary>
internal sealed record SpreadScore(ImmutableArray<Spreading> Spreadings)
{
    private const int HoursAfter = 24;

    public static SpreadScore Of(IEnumerable<Instant> spread, WeatherSeries weather, RainWanted wanted) =>
        new([.. spread.Order().Select(at => After(at, weather, wanted))]);

    public int Count(SpreadVerdict verdict) => Spreadings.Count(spreading => spreading.Verdict == verdict);

    public override string ToString() =>
        $"{Spreadings.Length} spreadings: {Count(SpreadVerdict.Right)} right, {Count(SpreadVerdict.TooDry)} too dry, " +
        $"{Count(SpreadVerdict.TooWet)} too wet, {Count(SpreadVerdict.WashedAway)} washed away, {Count(SpreadVerdict.Unknown)} unknown";

    private static Spreading After(Instant at, WeatherSeries weather, RainWanted wanted)
    {
        // Rain is of the hour that ends at its stamp: the first is the one after the deed.
        int first = weather.LastAtOrBefore(at) + 1;
        if (first < 0 || first + HoursAfter > weather.Hours)
            return new(at, double.NaN, double.NaN, SpreadVerdict.Unknown);
        double total = 0, peak = 0;
        foreach (double mm in weather[WeatherVariable.Rain].Slice(first, HoursAfter))
        {
            total += mm;
            peak = Math.Max(peak, mm);
        }
        return new(at, total, peak, VerdictOf(total, peak, wanted));
    }

    private static SpreadVerdict VerdictOf(double total, double peak, RainWanted wanted) =>
        double.IsNaN(total) ? SpreadVerdict.Unknown
        : peak > wanted.WashoutMmPerHour ? SpreadVerdict.WashedAway
        : total > wanted.TooMuchMm ? SpreadVerdict.TooWet
        : total < wanted.EnoughMm ? SpreadVerdict.TooDry
        : SpreadVerdict.Right;
}
