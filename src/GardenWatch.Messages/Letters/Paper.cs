namespace GardenWatch.Messages.Letters;

/// <summary>The colours of one kind of paper; each pair that carries words keeps 4.5 to 1.</summary>
/// <param name="Edge">Outlines and ticks: 3 to 1.</param>
/// <param name="Rule">Hairlines, like <paramref name="Square"/> and <paramref name="Band"/> never the only carrier of a fact.</param>
/// <param name="Square">The squares of the paper under a plan.</param>
/// <param name="Band">Between the day's high and the night's low.</param>
public sealed record Paper(
    string Ground, string Ink, string Pencil, string Red, string Blue, string Rule, string Edge, string Square, string Band)
{
    public static Paper Light { get; } =
        new("#FBFCFA", "#18222B", "#56616A", "#AE2A1C", "#24559F", "#C6CED2", "#7C878E", "#E2E8EA", "#D5DCDF");

    public static Paper Dark { get; } =
        new("#1B2226", "#E8ECE9", "#A7B3B9", "#F4978A", "#8DB9F3", "#3E4A51", "#74828A", "#2A3439", "#37434A");
}

/// <summary>Inline styles: a mail reader that drops the style element keeps the layout.</summary>
internal static class Styles
{
    private const string Sans = "-apple-system,'Segoe UI',Roboto,'Noto Sans',Helvetica,Arial,sans-serif";
    private const string Serif = "Charter,'Bitstream Charter','Iowan Old Style','Sitka Text',Cambria,'Noto Serif',Georgia,serif";
    /// <summary>Of the column, in px.</summary>
    public const int PictureWidth = 446;
    private static readonly Paper Day = Paper.Light;
    private static readonly Paper Night = Paper.Dark;

    public static readonly string Body = $"margin:0;padding:0;background:{Day.Ground};-webkit-text-size-adjust:100%";
    public static readonly string Sheet =
        $"max-width:568px;margin:0 auto;padding:22px 16px 40px;background:{Day.Ground};color:{Day.Ink};font:16px/1.5 {Sans};overflow-wrap:break-word";
    public static readonly string Heading = $"margin:0 0 18px;font-size:15px;line-height:1.4;color:{Day.Pencil}";
    public static readonly string Headline = $"margin:0 0 8px;font:bold 31px/1.18 {Serif};color:{Day.Ink};letter-spacing:-.2px";
    public static readonly string Lead = $"margin:0 0 20px;font:18px/1.5 {Serif};color:{Day.Ink}";
    public static readonly string Title = $"margin:30px 0 13px;padding:9px 0 0;border-top:1px solid {Day.Ink};font:normal 21px/1.3 {Serif};color:{Day.Ink}";
    public static readonly string FirstTitle = $"margin:22px 0 13px;padding:9px 0 0;border-top:2px solid {Day.Ink};font:normal 21px/1.3 {Serif};color:{Day.Ink}";
    public const string Pair = "margin:0 0 18px";
    public const string ClosePair = "margin:0 0 4px";
    public const string Margin = "display:inline-block;width:100%;max-width:122px;vertical-align:top";
    public const string Column = "display:inline-block;width:100%;max-width:446px;vertical-align:top";
    public static readonly string When = $"margin:0;padding:3px 10px 1px 0;font-size:15px;line-height:1.35;color:{Day.Pencil}";
    public static readonly string WhenBy = $"margin:0;padding:3px 10px 1px 0;font-weight:bold;font-size:15px;line-height:1.35;color:{Day.Red}";
    public static readonly string Deed = $"margin:0 0 4px;font:bold 20px/1.3 {Serif};color:{Day.Ink}";
    public static readonly string Bed = $"font:normal 15px/1.3 {Sans};color:{Day.Pencil}";
    public static readonly string Evidence = $"margin:0 0 6px;color:{Day.Ink}";
    public static readonly string Advice = $"margin:0 0 6px;font-size:15px;color:{Day.Pencil}";
    public const string Answers = "margin:-2px 0 0;font-size:15px;line-height:1.4";
    public static readonly string Answer = $"display:inline-block;padding:12px 22px 12px 0;color:{Day.Blue};text-decoration:underline";
    public static readonly string Link = $"color:{Day.Blue}";
    public static readonly string Table = $"width:100%;border-collapse:collapse;margin:0 0 14px;font:15px/1.4 {Sans};color:{Day.Ink}";
    public static readonly string Caption = $"text-align:left;font-size:15px;padding:0 0 2px;color:{Day.Pencil}";
    public static readonly string ColumnHead = $"padding:5px 12px 5px 0;font-weight:normal;text-align:left;vertical-align:top;color:{Day.Pencil}";
    public static readonly string RowHead = $"padding:5px 12px 5px 0;border-top:1px solid {Day.Rule};font-weight:bold;text-align:left;vertical-align:top;white-space:nowrap;color:{Day.Ink}";
    public static readonly string Cell = $"padding:5px 12px 5px 0;border-top:1px solid {Day.Rule};vertical-align:top;color:{Day.Ink}";
    public static readonly string Picture =
        $"display:block;width:100%;max-width:{PictureWidth}px;height:auto;border:0;margin:2px 0 0;font:15px/1.5 {Sans};color:{Day.Pencil}";
    public static readonly string UnderPicture = $"margin:4px 0 0;font-size:14px;color:{Day.Pencil}";
    public static readonly string Quote = $"margin:0;padding:2px 0 2px 16px;border-left:1.5px solid {Day.Pencil};font:italic 19px/1.5 {Serif};color:{Day.Ink}";
    public static readonly string Foot = $"margin:34px 0 0;padding:10px 0 0;border-top:1px solid {Day.Rule}";
    public static readonly string FootLine = $"margin:0 0 6px;font-size:14px;color:{Day.Pencil}";

