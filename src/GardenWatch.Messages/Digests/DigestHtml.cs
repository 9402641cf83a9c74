using System.Globalization;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Tongues;

namespace GardenWatch.Messages.Digests;

/// <summary>
/// A digest or warning as HTML: the margin says when, the column says what. Well-formed, without scripts
/// or anything fetched; inline styles hold the layout, and pictures come in the same mail.
/// </summary>
public static class DigestHtml
{
    public static string Write(Letter letter)
    {
        var html = new Html();
        html.Fixed("<!DOCTYPE html>\n").Open("html", ("lang", letter.Tongue.Code));
        Head(html, letter);
        // One desktop mail program knows no max-width; only it reads these two comments.
        html.Open("body", ("class", "paper"), ("style", Styles.Body)).NewLine()
            .Fixed("<!--[if mso]><table role=\"presentation\" width=\"600\" align=\"center\"><tr><td><![endif]-->\n")
            .Open("div", ("class", "paper ink"), ("lang", letter.Tongue.Code), ("style", Styles.Sheet)).NewLine()
            .Leaf("p", letter.Heading, ("class", "pencil"), ("style", Styles.Heading)).NewLine()
            .Leaf("h1", letter.Headline, ("class", "ink"), ("style", Styles.Headline)).NewLine();
        if (letter.Lead.Length > 0)
            html.Leaf("p", letter.Lead, ("class", "ink"), ("style", Styles.Lead)).NewLine();
        if (letter.Opening is { } opening)
            Drawn(html, opening);
        bool first = true;
        foreach (var section in letter.Sections)
        {
            Section(html, letter, section, first);
            first = false;
        }
        Foot(html, letter);
        return html.Close().NewLine().Fixed("<!--[if mso]></td></tr></table><![endif]-->\n").Close().Close().NewLine().ToString();
    }

    private static void Head(Html html, Letter letter) => html
        .Open("head")
        .Void("meta", ("charset", "utf-8"))
        .Void("meta", ("name", "viewport"), ("content", "width=device-width,initial-scale=1"))
        .Void("meta", ("name", "color-scheme"), ("content", "light dark"))
        .Void("meta", ("name", "supported-color-schemes"), ("content", "light dark"))
        .NewLine().Leaf("title", letter.Subject)
        .NewLine().Fixed("<style>\n").Fixed(Styles.Sheets).Fixed("\n</style>")
        .Close().NewLine();

    private static void Section(Html html, Letter letter, Section section, bool first)
    {
        var quote = section.Rows is [QuoteRow only] ? only : null;
        if (section.Title is { } title)
            html.Leaf("h2", quote is null ? title : $"{title} {quote.Intro}", ("class", "ink rule"), ("style", first ? Styles.FirstTitle : Styles.Title)).NewLine();
        for (int i = 0; i < section.Rows.Length; i++)
        {
            bool sayingFollows = section.Rows[i] is SayingRow && i + 1 < section.Rows.Length && section.Rows[i + 1] is SayingRow;
            Row(html, letter, section.Rows[i], sayingFollows ? Styles.ClosePair : Styles.Pair);
            html.NewLine();
        }
    }

    private static void Row(Html html, Letter letter, Row row, string space)
    {
        switch (row)
        {
            case JobRow job:
                Job(html, letter, job, space);
                break;
            case SayingRow saying:
                Pair(html, space, saying.Label, pressing: false);
                html.Leaf("p", saying.Text, ("class", "ink"), ("style", Styles.Evidence)).Close().Close();
                break;
            case LineRow line:
                html.Leaf("p", line.Text, ("class", "pencil"), ("style", Styles.Advice));
                break;
            case PictureRow drawn:
                Drawn(html, drawn.Picture);
                break;
            case WeekRow week:
                Week(html, letter.Tongue, week);
                break;
            case QuoteRow quote:
                html.Leaf("blockquote", quote.Text, ("class", "ink quote"), ("style", Styles.Quote));
                break;
        }
    }

    /// <summary>Opens the row and its column; the margin is written. Two elements stay open.</summary>
    private static void Pair(Html html, string space, string? when, bool pressing)
    {
        html.Open("div", ("class", "job"), ("style", space)).Open("div", ("class", "when"), ("style", Styles.Margin));
        if (when is not null)
            html.Leaf("p", when, ("class", pressing ? "red" : "pencil"), ("style", pressing ? Styles.WhenBy : Styles.When));
        html.Close().Open("div", ("style", Styles.Column));
    }

