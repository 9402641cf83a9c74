using System.Collections;
using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Setup;

/// <summary>The service's files as they are found: the folder, the settings, the crops.</summary>
public sealed record Household(ConfigFolder Folder, Settings Settings, IReadOnlyList<ShownSetting> Shown, CropShelf Crops)
{
    /// <summary>Null when something is unusable; the faults, all of them, say what.</summary>
    /// <param name="config">The folder named on the command line; null for the usual ones.</param>
    /// <param name="data">The data folder named on the command line; null for the settings' own.</param>
    public static Household? Open(string? config, string? data, out ImmutableArray<string> faults)
    {
        var folder = ConfigFolder.Find(config, Directory.GetCurrentDirectory());
        var said = ImmutableArray.CreateBuilder<string>();
        var outcome = SettingsFile.Read(folder, Surroundings());
        if (outcome is SettingsOutcome.Faulty faulty)
            said.AddRange(faulty.Faults.Select(fault => fault.ToString()));
        var crops = ReadCrops(folder, said);
        faults = said.ToImmutable();
        if (outcome is not SettingsOutcome.Read read || crops is null)
            return null;
        var settings = data is null ? read.Settings : read.Settings with { DataFolder = Path.GetFullPath(data) };
        return new(folder, settings, read.Shown, crops);
    }

    /// <summary>
    /// The shipped crops with the folder's own laid over them, and its languages; null, with the faults told, when a file
    /// can't be read.
    /// </summary>
    public static CropShelf? ReadCrops(ConfigFolder folder, ImmutableArray<string>.Builder faults)
    {
        if (Texts(folder.CropFiles(), faults) is not { } files)
            return null;
        var (shelf, wrong) = files.Count == 0
            ? (CropShelf.Shipped(ConditionText.Read), [])
            : CropShelf.Read([.. CropShelf.ShippedFiles(), .. files], ConditionText.Read);
        faults.AddRange(wrong.Select(fault => fault.ToString()));
        if (shelf is null || ReadLanguages(folder, shelf, faults) is not { } languages)
            return null;
        return languages.All(language => language.Tongue is not null) ? shelf.With(languages.Select(language => language.Tongue!)) : null;
    }

    /// <summary>Each language file as it was read; null, with the fault told, when one can't be opened.</summary>
    public static IReadOnlyList<TongueReading>? ReadLanguages(ConfigFolder folder, CropShelf crops, ImmutableArray<string>.Builder faults)
    {
        if (Texts(folder.LanguageFiles(), faults) is not { } files)
            return null;
        if (files.Count == 0)
            return [];
        var phrases = Phrases.Of(crops);
        List<TongueReading> readings = [.. files.Select(file => TongueFile.Read(file.Text, file.Name, phrases))];
        faults.AddRange(readings.SelectMany(reading => reading.Faults).Select(fault => fault.ToString()));
        return readings;
    }

    private static List<(string Name, string Text)>? Texts(IEnumerable<string> paths, ImmutableArray<string>.Builder faults)
    {
        var files = new List<(string, string)>();
        foreach (string path in paths)
        {
            try
            {
                files.Add((Path.GetFileName(path), File.ReadAllText(path)));
            }
            catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
            {
                faults.Add($"{path}: The file cannot be read: {exception.Message}");
                return null;
            }
        }
        return files;
    }

    private static Dictionary<string, string> Surroundings()
    {
        var variables = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (DictionaryEntry variable in Environment.GetEnvironmentVariables())
            variables[(string)variable.Key] = (string?)variable.Value ?? "";
        return variables;
    }
}