    /// <summary>The square of a job's number.</summary>
    public static (string Class, string Style) Square(Mark mark)
    {
        var (name, line, figure, ground) = mark switch
        {
            Mark.ByAnHour => ("no by", Day.Red, Day.Red, ""),
            Mark.Now => ("no now", Day.Ink, Day.Ground, $"background:{Day.Ink};"),
            _ => ("no waitno", Day.Pencil, Day.Pencil, ""),
        };
        return (name, $"display:inline-block;min-width:21px;margin:0 5px 0 0;border:1.5px solid {line};{ground}color:{figure};"
            + $"font:bold 15px/21px {Sans};text-align:center;vertical-align:2px");
    }

    /// <summary>Small screens, dark paper, print. The layout needs none of it.</summary>
    public static readonly string Sheets = $$"""
        :root{color-scheme:light dark}
        @media (max-width:599px){ .when{max-width:none!important} }
        @media screen and (prefers-color-scheme:dark){
        .paper{background:{{Night.Ground}}!important}
        .ink{color:{{Night.Ink}}!important}
        .pencil,.waitno{color:{{Night.Pencil}}!important}
        .red,.by{color:{{Night.Red}}!important}
        .blue{color:{{Night.Blue}}!important}
        .rule{border-top-color:{{Night.Ink}}!important}
        .cell{border-top-color:{{Night.Rule}}!important}
        .no.by{border-color:{{Night.Red}}!important}
        .no.waitno{border-color:{{Night.Pencil}}!important}
        .no.now{background:{{Night.Ink}}!important;border-color:{{Night.Ink}}!important;color:{{Night.Ground}}!important}
        .quote{border-left-color:{{Night.Pencil}}!important}
        }
        @media print{
        .paper,.no.now{background:none!important}
        .no.now{color:#000!important;border-color:#000!important}
        .answers{display:none}
        img{max-width:330px!important}
        h2,h3,thead{break-after:avoid}
        .job,tr,img{break-inside:avoid}
        }
        """;
}
