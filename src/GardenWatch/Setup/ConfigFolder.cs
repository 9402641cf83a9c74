namespace GardenWatch.Setup;

/// <summary>The folder of what people write: the service's settings, a plan for each garden, crop profiles.</summary>
public sealed record ConfigFolder(string Path)
{
    public const string SystemWide = "/etc/gardenwatch";
    public const string SettingsName = "gardenwatch.yaml";
    public const string PlanName = "garden.yaml";

    public string SettingsFile => System.IO.Path.Combine(Path, SettingsName);

    /// <param name="given"><c>--config</c>, which decides when it is there.</param>
    /// <param name="systemWide"><see cref="SystemWide"/> outside of tests.</param>
    public static ConfigFolder Find(string? given, string working, string systemWide = SystemWide)
    {
        if (given is not null)
            return new(System.IO.Path.GetFullPath(given, working));
        bool used = File.Exists(System.IO.Path.Combine(systemWide, SettingsName)) || File.Exists(System.IO.Path.Combine(systemWide, PlanName));
        return new(used ? systemWide : System.IO.Path.GetFullPath(working));
    }

    /// <summary><c>garden.yaml</c> and <c>gardens/*.yaml</c>, in a fixed order. Read anew each time: a garden may be added while running.</summary>
    public IReadOnlyList<string> PlanFiles()
    {
        string single = System.IO.Path.Combine(Path, PlanName);
        IReadOnlyList<string> several = Yaml("gardens");
        return File.Exists(single) ? [single, .. several] : several;
    }

    public IReadOnlyList<string> CropFiles() => Yaml("crops");

    public IReadOnlyList<string> LanguageFiles() => Yaml("languages");

    private List<string> Yaml(string folder)
    {
        string path = System.IO.Path.Combine(Path, folder);
        try
        {
            // Editors leave hidden swap files beside the one that is meant.
            return [.. Directory.EnumerateFiles(path)
                .Where(file => System.IO.Path.GetExtension(file) is ".yaml" or ".yml" && System.IO.Path.GetFileName(file)[0] != '.')
                .Order(StringComparer.Ordinal)];
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return [];
        }
    }
}
