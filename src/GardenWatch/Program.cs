using GardenWatch.Commands;
using NodaTime;

// The one clock of the program; all else is handed it, so that --as-of works for all.
#pragma warning disable RS0030
var clock = SystemClock.Instance;
#pragma warning restore RS0030

var parse = CommandLine.Build(clock).Parse(args);
if (parse.Errors.Count > 0)
{
    foreach (var error in parse.Errors)
        Console.Error.WriteLine(error.Message);
    Console.Error.WriteLine("gardenwatch --help lists the commands.");
    return ExitCode.Unusable;
}
try
{
    // Two seconds, the parser's own patience, would cut off a mail that is on its way; the service ends itself sooner than this.
    var patience = TimeSpan.FromSeconds(45);
    return await parse.InvokeAsync(new() { EnableDefaultExceptionHandler = false, ProcessTerminationTimeout = patience }).ConfigureAwait(false);
}
catch (OperationCanceledException)
{
    Console.Error.WriteLine("Stopped before it was done.");
    return ExitCode.Problems;
}
catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
{
    Console.Error.WriteLine(exception.Message);
    return ExitCode.Unusable;
}
