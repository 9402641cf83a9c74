using System.Collections.Immutable;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Messages.Letters;

/// <summary>What a message says, before it is text or HTML. Both twins are written from it, so neither says more.</summary>
/// <remarks>Words carry typographic quotes and no-break spaces; the text twin makes them plain.</remarks>
public abstract record Letter
{
    public required string GardenId { get; init; }
    public required string GardenName { get; init; }
    /// <summary>"Quarry Lane, Tuesday 21 April".</summary>
    public required string Heading { get; init; }
    public required string Subject { get; init; }
    /// <summary>The one deed: "Cover the tomatoes by 7:30 pm".</summary>
    public required string Headline { get; init; }
    /// <summary>The rest of the day in a sentence or a few.</summary>
    public required string Lead { get; init; }
    public required ImmutableArray<Section> Sections { get; init; }
    public required ImmutableArray<FootLine> Foot { get; init; }
    /// <summary>Which job <c>done 1</c> means in this message.</summary>
    public required ImmutableArray<(int Number, string JobId)> Numbers { get; init; }
    /// <summary>Where answers are read; null when this garden reads none, and then no answer links are shown.</summary>
    public string? AnswerAddress { get; init; }
    /// <summary>What the subject of an answer bears that begins a new mail, so that it is known what it answers; null for nothing.</summary>
    public string? AnswerMark { get; init; }
    /// <summary>By number of a job: where it can be answered on the page. Opening it answers nothing.</summary>
    public ImmutableDictionary<int, string> JobLinks { get; init; } = ImmutableDictionary<int, string>.Empty;
    public required DateTimeZone Zone { get; init; }
    /// <summary>The language it is written in.</summary>
    public Tongue Tongue { get; init; } = Tongue.English;
    /// <summary>Stands between the lead and the first section; the text twin has its facts in words.</summary>
    public Picture? Opening { get; init; }

    /// <summary>All pictures, in reading order.</summary>
    internal IEnumerable<Picture> Pictures =>
        [.. Opening is null ? [] : new[] { Opening }, .. Sections.SelectMany(section => section.Rows).OfType<PictureRow>().Select(row => row.Picture)];

    /// <summary>The same letter with each picture as <paramref name="change"/> gives it, or without it where that is null.</summary>
    internal Letter WithPictures(Func<Picture, Picture?> change) => this with
    {
        Opening = Opening is null ? null : change(Opening),
        Sections = [.. Sections.Select(section => section with { Rows = [.. section.Rows.Select(row => Changed(row, change)).OfType<Row>()] })],
    };

    private static Row? Changed(Row row, Func<Picture, Picture?> change) => row is not PictureRow { Picture: var old } ? row
        : change(old) is { } picture ? new PictureRow(picture) : null;
}

/// <summary>A heading and what stands under it. The first section of a short message has no title.</summary>
public sealed record Section(string? Title, ImmutableArray<Row> Rows);

public abstract record Row;

/// <summary>A job under its number.</summary>
/// <param name="When">"by 7:30 pm", "5:30 to 7:45 pm", "likely 6 to 15 May"; null when nothing is known.</param>
public sealed record JobRow(
    int Number, string Deed, string? Bed, string? When, Mark Mark, ImmutableArray<Paragraph> Paragraphs) : Row;

/// <summary>"Radish, batch 1 | Swelling. 380 of 520 degree-days".</summary>
public sealed record SayingRow(string Label, string Text) : Row;

public sealed record LineRow(string Text) : Row;

/// <param name="Intro">Goes on from the section's title: "you wrote".</param>
public sealed record QuoteRow(string Intro, string Text) : Row;

/// <summary>In HTML alone; what it shows is said in the rows beside it.</summary>
public sealed record PictureRow(Picture Picture) : Row;

public sealed record WeekRow(ImmutableArray<WeekDay> Days) : Row;

public sealed record WeekDay(string Day, string Warmth, string Weather);

/// <summary>How pressing a job is: drawn as its number's square.</summary>
public enum Mark { ByAnHour, Now, Waiting }

public enum Voice
{
    /// <summary>What was measured or expected, what is needed, what it does.</summary>
    Evidence,
    /// <summary>How, cautions, and what else.</summary>
    Advice,
}

public sealed record Paragraph(Voice Voice, string Text);

/// <summary>A line of the foot; each of the links is a few words of the text and an address.</summary>
public sealed record FootLine(string Text, ImmutableArray<(string Words, string Address)> Links)
{
    public FootLine(string text)
        : this(text, [])
    {
    }
}
