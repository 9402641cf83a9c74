using System.CommandLine;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>The commands with their help, and what each word of them means.</summary>
internal static partial class CommandLine
{
    private const string AsOfWrong = "is no date and time; write it as --as-of \"2026-04-21 06:00\"";

    private static readonly Option<string?> Config = new("--config")
    {
        Description = "Folder with gardenwatch.yaml and garden.yaml; else /etc/gardenwatch if it is used, else the working folder",
        HelpName = "FOLDER",
        Recursive = true,
    };

    private static readonly Option<string?> Data = new("--data")
    {
        Description = "Folder for the records; else the one that gardenwatch.yaml names",
        HelpName = "FOLDER",
        Recursive = true,
    };

    private static readonly Option<string?> At = new("--as-of")
    {
        Description = "Look as at this time of the garden: \"2026-04-21 06:00\"",
        HelpName = "TIME",
        Recursive = true,
    };

    private static readonly Option<bool> Json = new("--json") { Description = "For other programs" };

    private static readonly Option<string?> Garden = new("--garden") { Description = "Id of one garden, where there are several", HelpName = "ID" };

    public static RootCommand Build(IClock realClock)
    {
        var root = new RootCommand("""
            GardenWatch tells a home food gardener each morning what the weather lets them do.

            First steps:  gardenwatch demo               five mornings of an invented garden
                          gardenwatch new                five questions, and your plan is written
                          gardenwatch check              is my plan right?
                          gardenwatch today              this morning, here in the terminal
                          gardenwatch send-test          does my mail get through?
                          gardenwatch run                every morning from now on
                          gardenwatch status             is all well?
            """);
        root.Options.Add(Config);
        root.Options.Add(Data);
        root.Options.Add(At);

        var show = new Option<bool>("--show") { Description = "Also print each setting and where it comes from; secrets stay hidden" };
        var explain = new Option<string[]>("--explain")
        {
            Description = "Why a job is asked for or not: its conditions, numbers and days. A job's id, or words of its name, kind, crop or bed",
            HelpName = "JOB",
            AllowMultipleArgumentsPerToken = true,
        };
        var tryOut = new Option<string[]>("--with") { Description = "With --explain: what another number would change, such as \"soil: 14 °C\"", HelpName = "NUMBER" };
        var phrases = new Option<bool>("--phrases") { Description = "Print all that messages say as the beginnings of a language file, for languages/CODE.yaml" };
        root.Subcommands.Add(Of("check", "Read the files; say what is wrong and where, or sum the plan up\n\nExample: gardenwatch check --config ~/garden\nExample: gardenwatch check --explain \"set out tomatoes\"",
            realClock, (terminal, parse, ct) => parse.GetValue(phrases) ? Task.FromResult(CheckCommand.PrintPhrases(terminal)) : Check(terminal, parse.GetValue(show), parse.GetValue(explain) ?? [], parse.GetValue(tryOut) ?? [], ct),
            show, explain, tryOut, phrases, Json));

        root.Subcommands.Add(New(realClock));

        root.Subcommands.Add(Of("today", "This morning's digest, here; nothing is sent\n\nExample: gardenwatch today --as-of \"2026-04-21 06:00\"",
            realClock, (terminal, parse, ct) => TodayCommand.Run(terminal, parse.GetValue(Garden), ct), Garden, Json));

        root.Subcommands.Add(Of("run", "The service: a digest each morning, a warning when something would be lost overnight\n\nExample: gardenwatch run --config /etc/gardenwatch",
            realClock, (terminal, _, ct) => RunCommand.Run(terminal, ct)));

        foreach (var command in JournalCommands(realClock))
            root.Subcommands.Add(command);

        var to = new Argument<string?>("address") { Description = "Who gets it; else all whom the plans name", Arity = ArgumentArity.ZeroOrOne };
        var sendTest = Of("send-test", "Send one mail; when it fails, name the remedy\n\nExample: gardenwatch send-test you@example.org",
            realClock, (terminal, parse, ct) => SendTestCommand.Run(terminal, parse.GetValue(to), ct));
        sendTest.Arguments.Add(to);
        root.Subcommands.Add(sendTest);

        var renew = new Option<bool>("--new") { Description = "Make new addresses; whoever had the old ones reads nothing any more" };
        root.Subcommands.Add(Of("calendar", "The address at which a calendar program subscribes to the garden's jobs\n\nExample: gardenwatch calendar",
            realClock, (terminal, parse, _) => Task.FromResult(CalendarCommand.Run(terminal, parse.GetValue(Garden), parse.GetValue(renew))), Garden, renew));

        var passwordFile = new Argument<string>("file") { Description = "The file to write, in the folder of gardenwatch.yaml" };
        var password = Of("password", "Make the file of a password for the page\n\nExample: gardenwatch password page-password",
            realClock, (terminal, parse, _) => Task.FromResult(PasswordCommand.Run(terminal, parse.GetValue(passwordFile)!)));
        password.Arguments.Add(passwordFile);
        root.Subcommands.Add(password);

        root.Subcommands.Add(Of("status", "How the service stands: weather, messages, and what is wrong\n\nExample: gardenwatch status",
            realClock, (terminal, _, ct) => StatusCommand.Run(terminal, ct), Json));

        var copy = new Argument<string?>("file") { Description = "File or folder to copy to; else backups/ of the data folder", Arity = ArgumentArity.ZeroOrOne };
        var backUp = Of("backup", "Copy all records now, also while the service runs\n\nExample: gardenwatch backup /mnt/usb",
            realClock, (terminal, parse, _) => Task.FromResult(BackupCommand.Run(terminal, parse.GetValue(copy))));
        backUp.Arguments.Add(copy);
        root.Subcommands.Add(backUp);

        var backup = new Argument<string>("backup") { Description = "The file to go back to; the nightly ones are in backups/ of the data folder" };
        var restore = Of("restore", "Go back to a backup, with the service stopped; what was there is kept\n\nExample: gardenwatch restore /var/lib/gardenwatch/backups/gardenwatch-2026-04-20.db",
            realClock, (terminal, parse, _) => Task.FromResult(RestoreCommand.Run(terminal, parse.GetValue(backup)!)));
        restore.Arguments.Add(backup);
        root.Subcommands.Add(restore);

        var demo = new Command("demo", "Five mornings of an invented garden, without network or set-up\n\nExample: gardenwatch demo --data /tmp/two-elms");
        demo.SetAction((parse, ct) => DemoCommand.Run(parse.GetValue(Data), ct));
        root.Subcommands.Add(demo);
        return root;
    }

