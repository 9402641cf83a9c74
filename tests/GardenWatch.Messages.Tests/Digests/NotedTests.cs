using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Tests.Tongues;
using NodaTime;

namespace GardenWatch.Messages.Tests.Digests;

/// <summary>What the next digest says of the answers that came in.</summary>
public sealed class NotedTests
{
    private static readonly LocalDate Monday = SampleGarden.Tuesday.PlusDays(-1);
    private static readonly Instant LastDigest = SampleGarden.At(Monday, 6);

    private static readonly ImmutableArray<JournalEntry> Answers =
    [
        Of(EntryKind.Note, 5) with { Text = "before the last digest", RecordedAt = LastDigest },
        Of(EntryKind.Done, 18) with { About = "Cover the tomatoes (low bed)", JobId = "x", Person = "pat@example.org" },
        Of(EntryKind.Done, 18) with { About = "Thin the beets (kitchen bed)", JobId = "y", Person = "sam@example.org", BedId = "kitchen" },
        Of(EntryKind.Reading, 19) with { Measure = ReadingKind.Soil, Value = 14, DepthMetres = 0.0508, Modelled = 12, About = "kitchen bed", BedId = "kitchen" },
        Of(EntryKind.Picked, 19) with { Grams = 1200, About = "Tomato (low bed)" },
        Of(EntryKind.Note, 20) with { Text = "slugs", About = "low bed", BedId = "low" },
        Of(EntryKind.Note, 20) with { Text = "of a table", Origin = AnswerOrigin.Import },
    ];

    private static JournalEntry Of(EntryKind kind, int hour) => new(kind, Monday, SampleGarden.At(Monday, hour), null, null, null, null);

    private static string[] NotedIn(Letter letter) =>
        [.. letter.Sections.SingleOrDefault(section => section.Title == "Noted")?.Rows.Cast<LineRow>().Select(row => row.Text.Replace('\u00A0', ' ')) ?? []];

    [Fact]
    public void What_was_answered_since_the_last_digest_is_said_back_once()
    {
        var told = Digest.Of(SampleGarden.FrostyMorning(), Answers, SampleGarden.Pat, DigestOccasion.OnTime with { NotedSince = LastDigest });

        Assert.Equal(
            [
                "Done yesterday: Cover the tomatoes (low bed).",
                "Done yesterday: Thin the beets (kitchen bed) (sam@example.org).",
                "Read yesterday: soil 57 °F at 2 in, kitchen bed; the model had 54 °F.",
                "Picked yesterday: 2.6 lb of Tomato (low bed).",
                "Noted yesterday: “slugs” (low bed).",
            ],
            NotedIn(told));
        Assert.Empty(NotedIn(Digest.Of(SampleGarden.FrostyMorning(), Answers, SampleGarden.Pat, DigestOccasion.OnTime with { NotedSince = SampleGarden.At(Monday, 20) })));
        Assert.Empty(NotedIn(Digest.Of(SampleGarden.FrostyMorning(), Answers, SampleGarden.Pat, DigestOccasion.OnTime)));
    }

    [Fact]
    public void It_is_said_on_a_quiet_morning_too_and_a_long_list_is_cut()
    {
        var many = Enumerable.Range(0, 9).Select(n => Answers[1] with { About = $"job {n}" }).ToImmutableArray();

        string[] noted = NotedIn(Digest.Of(SampleGarden.QuietMorning(), many, SampleGarden.Kim, DigestOccasion.OnTime with { NotedSince = LastDigest }));

        Assert.Equal(7, noted.Length);
        Assert.Equal("And 3 more.", noted[^1]);
    }

    [Fact]
    public void Who_tends_some_beds_is_told_of_those() => Assert.DoesNotContain(
        NotedIn(Digest.Of(
            SampleGarden.FrostyMorning(), Answers, SampleGarden.Pat with { BedIds = ["low"] }, DigestOccasion.OnTime with { NotedSince = LastDigest })),
        line => line.Contains("kitchen", StringComparison.Ordinal));

    [Fact]
    public void A_year_ago_tells_of_what_was_picked()
    {
        JournalEntry[] picked = [Of(EntryKind.Picked, 19) with { Date = SampleGarden.Tuesday.PlusYears(-1).PlusDays(2), Pieces = 3, About = "Winter squash (kitchen bed)" }];

        var row = Assert.IsType<QuoteRow>(Assert.Single(Digest.Of(SampleGarden.FrostyMorning(), picked, SampleGarden.Pat, DigestOccasion.OnTime)
            .Sections.Single(section => section.Title == "A year ago").Rows));

        Assert.Equal(("you picked", "3 Winter squash (kitchen bed)"), (row.Intro, row.Text));
    }

    [Fact]
    public void No_word_of_it_is_left_in_plain_English()
    {
        var letter = SampleGarden.Speaking(MarkedTongue.Tongue, () =>
            Digest.Of(SampleGarden.FrostyMorning(), Answers, SampleGarden.Pat, DigestOccasion.OnTime with { NotedSince = LastDigest }));
        string[] own = ["Cover the tomatoes (low bed)", "Thin the beets (kitchen bed)", "kitchen bed", "Tomato (low bed)", "slugs", "low bed", "sam@example.org"];

        Assert.Equal([], letter.Sections.SelectMany(section => section.Rows).OfType<LineRow>()
            .Where(row => own.Any(word => row.Text.Contains(word, StringComparison.Ordinal)) && row.Text.Contains('(', StringComparison.Ordinal))
            .SelectMany(row => MarkedTongue.Outside(row.Text.Replace('\u00A0', ' '), [.. own])));
    }
}
