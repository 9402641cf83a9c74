using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>Hours are told to the quarter: nothing here is known better.</summary>
internal static class QuarterHour
{
    private const long Seconds = 900;

    public static Instant Before(Instant instant) => Instant.FromUnixTimeSeconds(instant.ToUnixTimeSeconds() / Seconds * Seconds);

    public static Instant After(Instant instant) => Instant.FromUnixTimeSeconds((instant.ToUnixTimeSeconds() + Seconds - 1) / Seconds * Seconds);
}
