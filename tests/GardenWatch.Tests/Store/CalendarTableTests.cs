using GardenWatch.Messages.Calendars;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Store;

/// <summary>What a calendar is told anew, and what stays as it was.</summary>
public sealed class CalendarTableTests : StoreCase
{
    private static readonly CalendarEntry Thin = new("g/radish/thin/1", "Thin radish", "Up.", "long bed", Hours(17, 19), Tentative: false);

    private static Instant Later => Morning + Duration.FromHours(3);

    [Fact]
    public void What_did_not_change_keeps_its_count_and_its_time_over_a_restart()
    {
        using (var store = Open())
            Assert.Equal(new(Thin, 0, Morning), Assert.Single(store.Calendar.Revised("g", [Thin], Morning)));
        using (var store = Open())
            Assert.Equal(new(Thin, 0, Morning), Assert.Single(store.Calendar.Revised("g", [Thin], Later)));
    }

    [Fact]
    public void Other_words_are_a_change_and_another_time_or_certainty_is_a_revision()
    {
        using var store = Open();
        store.Calendar.Revised("g", [Thin], Morning);
        Assert.Equal((0, Later), CountOf(store, Thin with { Description = "Up and crowded." }, Later));
        Assert.Equal((1, Later), CountOf(store, Thin with { When = Hours(18, 20) }, Later));
        Assert.Equal((2, Later), CountOf(store, Thin with { When = Hours(18, 20), Tentative = true }, Later));
        Assert.Equal((3, Later), CountOf(store, Thin with { When = new CalendarTime.Days(new(2027, 4, 21), new(2027, 4, 22)) }, Later));
    }

    [Fact]
    public void What_went_and_came_back_goes_on_counting_and_gardens_do_not_mix()
    {
        using var store = Open();
        store.Calendar.Revised("g", [Thin], Morning);
        Assert.Empty(store.Calendar.Revised("g", [], Later));
        Assert.Equal((1, Later), CountOf(store, Thin with { When = Hours(18, 20) }, Later));
        Assert.Equal(0, Assert.Single(store.Calendar.Revised("other", [Thin], Later)).Sequence);
    }

    [Fact]
    public void What_has_begun_keeps_the_beginning_that_was_told()
    {
        using var store = Open();
        store.Calendar.Revised("g", [Thin], Morning);
        // Looked at again while it runs, the window begins at the look.
        var running = Thin with { When = Hours(18, 19), HasBegun = true };
        Assert.Equal(new(Thin with { HasBegun = true }, 0, Morning), Assert.Single(store.Calendar.Revised("g", [running], Later)));
        // A window that does not touch the one that was told is another.
        Assert.Equal((1, Later), CountOf(store, Thin with { When = Hours(20, 21), HasBegun = true }, Later));
    }

    [Fact]
    public void On_a_full_disk_the_calendar_is_told_all_the_same()
    {
        using var store = Open();
        FillDisk(store);
        var many = Enumerable.Range(0, 200).Select(i => Thin with { Key = $"g/{i}", Summary = new string('x', 60) }).ToList();
        Assert.Equal(200, store.Calendar.Revised("g", many, Morning).Length);
    }

    [Fact]
    public void The_key_is_made_once_kept_and_renewed_on_request()
    {
        byte[] first;
        using (var store = Open())
        {
            first = store.Secrets.CalendarKey()!;
            Assert.Equal(32, first.Length);
            Assert.Equal(first, store.Secrets.CalendarKey());
        }
        using (var store = Open())
        {
            Assert.Equal(first, store.Secrets.CalendarKey());
            Assert.True(store.Secrets.RenewCalendarKey().IsWritten);
            Assert.NotEqual(first, store.Secrets.CalendarKey());
        }
    }

    private static (int Sequence, Instant ModifiedAt) CountOf(GardenStore store, CalendarEntry entry, Instant now)
    {
        var revised = Assert.Single(store.Calendar.Revised("g", [entry], now));
        return (revised.Sequence, revised.ModifiedAt);
    }

    private static CalendarTime.Hours Hours(int from, int until) => new(Instant.FromUtc(2027, 4, 21, from, 0), Instant.FromUtc(2027, 4, 21, until, 0));
}
