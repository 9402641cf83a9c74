using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Reads the files, says all that is wrong and where, or sums the plan up in plain words.</summary>
internal static class CheckCommand
{
    public static int Run(Terminal terminal, bool show)
    {
        var household = Household.Open(terminal.Config, terminal.Data, out var houseFaults);
        if (household is null)
        {
            // A fault in the settings or a crop file must not hide those of the plans.
            var alone = ConfigFolder.Find(terminal.Config, Directory.GetCurrentDirectory());
            var crops = Planning.Crops.CropShelf.Shipped(Planning.Conditions.ConditionText.Read);
            return Tell(terminal, houseFaults, GardenFile.ReadAll(alone, crops, null, terminal.RoughNow), alone, null, show);
        }
        // Without records yet, ids are those that the first run will give.
        using var store = File.Exists(new StoreFolder(household.Settings.DataFolder).Database)
            ? terminal.OpenStore(household.Settings, StoreUse.Command)
            : null;
        var files = GardenFile.ReadAll(household.Folder, household.Crops, store, terminal.RoughNow, household.Settings.ChannelsSetUp);
        return Tell(terminal, houseFaults, files, household.Folder, household, show);
    }

    /// <summary>For a translator: every phrase in English, with nothing beside it yet.</summary>
    public static int PrintPhrases(Terminal terminal)
    {
        var faults = ImmutableArray.CreateBuilder<string>();
        if (Household.ReadCrops(ConfigFolder.Find(terminal.Config, Directory.GetCurrentDirectory()), faults) is not { } crops)
        {
            foreach (string fault in faults)
                Console.Error.WriteLine(fault);
            return ExitCode.Problems;
        }
        Console.Out.Write(Phrases.Of(crops).Skeleton());
        return ExitCode.Fine;
    }

    private static int Tell(
        Terminal terminal, IReadOnlyList<string> houseFaults, IReadOnlyList<GardenFile> files, ConfigFolder folder, Household? household, bool show)
    {
        bool sound = houseFaults.Count == 0 && files.Count > 0 && files.All(file => file.Plan is not null && file.Faults.IsEmpty);
        if (terminal.Json)
            WriteJson(houseFaults, files, sound);
        else
            WriteWords(houseFaults, files, folder, household, show);
        return sound ? ExitCode.Fine : ExitCode.Problems;
    }

    private static void WriteWords(
        IReadOnlyList<string> houseFaults, IReadOnlyList<GardenFile> files, ConfigFolder folder, Household? household, bool show)
    {
        foreach (string fault in houseFaults)
            Console.Out.WriteLine(fault);
        if (files.Count == 0)
            Console.Out.WriteLine(Terminal.NoPlan(folder));
        foreach (var file in files)
        {
            foreach (var fault in file.Faults)
                Console.Out.WriteLine(fault);
            foreach (var remark in file.Remarks)
                Console.Out.WriteLine($"{remark} (a remark; it works as it is)");
            if (file.Plan is { } plan && file.Faults.IsEmpty)
            {
                Console.Out.WriteLine();
                Console.Out.WriteLine(PlanSummary.Of(plan, new Speech(plan.Units, DateTimeZone.Utc)));
            }
        }
        if (household is null)
            return;
        TellLanguages(household);
        if (household.Settings.Mail is null && household.Settings.ChannelsSetUp.IsEmpty)
            Console.Out.WriteLine("No mail server is set in gardenwatch.yaml, so nothing can be sent yet; `gardenwatch today` works without.");
        if (show)
            foreach (var setting in household.Shown)
                Console.Out.WriteLine($"{setting.Name} = {setting.Value}   ({setting.From})");
    }

    private static void TellLanguages(Household household)
    {
        foreach (var reading in Household.ReadLanguages(household.Folder, household.Crops, ImmutableArray.CreateBuilder<string>()) ?? [])
        {
            if (reading is { Tongue: { } tongue, Missing: { IsEmpty: false } missing })
                Console.Out.WriteLine($"languages/{tongue.Code}: {missing.Length} phrases are not translated and stay English, such as `{missing[0].Trim()}`; `gardenwatch check --phrases` lists all phrases.");
        }
    }

    private static void WriteJson(IReadOnlyList<string> houseFaults, IReadOnlyList<GardenFile> files, bool sound)
    {
        using var output = Console.OpenStandardOutput();
        using (var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
        {
            json.WriteStartObject();
            json.WriteNumber("version", AgendaJson.Version);
            json.WriteBoolean("sound", sound);
            json.Strings("settings", houseFaults);
            json.WriteStartArray("gardens");
            foreach (var file in files)
            {
                json.WriteStartObject();
                json.WriteString("file", file.Path);
                json.WriteString("id", file.Plan?.GardenId);
                json.WriteString("name", file.Plan?.Name);
                WriteFaults(json, "faults", file.Faults);
                WriteFaults(json, "remarks", file.Remarks);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        output.Write("\n"u8);
    }

    private static void WriteFaults(Utf8JsonWriter json, string name, IEnumerable<FileFault> faults)
    {
        json.WriteStartArray(name);
        foreach (var fault in faults)
        {
            json.WriteStartObject();
            json.WriteString("file", fault.File);
            json.WriteNumber("line", fault.Line);
            json.WriteNumber("column", fault.Column);
            json.WriteString("problem", fault.Problem);
            json.WriteString("instead", fault.Instead);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }
}
