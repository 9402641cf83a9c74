using NodaTime;

namespace GardenWatch.Demo;

/// <summary>What passes over the invented place in a stretch of time: fronts with their rain, and the showers of warm afternoons.</summary>
public sealed class Passing
{
    /// <summary>One front at most in each; jittered, so that they do not come like a train.</summary>
    private const double SlotHours = 88;
    private const double ShareWithFront = 0.85;
    private const double ShareOfFrontsWithRain = 0.85;

    private Passing(IReadOnlyList<Front> fronts, IReadOnlyList<RainSpell> rain)
    {
        Fronts = fronts;
        Rain = rain;
    }

    public IReadOnlyList<Front> Fronts { get; }

    public IReadOnlyList<RainSpell> Rain { get; }

    public static Passing Between(Scatter seed, double fromHour, double untilHour, double solarNoonUtcHour)
    {
        Scatter frontChance = seed.Stream(1), showerChance = seed.Stream(2);
        var fronts = new List<Front>();
        for (long slot = (long)Math.Floor(fromHour / SlotHours) - 2; slot * SlotHours < untilHour + 2 * SlotHours; slot++)
            if (FrontOf(frontChance.Stream(slot), slot) is { } front)
                fronts.Add(front);

        var rain = fronts.Where(front => front.Rain is not null).Select(front => front.Rain!.Value).ToList();
        for (long day = (long)Math.Floor(fromHour / 24) - 1; day * 24 < untilHour + 24; day++)
            if (ShowerOf(showerChance.Stream(day), day, solarNoonUtcHour) is { } shower)
                rain.Add(shower);
        return new(fronts, rain);
    }

    private static Front? FrontOf(Scatter chance, long slot)
    {
        if (chance.Share(0) > ShareWithFront)
            return null;
        double hour = (slot + 0.1 + 0.8 * chance.Share(1)) * SlotHours;
        double strength = 0.5 + chance.Share(2);
        if (chance.Share(3) > ShareOfFrontsWithRain)
            return new(hour, strength, null);
        double hours = 5 + 10 * chance.Share(4);
        double total = (1.5 + 16 * Math.Pow(chance.Share(5), 1.6)) * (0.6 + 0.4 * strength);
        return new(hour, strength, new(hour - 0.8 * hours, hours, total, RainKind.Soft));
    }

    private static RainSpell? ShowerOf(Scatter chance, long day, double solarNoonUtcHour)
    {
        double warmth = Season.SummerShare(Instant.FromUnixTimeSeconds(day * 86400));
        if (chance.Share(0) > 0.03 + 0.22 * warmth)
            return null;
        double start = day * 24 + solarNoonUtcHour + 0.5 + 6.5 * chance.Share(1);
        // The heaviest tenth, in the warm months alone: up to about an inch in two or three hours.
        if (chance.Share(2) > 0.9 && warmth > 0.5)
            return new(start, 2 + chance.Share(3), 14 + 11 * chance.Share(4), RainKind.Downpour);
        return new(start, 1 + 2 * chance.Share(3), 1 + 8 * Math.Pow(chance.Share(4), 2), RainKind.Shower);
    }
}
