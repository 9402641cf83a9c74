using System.Text;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Quantities;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Shows the journal, and carries it out of the records and into them as a table.</summary>
internal static class JournalCommand
{
    private const int Shown = 30;

    public static int Show(Terminal terminal, string? gardenId) => With(terminal, gardenId, (household, store, file) =>
    {
        using var house = Terminal.LookingHouse(household, store, terminal.RealClock);
        var zone = house.Places.Known(file.Plan!.Place)?.Calendar.Zone ?? DateTimeZone.Utc;
        if (terminal.NowIn(zone) is not { } now)
            return ExitCode.Unusable;
        var speech = new Speech(file.Plan.Units, zone);
        var all = store.Journal.AsOf(file.Plan.GardenId, now);
        var takenBack = all.Select(entry => entry.Undoes).OfType<string>().ToHashSet();
        if (all.Count == 0)
            Console.Out.WriteLine("Nothing is written down yet.");
        foreach (var entry in all.Reverse().Where(entry => entry.Kind != EntryKind.Undo).Take(Shown))
            Console.Out.WriteLine(Line(entry, speech, takenBack.Contains(entry.Id!)).Replace('\u00A0', ' '));
        if (all.Count > Shown)
            Console.Out.WriteLine($"({all.Count} entries in all; `gardenwatch journal export` has every one.)");
        return ExitCode.Fine;
    });

    /// <param name="file">Null for the terminal.</param>
    public static int Export(Terminal terminal, string? gardenId, string? file) => With(terminal, gardenId, (_, store, garden) =>
    {
        var entries = store.Journal.AsOf(garden.Plan!.GardenId, terminal.RoughNow);
        string table = JournalCsv.Write(garden.Plan.GardenId, entries);
        if (file is null)
        {
            Console.Out.Write(table);
            return ExitCode.Fine;
        }
        string partial = file + ".partial";
        using (var stream = new FileStream(partial, StoreFolder.PrivateFile(FileMode.Create, FileShare.None)))
            stream.Write(Encoding.UTF8.GetBytes(table));
        File.Move(partial, file, overwrite: true);
        Console.Out.WriteLine($"{entries.Count} entries are written to {file}. Pictures are files in {store.Folder.Pictures}.");
        return ExitCode.Fine;
    });

    public static int Import(Terminal terminal, string? gardenId, string path) => With(terminal, gardenId, (_, store, file) =>
    {
        string garden = file.Plan!.GardenId;
        var (entries, faults) = JournalCsv.Read(File.ReadAllText(path), garden, terminal.RoughNow);
        foreach (string fault in faults)
            Console.Error.WriteLine(fault);
        var others = entries.Where(entry => entry.Garden != garden).Select(entry => entry.Garden).Distinct().ToList();
        if (others.Count > 0)
            Console.Error.WriteLine($"Rows of {string.Join(", ", others)} are left out: they are of another garden than `{garden}`.");
        int before = store.Journal.AsOf(garden, terminal.RoughNow).Count;
        if (store.Journal.Add(garden, [.. entries.Where(entry => entry.Garden == garden).Select(entry => (entry.Entry, (string?)null))]) is WriteOutcome.Failed failed)
        {
            Console.Error.WriteLine(failed.Sentence);
            return ExitCode.Unusable;
        }
        int added = store.Journal.AsOf(garden, terminal.RoughNow).Count - before;
        int known = entries.Count(entry => entry.Garden == garden) - added;
        Console.Out.WriteLine($"{added} entries are taken in{(known > 0 ? $", {known} were there already" : "")}.");
        return faults.Count == 0 && others.Count == 0 ? ExitCode.Fine : ExitCode.Problems;
    });

    private static string Line(JournalEntry entry, Speech speech, bool takenBack)
    {
        string by = entry.Person is { } person ? $" (by {person})" : "";
        return $"{StoreText.Of(entry.Date)}  {JournalWords.Brief(entry, speech)}{by}{(takenBack ? "  [taken back]" : "")}";
    }

    private static int With(Terminal terminal, string? gardenId, Func<Household, GardenStore, GardenFile, int> work)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        return store is null || terminal.OpenGardens(household, store) is not { } files || AnswerCommand.Choose(files, gardenId) is not { } file
            ? ExitCode.Unusable
            : work(household, store, file);
    }
}
