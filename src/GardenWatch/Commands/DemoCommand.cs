using GardenWatch.Demo;
using GardenWatch.Store;

namespace GardenWatch.Commands;

/// <summary>Notable mornings of an invented garden: the way of the service from a forecast to a mail, without network or set-up.</summary>
internal static class DemoCommand
{
    private static readonly NotableMorning[] Shown =
        [NotableMornings.LateFrost, SoilFollows(NotableMornings.WarmSoil), NotableMornings.RainForGranules, NotableMornings.Quiet, NotableMornings.NoWeather];

    /// <summary>Ten centimetres down the soil comes two days after the warm air.</summary>
    private static NotableMorning SoilFollows(NotableMorning warmAir) => warmAir with { Date = warmAir.Date.PlusDays(2) };

    public static async Task<int> Run(string? dataFolder, CancellationToken ct)
    {
        string folder = dataFolder is null ? Directory.CreateTempSubdirectory("gardenwatch-demo-").FullName : Path.GetFullPath(dataFolder);
        if (File.Exists(new StoreFolder(folder).Database))
        {
            Console.Error.WriteLine($"{folder} holds records already, and the demo invents its own. Name an empty folder with --data.");
            return ExitCode.Unusable;
        }
        Console.Out.WriteLine(InventedSeason.Notice);
        var files = new List<string>();
        using (var garden = new DemoGarden(folder))
        {
            foreach (var morning in Shown)
            {
                Console.Out.WriteLine();
                Console.Out.WriteLine(new string('=', 72));
                Console.Out.WriteLine(morning.Story);
                Console.Out.WriteLine(new string('=', 72));
                if (await garden.Morning(morning, ct).ConfigureAwait(false) is not var (file, mail))
                {
                    Console.Error.WriteLine($"No mail came on {morning.Date}.");
                    return ExitCode.Problems;
                }
                files.Add(file);
                Console.Out.WriteLine();
                Console.Out.WriteLine(mail.TextBody?.TrimEnd());
                garden.AnswerAll(morning.Date);
            }
        }
        Console.Out.WriteLine();
        Console.Out.WriteLine(new string('=', 72));
        Console.Out.WriteLine("The same as mail, to open in a mail program:");
        foreach (string file in files)
            Console.Out.WriteLine($"  {file}");
        Console.Out.WriteLine($"The plan they were made of: {Path.Combine(folder, "garden.yaml")}");
        return ExitCode.Fine;
    }
}
