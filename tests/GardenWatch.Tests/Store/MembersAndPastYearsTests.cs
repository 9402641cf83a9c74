using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Tests.Store;

public sealed class MembersAndPastYearsTests : StoreCase
{
    private static readonly Duration Hour = Duration.FromHours(1);

    [Fact]
    public void Members_are_seen_from_when_they_were_fetched_and_leave_the_forecasts_wait_alone()
    {
        using var store = Open();
        store.Pulls.Wait("lexington", Morning + Hour, "429");
        store.SideWaits.Wait("lexington", MemberTable.Kind, Morning + Hour, "503");
        Add(store, Morning, 1);
        Add(store, Morning + Hour, 2);

        Assert.Null(store.Members.NewestOf("lexington", Morning - Hour));
        Assert.Equal(Morning, store.Members.NewestOf("lexington", Morning)!.Value.FetchedAt);
        Assert.Equal([2], store.Members.NewestOf("lexington", Morning + Hour)!.Value.Body);
        Assert.Equal(Morning + Hour, store.Members.NewestFetchedAt("lexington", Morning + Hour));
        Assert.Null(store.Members.NewestFetchedAt("elsewhere", Morning + Hour));
        Assert.Equal(1, store.Members.CountSince(Morning + Hour));
        Assert.Single(store.Pulls.WaitsByPlace());
        Assert.Null(store.SideWaits.Find("lexington", MemberTable.Kind));
        Assert.Empty(store.Pulls.NewestByPlace("forecast", Morning + Hour));
    }

    [Fact]
    public void Members_of_a_clock_that_ran_ahead_are_not_obeyed()
    {
        using var store = Open();
        Add(store, Morning + Duration.FromDays(2), 9);
        store.SetAside.LaterThan(Morning);

        Assert.Null(store.Members.NewestOf("lexington", Morning + Duration.FromDays(3)));
    }

    [Fact]
    public void Spreads_take_the_place_of_old_members()
    {
        using var store = Open();
        Add(store, Morning, 1);
        Add(store, Morning + Hour, 2);
        var old = Assert.Single(store.Members.WholeBefore("lexington", Morning + Hour));
        Assert.Equal([1], store.Members.BodyOf(old.Id));

        Assert.True(store.Members.Reduce("lexington", old.Id, old.Model, old.FetchedAt, [5]).IsWritten);

        Assert.Empty(store.Members.WholeBefore("lexington", Morning + Hour));
        var spread = Assert.Single(store.Members.SpreadsOf("lexington", Morning + Hour));
        Assert.Equal(("ecmwf_ifs025", Morning, 5), (spread.Model, spread.FetchedAt, spread.Body[0]));
        Assert.Empty(store.Members.SpreadsOf("lexington", Morning - Hour));
    }

    [Fact]
    public void A_year_is_done_when_it_is_kept_or_was_refused_lately()
    {
        using (var store = Open())
        {
            store.PastYears.Keep("lexington", 2026, Morning, "example.org", [1]);
            store.PastYears.KeepRefusal("lexington", 2025, Morning + Hour, "example.org", "nothing there");
        }
        using var reopened = Open();

        Assert.Equal([2025, 2026], reopened.PastYears.DoneOf("lexington", Morning).Order());
        Assert.Equal([2026], reopened.PastYears.DoneOf("lexington", Morning + Hour * 2));
        Assert.Equal([2026], reopened.PastYears.KeptOf("lexington"));
        Assert.Equal((2, Morning + Hour), reopened.PastYears.AskedSince(Morning));
        Assert.Equal((0, null), reopened.PastYears.AskedSince(Morning + Hour * 2));

        // Refused once, there later; but what is kept is not thrown away.
        reopened.PastYears.Keep("lexington", 2025, Morning + Hour * 3, "example.org", [2]);
        reopened.PastYears.KeepRefusal("lexington", 2026, Morning + Hour * 3, "example.org", "nothing there");
        Assert.Equal([[2], [1]], reopened.PastYears.BodiesOf("lexington", 2024));
        Assert.Equal([[1]], reopened.PastYears.BodiesOf("lexington", 2025));
        Assert.Empty(reopened.PastYears.BodiesOf("elsewhere", 0));
    }

    [Fact]
    public void A_climate_is_seen_from_when_it_was_made()
    {
        using var store = Open();
        store.Climates.Keep(new("lexington", Morning, 10, [1]));
        store.Climates.Keep(new("lexington", Morning + Hour, 30, [2]));

        Assert.Null(store.Climates.AsOf("lexington", Morning - Hour));
        Assert.Equal(10, store.Climates.AsOf("lexington", Morning)!.Years);
        Assert.Equal([2], store.Climates.AsOf("lexington", Morning + Hour)!.Body);
    }

    [Fact]
    public void A_wait_outlives_a_restart_and_counts_its_failures()
    {
        using (var store = Open())
        {
            store.SideWaits.Wait("lexington", PastYearTable.Kind, Morning + Hour, "503");
            store.SideWaits.Wait("lexington", PastYearTable.Kind, Morning + Hour * 2, "429");
        }
        using var reopened = Open();

        Assert.Equal(new(Morning + Hour * 2, 2, "429"), reopened.SideWaits.Find("lexington", PastYearTable.Kind));
        Assert.Null(reopened.SideWaits.Find("lexington", MemberTable.Kind));
        reopened.PastYears.Keep("lexington", 2026, Morning, "example.org", [1]);
        Assert.Null(reopened.SideWaits.Find("lexington", PastYearTable.Kind));
    }

    [Fact]
    public void A_file_of_the_first_version_gets_the_new_tables_and_keeps_what_it_had()
    {
        var first = new Schema([Schema.Shipped.Scripts[0]]);
        Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Folder, StoreUse.Run, Morning, first)).Store.Dispose();
        using (var store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(Folder, StoreUse.Run, Morning, first)).Store)
            store.Outbox.Add(Digest());

        using var upgraded = Open();

        Assert.Single(upgraded.Outbox.Due(Morning));
        Assert.True(upgraded.Climates.Keep(new("lexington", Morning, 1, [1])).IsWritten);
    }

    private static void Add(GardenStore store, Instant fetchedAt, byte body) =>
        Assert.True(store.Members.Add("lexington", "ecmwf_ifs025", fetchedAt, fetchedAt, 360, "example.org", [body]).IsWritten);
}
