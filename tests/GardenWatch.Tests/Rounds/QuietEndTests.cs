using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Tests.Rounds;

public sealed class QuietEndTests
{
    private static readonly DateTimeZone NewYork = DateTimeZoneProviders.Tzdb["America/New_York"];

    // Clocks go from 2:00 to 3:00 on 8 March 2026, and from 2:00 back to 1:00 on 1 November 2026.
    [Theory]
    [InlineData("22:00", "06:00", "2026-03-08T03:30:00Z", "2026-03-08T10:00:00Z")] // 22:30 to 6:00, seven hours and a half less one
    [InlineData("22:00", "06:00", "2026-11-01T02:30:00Z", "2026-11-01T11:00:00Z")] // one hour more
    [InlineData("22:00", "02:30", "2026-03-08T06:30:00Z", "2026-03-08T07:00:00Z")] // 2:30 is left out: the quiet ends with the gap
    [InlineData("22:00", "01:30", "2026-11-01T04:30:00Z", "2026-11-01T05:30:00Z")] // the first 1:30 ends it
    [InlineData("22:00", "01:30", "2026-11-01T06:10:00Z", "2026-11-01T06:10:00Z")] // 1:10 for the second time: it is over
    [InlineData("02:15", "02:45", "2026-03-08T07:00:00Z", "2026-03-08T07:00:00Z")] // all of it is left out
    [InlineData("22:00", "06:00", "2026-06-01T16:00:00Z", "2026-06-01T16:00:00Z")] // noon
    public void The_quiet_hours_end_by_the_clock_on_the_wall(string from, string to, string at, string end) => Assert.Equal(
        InstantPattern.General.Parse(end).Value,
        QuietEnd.After(new QuietHours(TimeOf(from), TimeOf(to)), NewYork, InstantPattern.General.Parse(at).Value));

    private static LocalTime TimeOf(string text) => LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(text).Value;
}
