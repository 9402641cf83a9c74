using GardenWatch.Rounds;
using Microsoft.Extensions.Hosting.Systemd;

namespace GardenWatch.Tests.Rounds;

public sealed class WatchdogTests
{
    [Fact]
    public void The_service_manager_hears_of_ticks_only_while_the_store_answers()
    {
        var heard = new Notified(enabled: true);
        var watchdog = new Watchdog(heard);

        watchdog.TickFinished(storeAnswered: false);
        Assert.Equal(0, heard.Count);
        watchdog.TickFinished(storeAnswered: true);
        Assert.Equal(1, heard.Count);
    }

    [Fact]
    public void Without_a_service_manager_nobody_is_told()
    {
        var heard = new Notified(enabled: false);

        new Watchdog(heard).TickFinished(storeAnswered: true);

        Assert.Equal(0, heard.Count);
    }

    private sealed class Notified(bool enabled) : ISystemdNotifier
    {
        public int Count { get; private set; }

        public bool IsEnabled => enabled;

        public void Notify(ServiceState state) => Count++;
    }
}
