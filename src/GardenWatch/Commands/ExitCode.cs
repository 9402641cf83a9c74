namespace GardenWatch.Commands;

/// <summary>How a command ended, for scripts and the service manager.</summary>
internal static class ExitCode
{
    public const int Fine = 0;
    /// <summary>Ran, and found problems.</summary>
    public const int Problems = 1;
    /// <summary>Wrong usage or unusable files.</summary>
    public const int Unusable = 2;
    /// <summary>A service is out of reach.</summary>
    public const int OutOfReach = 3;
}
