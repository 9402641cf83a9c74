using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Tests.Store;

/// <summary>Pulls, journal, subjects, places and what was said: read as of an instant, and nothing later.</summary>
public sealed class KnowledgeTests : StoreCase
{
    private static readonly Duration Hour = Duration.FromHours(1);

    [Fact]
    public void Pulls_are_seen_from_when_they_were_fetched()
    {
        using var store = Open();
        AddPull(store, Morning, [1]);
        AddPull(store, Morning + Hour, [2]);

        Assert.Empty(store.Pulls.AsOf("lexington", Morning - Hour));
        var known = store.Pulls.AsOf("lexington", Morning);
        Assert.Equal([1], Assert.Single(store.Pulls.Bodies(known.Select(pull => pull.Id))).Body);
        Assert.Equal(2, store.Pulls.AsOf("lexington", Morning + Hour).Count);
        Assert.Empty(store.Pulls.AsOf("elsewhere", Morning + Hour));
        Assert.Equal(Morning + Hour, store.Pulls.NewestByPlace("forecast", Morning + Hour)["lexington"]);
    }

    [Fact]
    public void A_pull_comes_back_as_it_was_stored()
    {
        using var store = Open();
        store.Pulls.Add("lexington", "ensemble", Morning, Morning - Hour, 384, "example.org", "seamless", [9, 8]);

        var header = Assert.Single(store.Pulls.AsOf("lexington", Morning));

        Assert.Equal(new(header.Id, "lexington", "ensemble", Morning, Morning - Hour, 384, "example.org", "seamless"), header);
    }

    [Fact]
    public void Old_pulls_are_thinned_to_the_last_of_a_day_and_old_members_dropped()
    {
        using var store = Open();
        var day = Instant.FromUtc(2027, 4, 1, 0, 30);
        for (int hour = 0; hour < 48; hour++)
        {
            AddPull(store, day + Hour * hour, [(byte)hour]);
            AddPull(store, day + Hour * hour, [(byte)hour], "ensemble");
        }

        Assert.True(store.Pulls.Thinned(day + Hour * 40, "ensemble").IsWritten);

        var left = store.Pulls.AsOf("lexington", Morning);
        Assert.Equal([23, 40, 41, 42, 43, 44, 45, 46, 47], Hours(left, "forecast"));
        Assert.Equal([40, 41, 42, 43, 44, 45, 46, 47], Hours(left, "ensemble"));

        int[] Hours(IEnumerable<PullHeader> pulls, string kind) =>
            [.. pulls.Where(pull => pull.Kind == kind).Select(pull => (int)(pull.FetchedAt - day).TotalHours)];
    }

    [Fact]
    public void A_wait_that_the_weather_service_asked_for_outlives_a_restart_and_ends_with_the_next_pull()
    {
        using (var store = Open())
        {
            store.Pulls.Wait("lexington", Morning + Hour, "429");
            store.Pulls.Wait("lexington", Morning + Hour * 2, "429");
        }
        using var reopened = Open();

        Assert.Equal(new(Morning + Hour * 2, 2, "429"), reopened.Pulls.WaitsByPlace()["lexington"]);
        AddPull(reopened, Morning, [1]);
        Assert.Empty(reopened.Pulls.WaitsByPlace());
    }

    [Fact]
    public void The_journal_is_seen_from_when_it_was_written_down()
    {
        using var store = Open();
        var sown = new JournalEntry(EntryKind.Done, new(2027, 4, 10), Morning, "job 1", "radish", null, null);
        var later = new JournalEntry(EntryKind.Later, new(2027, 4, 21), Morning + Hour, "job 2", null, new(2027, 4, 24), "away");
        store.Journal.Add("quarry-lane", later);
        store.Journal.Add("quarry-lane", sown);
        store.Journal.Add("another", sown);

        // Each has an id of its own since.
        Assert.All(store.Journal.AsOf("quarry-lane", Morning + Hour), entry => Assert.NotNull(entry.Id));
        Assert.Equal([sown], store.Journal.AsOf("quarry-lane", Morning).Select(entry => entry with { Id = null }));
        Assert.Equal([sown, later], store.Journal.AsOf("quarry-lane", Morning + Hour).Select(entry => entry with { Id = null }));
    }

