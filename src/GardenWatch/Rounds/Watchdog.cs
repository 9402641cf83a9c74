using Microsoft.Extensions.Hosting.Systemd;

namespace GardenWatch.Rounds;

/// <summary>Tells the service manager that a tick was finished with the store answering; silence makes it restart us.</summary>
public sealed class Watchdog(ISystemdNotifier notifier)
{
    private static readonly ServiceState Alive = new("WATCHDOG=1");

    public void TickFinished(bool storeAnswered)
    {
        if (storeAnswered && notifier.IsEnabled)
            notifier.Notify(Alive);
    }
}
