namespace GardenWatch.Rounds;

/// <summary>What the system says of its own clock.</summary>
internal static class SystemClockState
{
    private const string TimeService = "/run/systemd/timesync";
    private const string Mark = TimeService + "/synchronized";

    /// <summary>
    /// True once systemd's time service has set the clock, false while it has not; null where another time service, or
    /// none, is at work and nothing can be known.
    /// </summary>
    public static bool? Synchronised() =>
        File.Exists(Mark) ? true
        : Directory.Exists(TimeService) ? false
        : null;
}
