using System.CommandLine;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>The commands that write into the journal, and those that show it and carry it in and out.</summary>
internal static partial class CommandLine
{
    private static readonly Option<string?> On = new("--on") { Description = "The day it is about: yesterday, \"12 May\"; else today", HelpName = "DAY" };

    private static readonly Option<string?> By = new("--by") { Description = "Who says it, where several tend the garden: a mail address", HelpName = "ADDRESS" };

    private static readonly Option<string[]> Picture = new("--picture") { Description = "A picture that goes along", HelpName = "FILE", AllowMultipleArgumentsPerToken = true };

    private static IEnumerable<Command> JournalCommands(IClock realClock)
    {
        yield return Answer("done", "Say that jobs are done\n\nExample: gardenwatch done 1 3\nExample: gardenwatch done 2 --on yesterday", EntryKind.Done, realClock);
        yield return Answer("skip", "Leave jobs out this time\n\nExample: gardenwatch skip 4", EntryKind.Skip, realClock);
        yield return Answer("later", "Put a job off, a day if not said otherwise\n\nExample: gardenwatch later 2 3 days", EntryKind.Later, realClock);

        var about = new Option<string?>("--bed") { Description = "The bed or crop it is about", HelpName = "NAME" };
        var job = new Option<string?>("--job") { Description = "Or the job: its number in the last message", HelpName = "NUMBER" };
        yield return Worded("note", "Write down what you saw\n\nExample: gardenwatch note \"slugs on the squash\" --bed \"low bed\"", "words", "In your own words", realClock,
            (terminal, parse, words, ct) => AnswerCommand.Note(terminal, Options(parse), words, parse.GetValue(job) ?? parse.GetValue(about), ct), about, job);

        var bed = new Option<string?>("--bed") { Description = "Where it was measured; else the garden as a whole", HelpName = "NAME" };
        yield return Worded("reading", """
            Write down what your own thermometer, soil probe or rain gauge says; it corrects the weather near your garden

            Example: gardenwatch reading soil 14 C at 5 cm --bed "kitchen bed"
            Example: gardenwatch reading air low 37 F
            Example: gardenwatch reading rain 12 mm --on yesterday
            Example: gardenwatch reading reset soil
            """, "reading", "soil, air low or rain, and what was read; reset and one of them begins anew", realClock,
            (terminal, parse, words, ct) => AnswerCommand.Reading(terminal, Options(parse), words, parse.GetValue(bed), ct), bed);

        yield return Worded("picked", "Write down what you picked\n\nExample: gardenwatch picked tomato 1.2 kg\nExample: gardenwatch picked 3 squash", "what", "Crop, and how much or how many", realClock,
            (terminal, parse, words, ct) => AnswerCommand.Picked(terminal, Options(parse), words, ct));

        yield return Of("undo", "Take back what was written down last; it stays in the records as taken back\n\nExample: gardenwatch undo", realClock,
            (terminal, parse, ct) => AnswerCommand.Undo(terminal, Options(parse), ct), Garden, By);

        yield return Wish("stop", "Send somebody no more messages, as their answer “stop” does\n\nExample: gardenwatch stop sam@example.org", realClock);
        yield return Wish("start", "Send messages again to somebody who stopped them, as their answer “start” does\n\nExample: gardenwatch start sam@example.org", realClock);

        var journal = Of("journal", "What was written down, the last entries first\n\nExample: gardenwatch journal", realClock,
            (terminal, parse, _) => Task.FromResult(JournalCommand.Show(terminal, parse.GetValue(Garden))), Garden);
        var target = new Argument<string?>("file") { Description = "Where to; else to the terminal", Arity = ArgumentArity.ZeroOrOne };
        var export = Of("export", "All entries as a table (CSV)\n\nExample: gardenwatch journal export garden.csv", realClock,
            (terminal, parse, _) => Task.FromResult(JournalCommand.Export(terminal, parse.GetValue(Garden), parse.GetValue(target))), Garden);
        export.Arguments.Add(target);
        journal.Subcommands.Add(export);
        var origin = new Argument<string>("file") { Description = "A table as `journal export` writes it" };
        var import = Of("import", "Take entries of a table in; those that are there already stay as they are\n\nExample: gardenwatch journal import garden.csv", realClock,
            (terminal, parse, _) => Task.FromResult(JournalCommand.Import(terminal, parse.GetValue(Garden), parse.GetValue(origin)!)), Garden);
        import.Arguments.Add(origin);
        journal.Subcommands.Add(import);
        yield return journal;
    }

    private static Command Wish(string name, string description, IClock realClock)
    {
        var address = new Argument<string>("address") { Description = "As the plan names it" };
        var command = Of(name, description, realClock, (terminal, parse, ct) => AnswerCommand.Wish(terminal, parse.GetValue(Garden), parse.GetValue(address)!, name == "stop", ct), Garden);
        command.Arguments.Add(address);
        return command;
    }

    private static Command Answer(string name, string description, EntryKind kind, IClock realClock) => Worded(
        name, description, "job", kind == EntryKind.Later ? "Number in the last message, then how long" : "Numbers in the last message, or a job's id", realClock,
        (terminal, parse, words, ct) => AnswerCommand.Jobs(terminal, kind, Options(parse), words, ct));

    private static Command Worded(
        string name, string description, string argument, string meaning, IClock realClock,
        Func<Terminal, ParseResult, string[], CancellationToken, Task<int>> run, params Option[] options)
    {
        var words = new Argument<string[]>(argument) { Description = meaning, Arity = ArgumentArity.OneOrMore };
        var command = Of(name, description, realClock, (terminal, parse, ct) => run(terminal, parse, parse.GetValue(words) ?? [], ct), [Garden, On, By, Picture, .. options]);
        command.Arguments.Add(words);
        return command;
    }

    private static AnswerOptions Options(ParseResult parse) =>
        new(parse.GetValue(Garden), parse.GetValue(On), parse.GetValue(By), parse.GetValue(Picture) ?? []);
}
