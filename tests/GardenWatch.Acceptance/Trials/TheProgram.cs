using System.Diagnostics;

namespace GardenWatch.Acceptance.Trials;

/// <summary>How a command ended and what it said.</summary>
internal sealed record Ended(int Code, string Out, string Errors)
{
    public string All => Out + Errors;

    /// <summary>A gardener is told in sentences, never in stack frames.</summary>
    public Ended WithoutStackTrace()
    {
        Assert.DoesNotMatch(@"(?m)^\s+at \S+\(|Unhandled exception|System\.\w+Exception", All);
        return this;
    }
}

/// <summary>The native program, as it is shipped.</summary>
internal static class TheProgram
{
    public const string Variable = "GARDENWATCH_PROGRAM";

    /// <summary>For a command that is to end by itself; a hang fails the test instead of holding it.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(90);

    private static readonly string? Found = Find();

    /// <summary>Skips the test where there is no program to try.</summary>
    public static string Path
    {
        get
        {
            Assert.SkipWhen(Found is null, $"No program to try: publish it into out/linux-x64, or name it with {Variable}.");
            return Found!;
        }
    }

    public static ProcessStartInfo Start(string folder, IReadOnlyDictionary<string, string> environment, params IEnumerable<string> words)
    {
        var start = new ProcessStartInfo(Path, words)
        {
            WorkingDirectory = folder, RedirectStandardOutput = true, RedirectStandardError = true, RedirectStandardInput = true,
        };
        foreach (var (name, value) in environment)
            start.Environment[name] = value;
        return start;
    }

    /// <summary>Runs one command to its end.</summary>
    public static Task<Ended> Run(string folder, params IEnumerable<string> words) => Run(folder, new Dictionary<string, string>(), words);

    public static async Task<Ended> Run(string folder, IReadOnlyDictionary<string, string> environment, params IEnumerable<string> words)
    {
        using var process = Process.Start(Start(folder, environment, words))!;
        process.StandardInput.Close();
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(Patience);
        try
        {
            var output = process.StandardOutput.ReadToEndAsync(patience.Token);
            var errors = process.StandardError.ReadToEndAsync(patience.Token);
            await process.WaitForExitAsync(patience.Token);
            return new(process.ExitCode, await output, await errors);
        }
        finally
        {
            if (!process.HasExited)
                process.Kill();
        }
    }

    private static string? Find()
    {
        if (Environment.GetEnvironmentVariable(Variable) is { Length: > 0 } named)
            return System.IO.Path.GetFullPath(named);
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string built = System.IO.Path.Combine(folder.FullName, "out", "linux-x64", "gardenwatch");
            if (File.Exists(built))
                return built;
        }
        return null;
    }
}
