using GardenWatch.Agronomy.RainTiming;

namespace GardenWatch.Agronomy.Tests.RainTiming;

/// <summary>Rain after spraying, at each limit and just beside it; the ids are of the shipped rain rules.</summary>
public class RainTimingTests
{
    [Theory]
    [InlineData(24.9, Protection.Keeps)] // R018, where two services disagree
    [InlineData(25, Protection.HalveTheDaysLeft)] // R019
    [InlineData(50, Protection.HalveTheDaysLeft)]
    [InlineData(50.1, Protection.Renew)] // R020
    [InlineData(double.NaN, Protection.Unknown)]
    public void Rain_since_decides_when_to_renew(double rain, Protection expected) => Assert.Equal(expected, Rainfastness.AfterRain(rain));

    [Fact]
    public void Rain_that_cannot_be_is_an_error() => Assert.Throws<ArgumentOutOfRangeException>(() => Rainfastness.AfterRain(-1));
}
