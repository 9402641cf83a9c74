using System.Collections.Immutable;
using System.Net;
using System.Text.RegularExpressions;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Messages.Tests.Digests;
using GardenWatch.Messages.Tests.Warnings;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Tests.Tongues;

namespace GardenWatch.Messages.Tests.Tongues;

/// <summary>
/// Every sample message in a language that marks what it says: no English is left outside the marks but what the agenda
/// brought along, the gardener's own words, answers, and where the weather is from.
/// </summary>
public sealed partial class MarkedLetterTests
{
    public static TheoryData<string> Names =>
        [.. DigestSamples.Names.Select(row => row.Data).Where(name => name is not ("hostile" or "overgrown"))];

    [Theory]
    [MemberData(nameof(Names))]
    public void No_sentence_of_the_text_is_left_in_plain_English(string name)
    {
        // Lines are broken at blanks; whole again, a mark closes where it opened.
        string text = WhiteSpace().Replace(DigestText.Write(Marked(name)), " ");
        Assert.Equal([], MarkedTongue.Outside(text, Own));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_sentence_of_the_html_is_left_in_plain_English(string name)
    {
        string html = DigestHtml.Write(Marked(name));
        string[] said =
        [
            WebUtility.HtmlDecode(Tag().Replace(Unseen().Replace(html, " "), " ")),
            .. Spoken().Matches(html).Select(match => WebUtility.HtmlDecode(match.Groups["said"].Value)),
        ];
        Assert.All(said, text => Assert.Equal([], MarkedTongue.Outside(WhiteSpace().Replace(text, " "), Own)));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_word_drawn_in_a_picture_is_left_in_plain_English(string name) => Assert.All(
        Marked(name).Pictures.SelectMany(picture => picture.Drawing.Shapes).OfType<Shape.Lettering>(),
        lettering => Assert.Equal([], MarkedTongue.Outside(lettering.Text, [.. Own, .. Own.SelectMany(own => own.Split(' ', ','))])));

    [Theory]
    [MemberData(nameof(Names))]
    public void The_marks_taken_off_it_is_the_English_message(string name)
    {
        string english = DigestHtml.Write(DigestSamples.Of(name)), marked = MarkedTongue.Unmarked(DigestHtml.Write(Marked(name)));
        Assert.Equal(Compared(english), Compared(marked), ignoreCase: true);
    }

    /// <summary>With one form for one and many; without odds, which are told again where the agenda told them in another language.</summary>
    private static string Compared(string html) =>
        Odds().Replace(Plural().Replace(WhiteSpace().Replace(Address().Replace(html, ""), " "), "${noun}"), "").Replace("x-marked", "en", StringComparison.Ordinal)
            .Replace("job suit ", "job suits ", StringComparison.Ordinal);

    private static Letter Marked(string name) => SampleGarden.Speaking(MarkedTongue.Tongue, () => DigestSamples.Of(name));

    private static ImmutableArray<string> Own { get; } =
    [
        "Open-Meteo.com", "CC BY", "Quarry Lane", "done 1", "gardenwatch", "later 2 3 days", "done", "later", "skip", "slugs found the squash the first wet night",
        .. new[]
        {
            SampleGarden.FrostyMorning(), SampleGarden.GranulesBeforeRain(), SampleGarden.QuietMorning(), SampleGarden.StaleWeather(),
            SampleGarden.MissingWeather(), SampleGarden.HotAfternoon(),
            ThreatSamples.Look(17, ThreatSamples.Tie(), ThreatSamples.Shut(), ThreatSamples.Shelter(), ThreatSamples.Shade()),
        }.SelectMany(TextsOf).Concat(["The wind stays lighter, gusts to 27 mph at most"]).Select(text => text.Replace('\u00A0', ' ').TrimEnd('.')).Distinct(),
    ];

    private static IEnumerable<string> TextsOf(Agenda agenda) =>
    [
        .. agenda.Jobs.SelectMany(job => new[] { job.Name, job.BedName ?? "", job.How ?? "", job.Otherwise ?? "" }
            .Concat(job.Reasons.Select(reason => reason.Text)).Concat(job.Cautions).Concat(job.Needs.Select(need => need.Sentence))),
        .. agenda.Sowings.SelectMany(sowing => new[] { sowing.Name, sowing.Crop, sowing.Sentence, Without(sowing.Sentence, sowing.Name) }),
        .. agenda.Beds.SelectMany(bed => new[] { bed.Name, bed.Sentence ?? "", Without(bed.Sentence ?? "", bed.Name) }),
        .. agenda.Notes,
    ];

    private static string Without(string sentence, string name) =>
        sentence.StartsWith(name, StringComparison.OrdinalIgnoreCase) ? sentence[name.Length..].TrimStart(':', ',', ' ') : sentence;

    [GeneratedRegex(@"\s+", RegexOptions.CultureInvariant)]
    private static partial Regex WhiteSpace();

    [GeneratedRegex(@"<style>.*?</style>|<!--.*?-->", RegexOptions.CultureInvariant | RegexOptions.Singleline)]
    private static partial Regex Unseen();

    [GeneratedRegex(@"<[^>]*>", RegexOptions.CultureInvariant)]
    private static partial Regex Tag();

    [GeneratedRegex(@"(alt|aria-label)=""(?<said>[^""]*)""", RegexOptions.CultureInvariant)]
    private static partial Regex Spoken();

    [GeneratedRegex(@" (href|srcset|src|height)=""[^""]*""", RegexOptions.CultureInvariant)]
    private static partial Regex Address();

    [GeneratedRegex(@" ?Chance \d+&#160;in&#160;10, by the forecast’s runs\.", RegexOptions.CultureInvariant)]
    private static partial Regex Odds();

    [GeneratedRegex(@"\b(?<noun>hour|day|minute|gallon|litre|job)s\b", RegexOptions.CultureInvariant)]
    private static partial Regex Plural();
}
