using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What the weather can take from a garden.</summary>
public enum Danger { Frost, Wind, Hail, Heat }

/// <summary>One danger and the hours in which it is expected.</summary>
public sealed record Threat(Danger Danger, Instant From, Instant Until);

/// <summary>How bad a hail is by the forecast's weather code; the deciding value of a job against it.</summary>
/// <remarks>WMO Manual on Codes, code table 4677: 96 with slight or moderate hail, 99 with heavy hail.</remarks>
public static class HailClass
{
    /// <summary>No hail is told, but a thunderstorm of the kind that brings it.</summary>
    public const double Possible = 0;
    public const double Told = 1;
    public const double Heavy = 2;
}
