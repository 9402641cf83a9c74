using System.Runtime.CompilerServices;

namespace GardenWatch.Messages.Tests;

/// <summary>Whole messages as files beside the test: a review reads what the gardener will read.</summary>
internal static class Approved
{
    /// <summary>On a difference the new words are left as <c>name.received.ext</c>; rename it once it reads well.</summary>
    public static void Check(string actual, string name, string extension, [CallerFilePath] string test = "")
    {
        string folder = Path.GetDirectoryName(test)!;
        string approved = Path.Combine(folder, $"{name}.approved.{extension}");
        string received = Path.Combine(folder, $"{name}.received.{extension}");
        string expected = File.Exists(approved) ? File.ReadAllText(approved) : "";
        if (expected == actual)
        {
            File.Delete(received);
            return;
        }
        File.WriteAllText(received, actual);
        Assert.Equal(expected, actual);
    }
}
