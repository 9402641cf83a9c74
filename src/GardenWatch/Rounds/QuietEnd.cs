using GardenWatch.Planning.Plans;
using NodaTime;
using NodaTime.TimeZones;

namespace GardenWatch.Rounds;

/// <summary>When a push may sound again.</summary>
public static class QuietEnd
{
    private static readonly ZoneLocalMappingResolver FirstOrGapsEnd =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnStartOfIntervalAfter);

    /// <summary>The instant itself outside of the quiet hours, else their end.</summary>
    public static Instant After(QuietHours quiet, DateTimeZone zone, Instant instant)
    {
        var local = instant.InZone(zone);
        bool overMidnight = quiet.To < quiet.From;
        bool isQuiet = overMidnight
            ? local.TimeOfDay >= quiet.From || local.TimeOfDay < quiet.To
            : local.TimeOfDay >= quiet.From && local.TimeOfDay < quiet.To;
        if (!isQuiet)
            return instant;
        var date = overMidnight && local.TimeOfDay >= quiet.From ? local.Date.PlusDays(1) : local.Date;
        // Where clocks go back over the end, the first of the two may be past already.
        return Instant.Max(instant, zone.ResolveLocal(date + quiet.To, FirstOrGapsEnd).ToInstant());
    }
}
