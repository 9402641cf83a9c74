using GardenWatch.Commands;
using NodaTime;
using NodaTime.Text;

// The one clock of the program; all else is handed it, so that --as-of works for all.
#pragma warning disable RS0030
var clock = SystemClock.Instance;
#pragma warning restore RS0030

// No true clock stands before the day this version was made.
var released = LocalDatePattern.Iso.Parse("2026-11-20").Value.AtStartOfDayInZone(DateTimeZone.Utc).ToInstant();

var parse = CommandLine.Build(clock, released).Parse(args);
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
