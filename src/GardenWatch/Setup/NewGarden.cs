using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Setup;

/// <summary>How writing a new garden's files went.</summary>
public abstract record NewGardenOutcome
{
    private NewGardenOutcome() { }

    /// <param name="Files">All that were written, the plan last.</param>
    public sealed record Written(Plan Plan, ImmutableArray<string> Files) : NewGardenOutcome;

    /// <summary>Nothing is there that was not there before.</summary>
    public sealed record Refused(string Sentence) : NewGardenOutcome;
}

/// <summary>
/// Writes the files of a new garden: the secret into one that only its owner reads, the settings, and the plan at the very
/// last, since a folder with a plan is one that is begun. What is there already is never written over.
/// </summary>
public sealed class NewGarden(ConfigFolder folder, Settings settings, CropShelf crops, IClock clock)
{
    public ConfigFolder Folder => folder;

    public Settings Settings => settings;

    public CropShelf Crops => crops;

    /// <summary>Nothing can be sent yet, so that an address alone does not do.</summary>
    public bool NeedsWayOut => settings.Mail is null;

    /// <summary>Why no garden of that name can be begun; null when one can.</summary>
    public string? InTheWay(string? name)
    {
        if (folder.PlanFiles() is not [var first, ..])
            return null;
        if (name is null)
        {
            return $"There is a plan already, {first}; it stays as it is. Change it in an editor (`gardenwatch check` reads it), "
                + "or begin another garden beside it with a name of its own: gardenwatch new --name \"Far Row\"";
        }
        string id = FirstPlan.IdOf(name);
        var files = GardenFile.ReadAll(folder, crops, null, clock.GetCurrentInstant());
        return files.FirstOrDefault(file => file.Plan?.GardenId == id) is { } twin
            ? $"A garden `{id}` is there already, in {twin.Path}; it stays as it is. Give the new one another name."
            : null;
    }

    /// <summary>Where the plan goes: the one file, or one of several.</summary>
    public string PlanFileOf(FirstPlan first) =>
        folder.PlanFiles().Count == 0 ? Path.Combine(folder.Path, ConfigFolder.PlanName) : Path.Combine(folder.Path, "gardens", first.Id + ".yaml");

    public NewGardenOutcome Write(FirstPlan first, WayOut? wayOut)
    {
        if (InTheWay(first.Name) is { } inTheWay)
            return new NewGardenOutcome.Refused(inTheWay);
        string planFile = PlanFileOf(first);
        var zone = first.Place.ZoneId is { } id ? DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) ?? DateTimeZone.Utc : DateTimeZone.Utc;
        var today = clock.GetCurrentInstant().InZone(zone).Date;
        string text = first.Text(today);
        var reading = PlanFile.Read(text, Path.GetFileName(planFile), crops, [], today, ConditionText.Read);
        if (reading.Plan is not { } plan)
            return new NewGardenOutcome.Refused($"The answers make no plan that can be read, so nothing was written: {string.Join(" ", reading.Faults)}");

        var made = new List<string>();
        string? before = null;
        try
        {
            Directory.CreateDirectory(folder.Path);
            Directory.CreateDirectory(Path.GetDirectoryName(planFile)!);
            before = File.Exists(folder.SettingsFile) ? File.ReadAllText(folder.SettingsFile) : null;
            string? secretFile = wayOut?.Secret is null ? null : FreeName(wayOut.SecretName);
            if (secretFile is not null)
            {
                string path = Path.Combine(folder.Path, secretFile);
                SecretFile.Write(path, wayOut!.Secret!);
                made.Add(path);
            }
            if (before is null || wayOut is not null)
            {
                WriteWhole(folder.SettingsFile, FirstSettings.Of(before, settings.DataFolder, folder, wayOut?.Section(secretFile)), overwrite: true);
                made.Add(folder.SettingsFile);
                if (Household.Open(folder.Path, null, out var faults) is null)
                {
                    Undo(made, before);
                    return new NewGardenOutcome.Refused($"The settings could not be written so that they can be read, so nothing was: {string.Join(" ", faults)}");
                }
            }
            WriteWhole(planFile, text, overwrite: false);
            made.Add(planFile);
            return new NewGardenOutcome.Written(plan, [.. made]);
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            Undo(made, before);
            return new NewGardenOutcome.Refused(
                $"Nothing was written: {exception.Message.TrimEnd('.')}. Use an account that may write in {folder.Path} (sudo gardenwatch new), or another folder (--config).");
        }
    }

    /// <summary>A secret that lies there belongs to somebody.</summary>
    private string FreeName(string name)
    {
        string free = name;
        for (int number = 2; File.Exists(Path.Combine(folder.Path, free)); number++)
            free = $"{name}-{number}";
        return free;
    }

    /// <summary>Under its name only once it is whole.</summary>
    private static void WriteWhole(string path, string text, bool overwrite)
    {
        string beside = path + ".new";
        File.WriteAllText(beside, text);
        try
        {
            if (overwrite && File.Exists(path))
                File.SetUnixFileMode(beside, File.GetUnixFileMode(path));
            File.Move(beside, path, overwrite);
        }
        catch
        {
            File.Delete(beside);
            throw;
        }
    }

    private void Undo(List<string> made, string? settingsBefore)
    {
        foreach (string path in made)
        {
            if (path != folder.SettingsFile)
                File.Delete(path);
            else if (settingsBefore is null)
                File.Delete(path);
            else
                WriteWhole(path, settingsBefore, overwrite: true);
        }
    }
}