    private static void Job(Html html, Letter letter, JobRow job, string space)
    {
        Pair(html, space, job.When, job.Mark == Mark.ByAnHour);
        var (name, style) = Styles.Square(job.Mark);
        html.Open("h3", ("class", "ink"), ("style", Styles.Deed))
            .Leaf("span", $"{job.Number}", ("class", name), ("style", style))
            .Text(" " + job.Deed);
        if (job.Bed is not null)
            html.Text(" ").Leaf("span", job.Bed, ("class", "pencil"), ("style", Styles.Bed));
        html.Close();
        foreach (var paragraph in job.Paragraphs)
        {
            var (ink, voice) = paragraph.Voice == Voice.Evidence ? ("ink", Styles.Evidence) : ("pencil", Styles.Advice);
            html.Leaf("p", paragraph.Text, ("class", ink), ("style", voice));
        }
        if (letter.AnswerAddress is { } address && job.Mark != Mark.Waiting)
            Answers(html, letter, address, job);
        if (job.Mark != Mark.Waiting && letter.JobLinks.TryGetValue(job.Number, out string? link))
        {
            string words = letter.Tongue.Say($"Answer job {job.Number} on the page");
            html.Open("p", ("class", "answers"), ("style", Styles.Answers))
                .Leaf("a", words, ("class", "blue"), ("href", link), ("aria-label", $"{words}: {job.Deed}"), ("style", Styles.Answer)).Close();
        }
        html.Close().Close();
    }

    /// <summary>The dark twin where a reader takes it, else the light one on its own paper.</summary>
    private static void Drawn(Html html, Picture picture)
    {
        Pair(html, Styles.Pair, picture.Label, pressing: false);
        html.Open("picture");
        if (picture.HasDark)
            html.Void("source", ("srcset", "cid:" + picture.ContentId(dark: true)), ("media", "screen and (prefers-color-scheme: dark)"));
        int height = (int)Math.Round(Styles.PictureWidth * picture.Steepness);
        html.Void("img", ("src", "cid:" + picture.ContentId(dark: false)), ("alt", picture.Alt),
            ("width", Styles.PictureWidth.ToString(CultureInfo.InvariantCulture)), ("height", height.ToString(CultureInfo.InvariantCulture)),
            ("style", Styles.Picture)).Close();
        if (picture.Caption is { } caption)
            html.Leaf("p", caption, ("class", "pencil"), ("style", Styles.UnderPicture));
        html.Close().Close().NewLine();
    }

    private static void Answers(Html html, Letter letter, string address, JobRow job)
    {
        html.Open("p", ("class", "answers"), ("style", Styles.Answers));
        foreach (string answer in (ReadOnlySpan<string>)["done", "later", "skip"])
        {
            string link = $"mailto:{Uri.EscapeDataString(address).Replace("%40", "@", StringComparison.Ordinal)}"
                + $"?subject={Uri.EscapeDataString($"Re: {letter.Subject}{(letter.AnswerMark is { } mark ? $" [{mark}]" : "")}")}&body={Uri.EscapeDataString($"{answer} {job.Number}")}";
            html.Leaf("a", $"{answer} {job.Number}", ("class", "blue"), ("href", link),
                ("aria-label", $"{answer} {job.Number}: {job.Deed}"), ("style", Styles.Answer));
            html.Text(" ");
        }
        html.Close();
    }

    private static void Week(Html html, Tongue tongue, WeekRow week)
    {
        html.Open("table", ("class", "ink"), ("style", Styles.Table)).NewLine()
            .Leaf("caption", tongue.Say($"The week, day by day"), ("class", "pencil"), ("style", Styles.Caption))
            .Open("thead").Open("tr");
        foreach (string head in (ReadOnlySpan<string>)[tongue.Say($"Day"), tongue.Say($"High and night’s low"), tongue.Say($"Weather")])
            html.Leaf("th", head, ("scope", "col"), ("class", "pencil"), ("style", Styles.ColumnHead));
        html.Close().Close().NewLine().Open("tbody");
        foreach (var day in week.Days)
        {
            html.Open("tr")
                .Leaf("th", day.Day, ("scope", "row"), ("class", "cell ink"), ("style", Styles.RowHead))
                .Leaf("td", day.Warmth, ("class", "cell ink"), ("style", Styles.Cell))
                .Leaf("td", day.Weather, ("class", "cell ink"), ("style", Styles.Cell))
                .Close().NewLine();
        }
        html.Close().Close();
    }

    private static void Foot(Html html, Letter letter)
    {
        html.Open("div", ("class", "cell"), ("style", Styles.Foot));
        foreach (var line in letter.Foot)
        {
            html.Open("p", ("class", "pencil"), ("style", Styles.FootLine));
            string rest = line.Text;
            foreach (var (words, address) in line.Links)
            {
                int at = rest.IndexOf(words, StringComparison.Ordinal);
                if (at < 0)
                    continue;
                html.Text(rest[..at]).Leaf("a", words, ("class", "blue"), ("href", address), ("style", Styles.Link));
                rest = rest[(at + words.Length)..];
            }
            html.Text(rest).Close().NewLine();
        }
        html.Close().NewLine();
    }
}
