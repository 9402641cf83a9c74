using GardenWatch.Web;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Web;

public class AllowanceTests
{
    private readonly FakeClock _clock = new(Instant.FromUtc(2026, 4, 27, 6, 0));

    [Fact]
    public void So_many_at_once_then_one_each_so_often()
    {
        var allowance = new Allowance(3, Duration.FromSeconds(10), _clock);
        for (int i = 0; i < 3; i++)
            Assert.True(allowance.Take("pat", out _));
        Assert.False(allowance.Take("pat", out var wait));
        Assert.Equal(Duration.FromSeconds(10), wait);
        Assert.True(allowance.Take("sam", out _));
        _clock.AdvanceSeconds(10);
        Assert.True(allowance.Take("pat", out _));
        Assert.False(allowance.Take("pat", out _));
        _clock.AdvanceDays(1);
        for (int i = 0; i < 3; i++)
            Assert.True(allowance.Take("pat", out _));
        Assert.False(allowance.Take("pat", out _));
    }

    [Fact]
    public void A_clock_set_back_gives_nothing()
    {
        var allowance = new Allowance(1, Duration.FromSeconds(10), _clock);
        Assert.True(allowance.Take("pat", out _));
        _clock.AdvanceDays(-3);
        Assert.False(allowance.Take("pat", out _));
        _clock.AdvanceSeconds(10);
        Assert.True(allowance.Take("pat", out _));
    }

    [Fact]
    public void Ten_thousand_made_up_names_fill_no_memory_and_keep_out_none_for_long()
    {
        var allowance = new Allowance(5, Duration.FromSeconds(30), _clock);
        int let = Enumerable.Range(0, 10_000).Count(i => allowance.Take($"name {i}", out _));
        Assert.Equal(1000, let);
        _clock.AdvanceSeconds(31);
        Assert.True(allowance.Take("pat", out _));
    }
}
