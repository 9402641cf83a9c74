using GardenWatch.Trial.Play;
using Xunit.MicrosoftTestingPlatform;
using Xunit.Runner.InProc.SystemConsole;

namespace GardenWatch.Trial;

/// <summary>With <c>play</c> as its first word it plays years and prints figures; else it is the test runner.</summary>
internal static class Program
{
    public static Task<int> Main(string[] args) =>
        args is ["play", .. var what] ? PlayCommand.Run(what, CancellationToken.None)
        : args.Any(arg => arg is "--server" or "--internal-msbuild-node")
            ? TestPlatformTestFramework.RunAsync(args, SelfRegisteredExtensions.AddSelfRegisteredExtensions)
        : ConsoleRunner.Run(args);
}
