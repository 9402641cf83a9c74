using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>The rain of one day as it hangs from a line.</summary>
/// <param name="Likely">More likely than not, in hours that are known: drawn solid.</param>
internal readonly record struct RainHang(Instant From, Instant Until, double Mm, bool Likely)
{
    private const double DryBelowMm = 0.5;
    private const double WorthNamingChance = 0.2;
    private const double LikelyChance = 0.5;

    /// <summary>Null on a dry day, and on one of which the rain is not known.</summary>
    public static RainHang? Of(DayAhead day, DateTimeZone zone)
    {
        if (day.RainMm is not { } mm || mm < DryBelowMm && !(day.RainChance >= WorthNamingChance))
            return null;
        var (start, end) = (zone.AtStartOfDay(day.Date).ToInstant(), zone.AtStartOfDay(day.Date.PlusDays(1)).ToInstant());
        bool hoursKnown = day.RainSpell is { HasStart: true, HasEnd: true } known && known.Start < end && known.End > start;
        // Hours that are not known are the whole day's, in outline.
        var (from, until) = hoursKnown ? (Instant.Max(day.RainSpell!.Value.Start, start), Instant.Min(day.RainSpell.Value.End, end)) : (start, end);
        return new(from, until, mm, hoursKnown && (day.RainChance ?? 1) >= LikelyChance);
    }

    /// <summary>Blocks of three hours or so that share the day's rain, as a forecast of totals gives no more.</summary>
    public int Blocks => Math.Max(1, (int)Math.Round((Until - From).TotalHours / 3, MidpointRounding.AwayFromZero));

    /// <summary>"7 in 10", short enough for a column.</summary>
    public static string Odds(double share, Speech speech) => Words.Joined(speech.Chance(Math.Clamp(share, 0.1, 0.9)));
}
