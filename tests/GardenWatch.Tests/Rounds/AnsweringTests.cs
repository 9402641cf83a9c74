using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using NodaTime;
using SkiaSharp;

namespace GardenWatch.Tests.Rounds;

/// <summary>Answers of every way in: bound to their message and the plan, written once, and said back.</summary>
public sealed class AnsweringTests : StoreCase
{
    private const string Mail = "<one@example.org>";
    private static readonly GardenPlace Place = new("lexington", new LocalCalendar(DateTimeZoneProviders.Tzdb["America/New_York"], new(38.03, -84.5, 295)));
    private static readonly LocalDate Today = new(2027, 4, 21);

    private static readonly Plan Plan = PlanFile.Read(
        """
        garden: Quarry Lane
        id: quarry-lane
        place: { latitude: 38.03, longitude: -84.5, elevation: 295 m, zone: America/New_York }
        units: metric
        digest: { at: "06:00", to: [pat@example.org, sam@example.org] }
        beds:
          - { bed: kitchen bed }
          - { bed: low bed }
        plantings:
          - { crop: tomato, bed: low bed, plants: 6, id: tomato }
          - { crop: radish, bed: kitchen bed, id: radish-1 }
          - { crop: radish, bed: low bed, id: radish-2 }
        """,
        "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], Today, ConditionText.Read).Plan!;

    private static OutboxDraft Told(string to, string jobs, string garden = "quarry-lane") =>
        Digest(to) with { Key = new(garden, to, MessageKind.Digest, "2027-04-21"), MessageId = $"digest.{garden}.{to}", Jobs = jobs };

    private static AnswersTaken Take(GardenStore store, Instant now, IncomingAnswers incoming) =>
        new Answering(store, new Mornings(store)).Take(Plan, Place, incoming, now);

    private static AnswersTaken Say(GardenStore store, params ImmutableArray<Answer> answers) =>
        Take(store, Morning, new(AnswerOrigin.Command, answers));

    private static long Sent(GardenStore store, OutboxDraft draft)
    {
        store.Outbox.Add(draft);
        var row = store.Outbox.Find(draft.Key)!;
        store.Outbox.MarkSent(row, "250", Morning);
        return row.Id;
    }

    [Fact]
    public void A_picture_that_was_too_large_to_fetch_is_told_of()
    {
        using var store = Open();
        long sent = Sent(store, Told("pat@example.org", Jobs));
        var taken = Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Note("slugs")])
        {
            Message = sent, Person = "pat@example.org", Source = "mail", Pictures = [new("bed.jpg", Messages.Replies.ReplyPicture.TooLarge)],
        });
        Assert.Equal(["“bed.jpg” is larger than 48 MB; send a smaller one."], taken.Asked);
        Assert.Single(taken.EntryIds);
    }

    private const string CoverId = "quarry-lane/tomato/cover/1";
    private const string Jobs = $"1={CoverId}\tCover the tomatoes (low bed)\n2=quarry-lane/radish-1/thin/1\tThin the radish (kitchen bed)";

    [Fact]
    public void A_number_means_the_job_of_the_message_that_is_answered()
    {
        using var store = Open();
        Sent(store, Told("pat@example.org", Jobs));
        long sams = Sent(store, Told("sam@example.org", "1=quarry-lane/radish-2/thin/1\tThin the radish (low bed)"));

        var pat = Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Done(["1"])]) { Person = "pat@example.org" });
        var sam = Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Done(["1"])]) { Message = sams, Person = "sam@example.org" });

        Assert.Equal(["Done: Cover the tomatoes (low bed)."], pat.Understood);
        Assert.Equal(["Done: Thin the radish (low bed)."], sam.Understood);
        var entries = store.Journal.AsOf("quarry-lane", Morning);
        Assert.Equal([(CoverId, "tomato", "low-bed", "pat@example.org"), ("quarry-lane/radish-2/thin/1", "radish-2", "low-bed", "sam@example.org")],
            entries.Select(entry => (entry.JobId, entry.SubjectId, entry.BedId, entry.Person)));
    }

    [Fact]
    public void What_is_clear_is_kept_and_the_rest_asked_back_with_the_reason()
    {
        using var store = Open();
        Sent(store, Told("pat@example.org", Jobs));

        var taken = Say(store,
            new Answer.Done(["1", "7"]),
            new Answer.Done(["another/tomato/cover/1"]),
            new Answer.Skip(["2"], Today.PlusDays(3)),
            new Answer.Note("slugs", "radish"),
            new Answer.Reading(ReadingKind.Soil, 14, 0.05, "kichen bed"),
            new Answer.Reading(ReadingKind.Soil, 140),
            new Answer.Picked("pumpkin", Pieces: 3),
            new Answer.Later(["2"], Today),
            new Answer.Unclear("perhaps", "What do you mean by perhaps?"));

        Assert.Equal(["Done: Cover the tomatoes (low bed).", "Noted: “slugs”."], taken.Understood);
        string[] asked =
        [
            "There is no job 7 in the last message", "of another garden (`another`)", "Sat 24 April is still to come", "can be Radish (kitchen bed) or Radish (low bed)",
            "did you mean kitchen bed?", "outside of what a garden sees", "The plan has no “pumpkin”", "is not after today", "What do you mean by perhaps?",
        ];
        Assert.Equal(asked.Length, taken.Asked.Length);
        Assert.All(asked.Zip(taken.Asked), pair => Assert.Contains(pair.First, pair.Second, StringComparison.Ordinal));
        Assert.Equal([EntryKind.Done, EntryKind.Note], store.Journal.AsOf("quarry-lane", Morning).Select(entry => entry.Kind));
    }

    [Fact]
    public void The_same_answer_of_two_people_counts_once_and_is_said_kindly()
    {
        using var store = Open();
        Sent(store, Told("pat@example.org", Jobs));
        Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Done([CoverId])]) { Person = "sam@example.org" });

        var second = Take(store, Morning + Duration.FromDays(1), new(AnswerOrigin.Page, [new Answer.Done([CoverId]), new Answer.Skip([CoverId])]) { Person = "pat@example.org" });

        Assert.Equal("Done already, by sam@example.org, yesterday: Cover the tomatoes (low bed).", second.Understood[0].Replace("cover: Tomato (low bed)", "Cover the tomatoes (low bed)", StringComparison.Ordinal));
        Assert.Empty(second.EntryIds);
        Assert.Empty(second.Asked);
        Assert.Single(store.Journal.AsOf("quarry-lane", Morning + Duration.FromDays(2)));
    }

    [Fact]
    public void Two_processes_that_write_the_same_at_once_leave_one_entry()
    {
        using var store = Open();
        var done = new JournalEntry(EntryKind.Done, Today, Morning, CoverId, "tomato", null, null);
        AnswerRow Row(string batch) => new(0, "quarry-lane", batch, null, AnswerOrigin.Page, null, Morning, [], [], Morning);

        store.Answered.Add(Row("a"), [done with { Id = "a-1" }]);
        store.Answered.Add(Row("b"), [done with { Id = "b-1" }]);
        Assert.Equal("a-1", Assert.Single(store.Journal.AsOf("quarry-lane", Morning)).Id);

        // Once taken back, it can be said again.
        Say(store, new Answer.Undo());
        store.Answered.Add(Row("c"), [done with { Id = "c-1" }]);
        Assert.Equal("c-1", Assert.Single(Journal.AsOf(store.Journal.AsOf("quarry-lane", Morning), Morning).Entries).Id);
    }

    [Fact]
    public void A_mail_that_comes_twice_changes_nothing_and_is_answered_as_before()
    {
        using var store = Open();
        var mail = new IncomingAnswers(AnswerOrigin.Mail, [new Answer.Note("slugs", "low bed"), new Answer.Done(["9"])]) { Person = "pat@example.org", Source = Mail };

        var first = Take(store, Morning, mail);
        var again = Take(store, Morning + Duration.FromHours(1), mail);

        Assert.False(first.Repeated);
        Assert.True(again.Repeated);
        Assert.Equal(first.Understood, again.Understood);
        Assert.Equal(first.Asked, again.Asked);
        Assert.Single(store.Journal.AsOf("quarry-lane", Morning + Duration.FromHours(2)));
        // It is owed an acknowledgement until that is sent.
        var owed = Assert.Single(store.Answered.Owed(Morning));
        Assert.Equal((Mail, "pat@example.org"), (owed.Source, owed.Person));
        Assert.True(store.Answered.MarkAcknowledged(owed.Id, Morning).IsWritten);
        Assert.Empty(store.Answered.Owed(Morning));
    }

    [Fact]
    public void Undo_takes_back_what_that_person_said_last_and_nothing_is_deleted()
    {
        using var store = Open();
        Sent(store, Told("pat@example.org", Jobs));
        IncomingAnswers Of(string person, params ImmutableArray<Answer> answers) => new(AnswerOrigin.Mail, answers) { Person = person };
        Take(store, Morning, Of("pat@example.org", new Answer.Done(["1", "2"])));
        Take(store, Morning, Of("sam@example.org", new Answer.Note("slugs")));

        var undone = Take(store, Morning, Of("pat@example.org", new Answer.Undo()));

        Assert.Equal(["Taken back: done, Cover the tomatoes (low bed).", "Taken back: done, Thin the radish (kitchen bed)."], undone.Understood);
        var all = store.Journal.AsOf("quarry-lane", Morning);
        Assert.Equal(5, all.Count);
        Assert.Equal("slugs", Assert.Single(Journal.AsOf(all, Morning).Entries).Text);
        Assert.Contains("Nothing is recorded", Assert.Single(Take(store, Morning, Of("pat@example.org", new Answer.Undo())).Asked), StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_and_pickings_are_kept_with_their_place_and_measure()
    {
        using var store = Open();

        var taken = Say(store,
            new Answer.Reading(ReadingKind.Soil, 14, 0.05, "kitchen"), new Answer.Reading(ReadingKind.Rain, 12, On: Today.PlusDays(-1)), new Answer.Picked("tomatoes", Grams: 1200));

        Assert.Empty(taken.Asked);
        Assert.Equal(
            [
                "Read: soil 14 °C at 5 cm, kitchen bed; nothing is known to hold it against.",
                "Read yesterday: 12 mm of rain; nothing is known to hold it against.",
                "Picked: 1.2 kg of Tomato (low bed).",
            ],
            taken.Understood.Select(said => said.Replace('\u00A0', ' ')));
        var soil = store.Journal.AsOf("quarry-lane", Morning)[0];
        Assert.Equal((ReadingKind.Soil, 14.0, 0.05, "kitchen-bed", null), (soil.Measure!.Value, soil.Value!.Value, soil.DepthMetres!.Value, soil.BedId, soil.Modelled));
        Assert.StartsWith("Noted already", Say(store, new Answer.Reading(ReadingKind.Soil, 14, 0.05, "kitchen bed")).Understood[0], StringComparison.Ordinal);
    }

    [Fact]
    public void What_left_the_plan_keeps_the_name_it_had()
    {
        using var store = Open();
        Say(store, new Answer.Note("best ever", "tomato"));

        var later = Plan with { Plantings = [] };
        var entry = Assert.Single(store.Journal.AsOf(later.GardenId, Morning));

        Assert.Equal("note, “best ever” (Tomato (low bed))", JournalWords.Brief(entry, new(later.Units, Place.Calendar.Zone)));
    }

    [Fact]
    public void A_picture_goes_with_what_was_said_and_what_is_none_is_refused()
    {
        using var store = Open();
        using var bitmap = new SKBitmap(40, 30);
        using var data = bitmap.Encode(SKEncodedImageFormat.Png, 90);
        IncomingPicture[] pictures = [new("bug.png", data.AsStream()), new("words.txt", new MemoryStream([1, 2, 3]))];

        var taken = Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Note("what is this?", "low bed")]) { Source = Mail, Pictures = [.. pictures] });

        Assert.Contains("“words.txt” is no picture", Assert.Single(taken.Asked), StringComparison.Ordinal);
        string file = Assert.Single(store.Journal.AsOf("quarry-lane", Morning)).Pictures!;
        Assert.Equal([store.JournalPictures.PathOf(file)!], Directory.GetFiles(Folder.Pictures));
        Assert.Null(store.JournalPictures.PathOf("../gardenwatch.db"));
    }

    [Fact]
    public void A_message_of_another_garden_is_refused_and_a_full_disk_is_said()
    {
        using var store = Open();
        long other = Sent(store, Told("pat@example.org", Jobs, garden: "another"));
        Assert.Contains("of another garden", Assert.Single(Take(store, Morning, new(AnswerOrigin.Mail, [new Answer.Done(["1"])]) { Message = other }).Asked), StringComparison.Ordinal);

        FillDisk(store);
        var taken = Say(store, new Answer.Note(new string('x', 4000)));
        Assert.NotNull(taken.NotWritten);
        Assert.Empty(taken.Understood);
        Assert.Empty(store.Journal.AsOf("quarry-lane", Morning));
    }
}
