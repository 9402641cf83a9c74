using System.Globalization;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using CsCheck;
using GardenWatch.Messages.Digests;

namespace GardenWatch.Messages.Tests.Digests;

/// <summary>What holds of every message, whatever the garden is called and however much there is to do.</summary>
public sealed partial class DigestLawTests
{
    public static TheoryData<string> Names => DigestSamples.Names;

    [Theory]
    [MemberData(nameof(Names))]
    public void No_line_of_the_text_is_wider_than_72_columns(string name) =>
        Assert.All(DigestText.Write(DigestSamples.Of(name)).Split('\n'), line => Assert.True(Width(line) <= 72 || line.Contains("https://", StringComparison.Ordinal), line));

    [Theory]
    [MemberData(nameof(Names))]
    public void The_html_is_well_formed_and_speaks_of_its_language(string name)
    {
        var html = Parsed(name);
        Assert.Equal("en", html.Root!.Attribute("lang")!.Value);
        Assert.Single(html.Descendants("h1"));
        Assert.DoesNotContain(html.Descendants(), element => element.Name.LocalName is "script" or "link" or "iframe" or "form");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Headings_go_down_one_step_at_a_time(string name)
    {
        var levels = Parsed(name).Descendants().Select(e => e.Name.LocalName).Where(n => n is ['h', >= '1' and <= '6']).Select(n => n[1] - '0').ToArray();
        Assert.Equal(1, levels[0]);
        // A short message has no section titles, and its jobs hang from the headline.
        int step = levels.Contains(2) ? 1 : 2;
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second - pair.First <= step, $"h{pair.First}, h{pair.Second}"));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Nothing_is_fetched_and_links_are_answers_or_the_credit(string name)
    {
        var html = Parsed(name);
        Assert.All(html.Descendants().Attributes().Where(attribute => attribute.Name.LocalName is "src" or "srcset" or "background"),
            attribute => Assert.StartsWith("cid:", attribute.Value, StringComparison.Ordinal));
        Assert.DoesNotContain("url(", DigestHtml.Write(DigestSamples.Of(name)), StringComparison.OrdinalIgnoreCase);
        Assert.All(html.Descendants("a").Select(a => a.Attribute("href")!.Value), link => Assert.True(
            link.StartsWith("mailto:quarry-lane@example.org?", StringComparison.Ordinal)
            || link is "https://open-meteo.com/" or "https://creativecommons.org/licenses/by/4.0/", link));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_html_stays_under_100_KB(string name) =>
        Assert.InRange(System.Text.Encoding.UTF8.GetByteCount(DigestHtml.Write(DigestSamples.Of(name))), 1_000, 99_999);

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_word_of_the_text_is_in_the_html(string name)
    {
        // Cut words of hostile names wrap differently; the twins of one model are compared on whole words.
        var html = Tally(string.Join(' ', Parsed(name).DescendantNodes().OfType<XText>().Where(t => t.Parent!.Name != "style").Select(t => t.Value)));
        foreach (var (word, count) in Tally(DigestText.Write(DigestSamples.Of(name))).Where(w => w.Key.Length < 40))
            Assert.True(html.GetValueOrDefault(word) >= count, $"\"{word}\" stands {count} times in the text, {html.GetValueOrDefault(word)} times in the HTML");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_numbered_job_bears_its_number_in_both_twins(string name)
    {
        var letter = DigestSamples.Of(name);
        Assert.Equal(Enumerable.Range(1, letter.Numbers.Length), letter.Numbers.Select(n => n.Number));
        Assert.Equal(letter.Numbers.Length, letter.Numbers.Select(n => n.JobId).Distinct().Count());
        var squares = Parsed(name).Descendants("h3").Select(h => int.Parse(h.Element("span")!.Value, CultureInfo.InvariantCulture)).ToArray();
        var lines = NumberedLine().Matches(DigestText.Write(letter)).Select(m => int.Parse(m.Groups[1].Value, CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal(squares, lines);
        Assert.All(squares, square => Assert.Contains(letter.Numbers, n => n.Number == square));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_control_or_direction_character_is_left(string name)
    {
        var letter = DigestSamples.Of(name);
        string all = DigestText.Write(letter) + DigestHtml.Write(letter) + letter.Subject;
        Assert.DoesNotContain(all, c => c is not '\n' && (char.IsControl(c) || CharUnicodeInfo.GetUnicodeCategory(c) == UnicodeCategory.Format));
        Assert.DoesNotContain('\n', letter.Subject);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_week_is_a_table_whose_cells_have_heads(string name)
    {
        foreach (var table in Parsed(name).Descendants("table"))
        {
            Assert.All(table.Element("thead")!.Descendants("th"), head => Assert.Equal("col", head.Attribute("scope")!.Value));
            Assert.All(table.Element("tbody")!.Elements("tr"), row => Assert.Equal("row", row.Element("th")!.Attribute("scope")!.Value));
            Assert.NotEmpty(table.Element("caption")!.Value);
        }
    }

    [Fact]
    public void The_first_60_characters_of_a_subject_hold_the_day_and_the_deed_with_its_hour() =>
        Gen.Select(Gen.String[Gen.Char, 0, 200], Gen.Int[0, 23], Gen.Int[0, 59], Gen.Int[0, 40]).Sample((name, hour, minute, others) =>
        {
            var first = SampleGarden.CoverTomatoes(SampleGarden.Tuesday) with { Name = name, ActBy = SampleGarden.At(SampleGarden.Tuesday, hour, minute) };
            var agenda = SampleGarden.On(SampleGarden.Tuesday, [first, .. Enumerable.Range(0, others).Select(i => SampleGarden.StartSquash() with { Id = $"{i}" })]) with { Week = SampleGarden.FrostyWeek() };
            var digest = Digest.Of(agenda, [], SampleGarden.Pat, DigestOccasion.OnTime);
            string deedAndHour = digest.Subject.Split(", ")[0];
            Assert.Contains($" by {(hour % 12 == 0 ? 12 : hour % 12)}", digest.Subject, StringComparison.Ordinal);
            int end = digest.Subject.IndexOf(hour < 12 ? " am" : " pm", StringComparison.Ordinal) + 3;
            Assert.InRange(Width(digest.Subject[..end]), 3, 60);
            Assert.StartsWith("Tue 21 April: ", deedAndHour, StringComparison.Ordinal);
            Assert.InRange(Width(digest.Subject), 0, 100);
            Assert.All(DigestText.Write(digest).Split('\n'), line => Assert.InRange(Width(line), 0, 72));
            XDocument.Parse(DigestHtml.Write(digest));
        }, iter: 300);

    [Theory]
    [InlineData("frosty-morning")]
    [InlineData("hot-sunday")]
    [InlineData("late-after-outage")]
    [InlineData("frost-warning")]
    public void The_tone_is_calm_and_nothing_is_called_safe(string name) =>
        Assert.DoesNotMatch(@"(?i)!|\bsafe|overdue|forg[eo]t|failed to|well done|%", DigestText.Write(DigestSamples.Of(name)));

    [Fact]
    public void The_same_morning_gives_the_same_words() =>
        Assert.Equal(DigestHtml.Write(DigestSamples.Of("frosty-morning")), DigestHtml.Write(DigestSamples.Of("frosty-morning")));

    private static XDocument Parsed(string name) => XDocument.Parse(DigestHtml.Write(DigestSamples.Of(name)));

    private static int Width(string line) => new StringInfo(line).LengthInTextElements;

    private static Dictionary<string, int> Tally(string text) =>
        Word().Matches(text.Replace('’', '\'').ToLowerInvariant()).CountBy(match => match.Value).ToDictionary();

    [GeneratedRegex(@"[\p{L}\p{N}][\p{L}\p{N}']*")]
    private static partial Regex Word();

    [GeneratedRegex(@"^  (\d+)\. ", RegexOptions.Multiline)]
    private static partial Regex NumberedLine();
}
