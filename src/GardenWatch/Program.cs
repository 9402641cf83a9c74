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
    return await parse.InvokeAsync(new() { EnableDefaultExceptionHandler = false }).ConfigureAwait(false);
}
catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
{
    Console.Error.WriteLine(exception.Message);
    return ExitCode.Unusable;
}
