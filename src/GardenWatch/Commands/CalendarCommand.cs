using System.Net;
using GardenWatch.Store;
using GardenWatch.Web;

namespace GardenWatch.Commands;

/// <summary>Prints the address under which a calendar program subscribes to each garden; with <c>--new</c> makes the old ones void.</summary>
internal static class CalendarCommand
{
    public static int Run(Terminal terminal, string? gardenId, bool renew)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null || terminal.OpenGardens(household, store) is not { } files || Terminal.Named(files, gardenId) is not { } plans)
            return ExitCode.Unusable;
        if (renew && store.Secrets.RenewCalendarKey() is WriteOutcome.Failed failed)
        {
            Console.Error.WriteLine($"The addresses stay as they are. {failed.Sentence}");
            return ExitCode.Problems;
        }
        if (store.Secrets.CalendarKey() is not { } key)
        {
            Console.Error.WriteLine($"No address could be made: the data folder {household.Settings.DataFolder} takes nothing in. Look whether the disk is full.");
            return ExitCode.Problems;
        }
        var listen = household.Settings.WebListen;
        foreach (var plan in plans)
            Console.Out.WriteLine($"{plan.Name}: {CalendarAddress.Of(listen, Dns.GetHostName(), key, plan.GardenId)}");
        Console.Out.WriteLine(renew
            ? "The addresses of before are void: subscribe again with these."
            : "Subscribe to it in your calendar program while `gardenwatch run` is on. Whoever has the address can read the calendar.");
        if (IPAddress.IsLoopback(listen.Address))
            Console.Out.WriteLine($"It is served on this machine only. For a phone in the house, let the page be reached from there: `web: {{ listen: \"0.0.0.0:{listen.Port}\", people: [ ... ] }}`, with a password made by `gardenwatch password`.");
        return ExitCode.Fine;
    }
}