    private static Command New(IClock realClock)
    {
        var town = new Option<string?>("--town") { Description = "Where the garden is: a town, or latitude and longitude", HelpName = "PLACE" };
        var units = new Option<string?>("--units") { Description = "How messages speak: metric or us", HelpName = "WORD" };
        var beds = new Option<string?>("--beds") { Description = "The beds, such as \"two 1.2 x 3 m, a row of pots\"", HelpName = "WORDS" };
        var crops = new Option<string?>("--crops") { Description = "What grows, such as \"tomatoes, garlic growing\"", HelpName = "WORDS" };
        var to = new Option<string?>("--to") { Description = "Where the digest goes: a mail address, a push address, or terminal", HelpName = "ADDRESS" };
        var server = new Option<string?>("--mail-server") { Description = "The server for outgoing mail, with its port where that is not 587", HelpName = "HOST" };
        var user = new Option<string?>("--mail-user") { Description = "The user name there; - for none", HelpName = "NAME" };
        var secret = new Option<string?>("--secret-file") { Description = "A file with the mail password or the push token; what is in it is copied into a file of its own", HelpName = "FILE" };
        var name = new Option<string?>("--name") { Description = "What messages call the garden; also begins another one beside a plan that is there", HelpName = "NAME" };
        var yes = new Option<bool>("--yes") { Description = "Ask nothing: what is not given is as usual" };
        return Of("new", "Five questions to a new gardener; then the plan and the settings are written\n\nExample: gardenwatch new --config ~/garden\nExample: gardenwatch new --town \"Toronto, Ohio\" --beds 3 --crops \"tomatoes, kale growing\" --to terminal --yes",
            realClock, (terminal, parse, ct) => NewCommand.Run(terminal, new(
                parse.GetValue(town), parse.GetValue(units), parse.GetValue(beds), parse.GetValue(crops), parse.GetValue(to), parse.GetValue(server), parse.GetValue(user),
                parse.GetValue(secret), parse.GetValue(name), parse.GetValue(yes)), ct),
            town, units, beds, crops, to, server, user, secret, name, yes);
    }

    private static Task<int> Check(Terminal terminal, bool show, string[] explain, string[] tryOut, CancellationToken ct)
    {
        if (explain.Length > 0)
            return ExplainCommand.Run(terminal, string.Join(' ', explain), tryOut, ct);
        if (tryOut.Length == 0)
            return Task.FromResult(CheckCommand.Run(terminal, show));
        Console.Error.WriteLine("--with goes with --explain: it shows what another number would have meant for one job.");
        return Task.FromResult(ExitCode.Unusable);
    }

    private static Command Of(
        string name, string description, IClock realClock, Func<Terminal, ParseResult, CancellationToken, Task<int>> run, params Option[] options)
    {
        var command = new Command(name, description);
        foreach (var option in options)
            command.Options.Add(option);
        command.SetAction((parse, ct) =>
        {
            string? at = parse.GetValue(At);
            var asOf = at is null ? null : AsOf.Read(at);
            if (at is not null && asOf is null)
            {
                Console.Error.WriteLine($"\"{at}\" {AsOfWrong}");
                return Task.FromResult(ExitCode.Unusable);
            }
            bool json = options.Contains(Json) && parse.GetValue(Json);
            return run(new(realClock, parse.GetValue(Config), parse.GetValue(Data), asOf, json), parse, ct);
        });
        return command;
    }
}
