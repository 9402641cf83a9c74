using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Digests;

/// <summary>A digest or warning as plain text, 72 columns wide, sections in capitals.</summary>
public static class DigestText
{
    private const int JobIndent = 2;
    private const int BodyIndent = 5;

    public static string Write(Letter letter)
    {
        var text = new Columns();
        text.Line(letter.Subject);
        if (letter.Lead.Length > 0)
            text.Blank().Line(letter.Lead);
        foreach (var section in letter.Sections)
        {
            text.Blank();
            Write(text, section, letter);
        }
        text.Blank().Line("--").Line(letter.Heading + ".");
        foreach (var line in letter.Foot)
            text.Line(line.Text);
        return text.ToString();
    }

    private static void Write(Columns text, Section section, Letter letter)
    {
        string title = section.Title?.ToUpperInvariant() ?? "";
        if (section.Rows is [QuoteRow quote])
        {
            text.Line($"{title} {quote.Intro}: “{quote.Text}”.");
            return;
        }
        if (title.Length > 0)
            text.Line(title);
        Row? last = null;
        foreach (var row in section.Rows)
        {
            // A job is a block of its own; short lines of one kind stand together.
            if (last is not null && section.Title is not null && (row is JobRow || last is JobRow or WeekRow))
                text.Blank();
            Write(text, row, letter);
            last = row;
        }
    }

    private static void Write(Columns text, Row row, Letter letter)
    {
        switch (row)
        {
            case JobRow job:
                Write(text, job, letter);
                break;
            case SayingRow saying:
                text.Line($"{saying.Label}: {letter.Tongue.WithinSentence(saying.Text)}", JobIndent, JobIndent + 2);
                break;
            case LineRow line:
                text.Line(line.Text, JobIndent);
                break;
            case WeekRow week:
                Write(text, week);
                break;
            case QuoteRow quote:
                text.Line($"{quote.Intro}: “{quote.Text}”.", JobIndent);
                break;
        }
    }

    private static void Write(Columns text, JobRow job, Letter letter)
    {
        string number = job.Number + ".";
        string bed = job.Bed is null ? "" : $" ({job.Bed})";
        string when = job.When is null ? "" : job.Mark == Mark.ByAnHour ? " " + job.When : ", " + job.When;
        text.Line($"{number}\u00A0{job.Deed}{bed}{when}.", JobIndent, BodyIndent);
        foreach (var paragraph in job.Paragraphs)
            text.Line(paragraph.Text, BodyIndent);
        if (job.Mark != Mark.Waiting && letter.JobLinks.TryGetValue(job.Number, out string? link))
            text.Line(letter.Tongue.Say($"Answer job {job.Number} on the page") + ":", BodyIndent).Line(link, BodyIndent);
    }

    private static void Write(Columns text, WeekRow week)
    {
        int day = week.Days.Max(d => Plain.Width(d.Day)), warmth = week.Days.Max(d => Plain.Width(d.Warmth));
        foreach (var d in week.Days)
        {
            string columns = Words.Joined($"{d.Day.PadRight(day)}  {d.Warmth.PadRight(warmth)} ");
            text.Line($"{columns} {d.Weather}", JobIndent, JobIndent + day + warmth + 4);
        }
    }
}