    [Fact]
    public void An_answer_that_comes_twice_counts_once()
    {
        using var store = Open();
        var done = new JournalEntry(EntryKind.Done, new(2027, 4, 21), Morning, "job 1", null, null, null);

        Assert.True(store.Journal.Add("quarry-lane", done, "mail-1 line 1").IsWritten);
        Assert.False(store.Journal.Add("quarry-lane", done, "mail-1 line 1").IsWritten);
        // Entries without a source are the gardener's own, and may be alike.
        Assert.True(store.Journal.Add("quarry-lane", done).IsWritten);
        Assert.True(store.Journal.Add("quarry-lane", done).IsWritten);

        Assert.Equal(3, store.Journal.AsOf("quarry-lane", Morning).Count);
    }

    [Theory]
    [InlineData("UPDATE journal SET text = 'other'")]
    [InlineData("DELETE FROM journal")]
    public void The_file_itself_refuses_to_rewrite_the_journal(string sql)
    {
        using var store = Open();
        store.Journal.Add("quarry-lane", new JournalEntry(EntryKind.Note, new(2027, 4, 21), Morning, null, null, null, "slugs"));
        using var connection = new SqliteConnection($"Data Source={Folder.Database};Pooling=False");
        connection.Open();
        using var command = new SqliteCommand(sql, connection);

        Assert.Throws<SqliteException>(() => command.ExecuteNonQuery());
        Assert.Equal("slugs", Assert.Single(store.Journal.AsOf("quarry-lane", Morning)).Text);
    }

    [Fact]
    public void A_subject_keeps_the_day_it_was_first_seen_when_its_description_changes()
    {
        using var store = Open();
        store.Subjects.Keep("quarry-lane", [new("p1", "planting", "radish in kitchen bed", Morning)]);

        Assert.True(store.Subjects.Keep("quarry-lane", [new("p1", "planting", "radish in low bed", Morning + Hour)]).IsWritten);
        Assert.False(store.Subjects.Keep("quarry-lane", [new("p1", "planting", "radish in low bed", Morning + Hour)]).IsWritten);

        Assert.Equal([new("p1", "planting", "radish in low bed", Morning)], store.Subjects.AsOf("quarry-lane", Morning));
        Assert.Empty(store.Subjects.AsOf("quarry-lane", Morning - Hour));
    }

    [Fact]
    public void A_place_that_is_found_again_replaces_what_was_found()
    {
        using var store = Open();
        var found = new FoundPlace("lexington", 38.03, -84.5, 295, "America/New_York", Morning);
        store.Places.Set(found);
        store.Places.Set(found with { ElevationMetres = 298 });

        Assert.Equal(298, store.Places.Find("lexington")!.ElevationMetres);
        Assert.Null(store.Places.Find("elsewhere"));
    }

    [Fact]
    public void The_last_word_on_each_job_is_the_last_by_then()
    {
        using var store = Open();
        var (first, second) = (new LocalDate(2027, 4, 20), new LocalDate(2027, 4, 21));
        Tell(store, first, Morning, ("job 1", Standing.Waiting, null), ("job 2", Standing.Now, -1.5));
        Tell(store, second, Morning + Hour, ("job 1", Standing.Now, 2));

        var before = store.LastSaid.AsOf("quarry-lane", Morning).Jobs;
        Assert.Equal(new Said(first, first, Standing.Waiting, null), before["job 1"]);
        Assert.Equal(new Said(first, first, Standing.Now, -1.5) { TimesAsked = 1 }, before["job 2"]);
        var after = store.LastSaid.AsOf("quarry-lane", Morning + Hour);
        Assert.Equal(new Said(first, second, Standing.Now, 2) { TimesAsked = 1 }, after.Jobs["job 1"]);
        Assert.Equal("up", after.Stages["radish.1"]);
    }

