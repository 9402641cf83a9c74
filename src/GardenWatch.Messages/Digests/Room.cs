using System.Collections.Immutable;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Digests;

/// <summary>How much a message holds. Large mail is cut by some readers, and its end with it.</summary>
/// <param name="Jobs">Told in full in each section; the others are named.</param>
/// <param name="Lines">Sowings, beds, notes.</param>
/// <param name="Characters">Of one paragraph.</param>
internal sealed record Room(int Jobs, int Lines, int Characters)
{
    /// <summary>Of text and HTML as they are sent. Some readers cut mail near 102 KB.</summary>
    public const int MostBytes = 95_000;

    /// <summary>The first in which a message stays small enough is taken; hardly any garden needs the second.</summary>
    public static ImmutableArray<Room> Sizes { get; } = [new(8, 15, 900), new(4, 8, 300), new(3, 4, 100)];

    /// <summary>A page is not cut by anybody, and each of its jobs can be answered.</summary>
    public static Room Page { get; } = new(200, 200, 2000);

    public Section Cut(Section section) => section with { Rows = [.. section.Rows.Select(Cut)] };

    private Row Cut(Row row) => row switch
    {
        JobRow job => job with { Paragraphs = [.. job.Paragraphs.Select(p => p with { Text = Plain.Cut(p.Text, Characters) })] },
        SayingRow saying => saying with { Text = Plain.Cut(saying.Text, Characters) },
        QuoteRow quote => quote with { Text = Plain.Cut(quote.Text, Characters) },
        _ => row,
    };
}
