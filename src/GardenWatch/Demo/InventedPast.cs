using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>What is usual in the place that does not exist: other invented years of it, without the notable mornings.</summary>
internal static class InventedPast
{
    private const int Years = 10;

    public static ClimateSummary Of(ulong seed, LocalCalendar calendar, int beforeYear)
    {
        var from = Instant.FromUtc(beforeYear - Years, 1, 1, 0, 0);
        var until = Instant.FromUtc(beforeYear, 1, 1, 0, 0);
        return ClimateSummary.Of(PastDays.Of(InventedSeason.Between(seed, from, until, []), calendar), southern: false);
    }
}