    [Fact]
    public void Dates_on_which_a_job_was_asked_for_are_counted_once_each()
    {
        using var store = Open();
        var said = LastSaid.Nothing;
        foreach (var (day, hour) in new[] { (20, 0), (21, 0), (21, 11), (22, 0) })
        {
            var (on, at) = (new LocalDate(2027, 4, day), Morning + Duration.FromDays(day - 20) + Duration.FromHours(hour));
            Tell(store, on, at, ("job 1", day == 20 ? Standing.Waiting : Standing.Now, null));
            said = said.AfterTelling([AJob("job 1", day == 20 ? Standing.Waiting : Standing.Now)], on);
        }
        var stored = store.LastSaid.AsOf("quarry-lane", Morning + Duration.FromDays(3)).Jobs["job 1"];

        Assert.Equal(2, stored.TimesAsked);
        Assert.Equal(said.Jobs["job 1"], stored);

        static Job AJob(string id, Standing standing) => new()
        {
            Id = id, SubjectId = "p1", Kind = Planning.Crops.JobKind.Sow, Name = "Sow radish", Standing = standing,
        };
    }

    [Fact]
    public void What_a_message_tells_is_kept_only_with_the_message()
    {
        using var store = Open();
        Tell(store, new(2027, 4, 20), Morning, ("job 1", Standing.Waiting, null));
        // The same digest once more: nothing is added, neither the message nor what it tells.
        Tell(store, new(2027, 4, 20), Morning + Hour, ("job 1", Standing.Now, null));

        Assert.Equal(Standing.Waiting, store.LastSaid.AsOf("quarry-lane", Morning + Hour).Jobs["job 1"].Standing);
    }

    private static void Tell(GardenStore store, LocalDate on, Instant at, params (string Job, Standing Standing, double? Value)[] jobs)
    {
        var said = new LastSaid(
            jobs.ToImmutableDictionary(job => job.Job, job => new Said(on, on, job.Standing, job.Value)),
            ImmutableDictionary<string, string>.Empty.Add("radish.1", "up"));
        store.Outbox.Add([Digest(date: StoreText.Of(on)) with { CreatedAt = at }], new ToldToday("quarry-lane", said, on, at));
    }

    [Fact]
    public void Rows_of_a_clock_that_ran_ahead_are_not_obeyed_even_when_their_time_comes()
    {
        using var store = Open();
        var ahead = Morning + Duration.FromDays(2);
        AddPull(store, ahead, [1]);
        store.Journal.Add("quarry-lane", new JournalEntry(EntryKind.Note, new(2027, 4, 23), ahead, null, null, null, "from the future"));
        store.Outbox.Add(
            [Digest(date: "2027-04-23") with { CreatedAt = ahead, ExpiresAt = ahead + Hour }],
            new ToldToday("quarry-lane", new(
                ImmutableDictionary<string, Said>.Empty.Add("job 1", new(new(2027, 4, 23), new(2027, 4, 23), Standing.Now, null)),
                ImmutableDictionary<string, string>.Empty), new(2027, 4, 23), ahead));
        store.Ledger.Mark("quarry-lane", LedgerTable.EveningLook, new(2027, 4, 23), ahead);
        AddPull(store, Morning, [2]);
        Assert.Equal(ahead, store.NewestFact());
        Assert.Empty(store.Outbox.Due(Morning));

        Assert.True(store.SetAside.LaterThan(Morning).IsWritten);
        Assert.False(store.SetAside.LaterThan(Morning).IsWritten);

        var then = ahead + Hour / 2;
        Assert.Equal(Morning, Assert.Single(store.Pulls.AsOf("lexington", then)).FetchedAt);
        Assert.Equal(Morning, store.Pulls.NewestByPlace("forecast", then)["lexington"]);
        Assert.Empty(store.Journal.AsOf("quarry-lane", then));
        Assert.Empty(store.LastSaid.AsOf("quarry-lane", then).Jobs);
        Assert.Empty(store.Ledger.Since(new(2027, 4, 23), then));
        Assert.Empty(store.Outbox.Due(then));
        Assert.True(store.Outbox.Add(Digest(date: "2027-04-23")).IsWritten);
        Assert.Equal(Morning, store.NewestFact());
        Assert.Equal(4, store.SetAside.Count());
    }

    private static void AddPull(GardenStore store, Instant fetchedAt, byte[] body, string kind = "forecast") =>
        Assert.True(store.Pulls.Add("lexington", kind, fetchedAt, fetchedAt, 24, "example.org", "best_match", body).IsWritten);
}
