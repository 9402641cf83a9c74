using System.Globalization;
using GardenWatch.Setup;
using GardenWatch.Weather.OpenMeteo;

namespace GardenWatch.Commands;

/// <summary>Answers given beforehand, as options; null where the gardener is to be asked.</summary>
/// <param name="SecretFile">A file with the mail server's password or the push server's token: neither is ever an option.</param>
internal sealed record NewOptions(
    string? Town, string? Units, string? Beds, string? Crops, string? To, string? Server, string? User, string? SecretFile, string? Name, bool Yes);

/// <summary>Asks a new gardener five questions and writes the files; nothing is written before the last answer.</summary>
internal static class NewCommand
{
    public static Task<int> Run(Terminal terminal, NewOptions options, CancellationToken ct) =>
        Run(terminal, options, new(Console.In, Console.Out, options.Yes, HiddenLine.Ask), ServiceLine.Handler(), ct);

    public static async Task<int> Run(Terminal terminal, NewOptions options, Questions questions, HttpMessageHandler line, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        var garden = new NewGarden(household.Folder, household.Settings, household.Crops, terminal.RealClock);
        if (garden.InTheWay(options.Name) is { } inTheWay)
        {
            Console.Error.WriteLine(inTheWay);
            return ExitCode.Unusable;
        }
        try
        {
            using var places = new PlaceSearch(line, household.Settings.Weather, terminal.RealClock, TimeProvider.System);
            var (first, wayOut) = await new FirstQuestions(questions, options, garden, places).All(ct).ConfigureAwait(false);
            switch (garden.Write(first, wayOut))
            {
                case NewGardenOutcome.Written written:
                    return await AfterWriting(terminal with { Config = household.Folder.Path }, questions, written, ct).ConfigureAwait(false);
                case NewGardenOutcome.Refused(var sentence):
                    Console.Error.WriteLine(sentence);
                    return ExitCode.Unusable;
                default:
                    throw new InvalidOperationException("No such outcome.");
            }
        }
        catch (AnswersEndedException ended)
        {
            Console.Error.WriteLine("The answers are not complete; nothing was written.");
            return ended.Code;
        }
        catch (OperationCanceledException) when (ct.IsCancellationRequested)
        {
            Console.Error.WriteLine("\nStopped; nothing more was written.");
            return ExitCode.Problems;
        }
    }

    private static async Task<int> AfterWriting(Terminal terminal, Questions questions, NewGardenOutcome.Written written, CancellationToken ct)
    {
        questions.Tell("\nThis is what was understood:\n");
        int code = CheckCommand.Run(terminal, show: false);
        questions.Tell($"Written: {string.Join(", ", written.Files)}.");
        string there = string.Create(CultureInfo.InvariantCulture, $" --config {Shell(terminal.Config!)}");
        if (terminal.Config == ConfigFolder.SystemWide)
            there = "";
        if (!written.Plan.Digest.To.IsEmpty && await questions.Agreed("Send a test message now?", ct).ConfigureAwait(false))
            code = Math.Max(code, await SendTestCommand.Run(terminal, to: null, ct).ConfigureAwait(false));
        if (await questions.Agreed("Show this morning's digest now?", ct).ConfigureAwait(false))
        {
            questions.Tell("");
            code = Math.Max(code, await TodayCommand.Run(terminal, written.Plan.GardenId, ct).ConfigureAwait(false));
        }
        string run = written.Plan.Digest.To.IsEmpty ? "the service, with the page" : "the service: the first digest within ten minutes, then one every morning";
        questions.Tell($"""

            From here on:
              gardenwatch check{there}      after each change of the plan
              gardenwatch today{there}      this morning's digest, here
              gardenwatch run{there}        {run}
            """);
        return code;
    }

    private static string Shell(string path) => path.All(c => char.IsLetterOrDigit(c) || c is '/' or '.' or '-' or '_' or '~') ? path : $"\"{path}\"";
}
