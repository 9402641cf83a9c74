using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using NodaTime;

namespace GardenWatch.Planning.Tests.Journals;

public sealed class JournalTests
{
    private static readonly Instant Morning = Instant.FromUtc(2026, 4, 21, 10, 0);
    private static readonly LocalDate Day = new(2026, 4, 21);
    private static readonly JobId Cover = new("mill-bank", "tomato", JobKind.Cover, 1);

    [Fact]
    public void What_is_taken_back_does_not_count_from_then_on()
    {
        var done = Of(EntryKind.Done, "a-1", 0) with { JobId = Cover.ToString() };
        var undo = Of(EntryKind.Undo, "b-1", 5) with { Undoes = "a-1" };
        JournalEntry[] entries = [done, undo];

        Assert.Equal(Day, Journal.AsOf(entries, Morning + Duration.FromMinutes(4)).DoneOn("tomato", JobKind.Cover, 1));
        var after = Journal.AsOf(entries, Morning + Duration.FromMinutes(5));
        Assert.Null(after.DoneOn("tomato", JobKind.Cover, 1));
        Assert.Null(after.Of(Cover, EntryKind.Done));
        Assert.Empty(after.Entries);
    }

    [Fact]
    public void What_was_recorded_last_is_all_that_came_with_it_from_that_person()
    {
        var journal = Journal.AsOf(
            [
                Of(EntryKind.Note, "a-1", 0) with { Person = "pat@example.org" },
                Of(EntryKind.Done, "b-1", 1) with { Person = "Pat@example.org" },
                Of(EntryKind.Done, "b-2", 1) with { Person = "Pat@example.org" },
                Of(EntryKind.Done, "c-1", 2) with { Person = "sam@example.org" },
                Of(EntryKind.Note, "d-1", 3) with { Origin = AnswerOrigin.Import },
            ],
            Morning + Duration.FromHours(1));

        Assert.Equal(["b-1", "b-2"], journal.LastRecorded("pat@example.org").Select(entry => entry.Id));
        Assert.Equal(["c-1"], journal.LastRecorded(null).Select(entry => entry.Id));
        Assert.Empty(journal.LastRecorded("kim@example.org"));
    }

    private static JournalEntry Of(EntryKind kind, string id, int minute) =>
        new(kind, Day, Morning + Duration.FromMinutes(minute), null, null, null, null) { Id = id };
}
