using System.Diagnostics;

namespace GardenWatch;

/// <summary>
/// Places at which a test lets the process die as by a power cut. Compiled into the shipped program, so that what is
/// tested is what runs; each is idle unless the environment names it when the process starts.
/// </summary>
public static class Failpoints
{
    public const string BeforeDigestStored = "before-digest-stored";
    public const string AfterDigestStored = "after-digest-stored";
    public const string BeforeClaim = "before-claim";
    public const string AfterClaim = "after-claim";
    public const string AfterSend = "after-send";
    public const string AfterMark = "after-mark";
    public const string MidMigration = "mid-migration";
    public const string MidBackup = "mid-backup";
    public const string MidMembers = "mid-members";
    public const string MidReduction = "mid-reduction";

    public const string MidAnswer = "mid-answer";
    public const string AfterAnswer = "after-answer";
    public const string MidPicture = "mid-picture";
    public const string MidPlan = "mid-plan";

    public const string Variable = "GARDENWATCH_FAILPOINT";

    public static readonly string[] All =
    [
        BeforeDigestStored, AfterDigestStored, BeforeClaim, AfterClaim, AfterSend, AfterMark, MidMigration, MidBackup, MidMembers, MidReduction,
        MidAnswer, AfterAnswer, MidPicture, MidPlan,
    ];

    private static readonly string? Armed = Environment.GetEnvironmentVariable(Variable);

    /// <summary>SIGKILL, not an exception: no finally, no flush, nothing gets to tidy up.</summary>
    public static void Hit(string name)
    {
        if (Armed is null || Armed != name)
            return;
        Process.GetCurrentProcess().Kill();
        // The signal may take a moment to arrive; nothing after this point may run.
        new ManualResetEventSlim().Wait();
    }
}
