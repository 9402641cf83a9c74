using System.Globalization;
using System.Text;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

/// <summary>
/// Writes a drawing as SVG to stand in a page. Colours are classes that the page's sheet gives, so that they are those of its
/// paper by day, by night and in print; no style stands in it, which a strict page would not let through.
/// </summary>
internal static class SvgWriter
{
    /// <param name="id">Of the element; those of its title and description are made of it.</param>
    /// <param name="kind">A class of the element.</param>
    public static string Write(Drawing drawing, string id, string kind, string title, string description)
    {
        var svg = new Html();
        string width = Px(drawing.Width), height = Px(drawing.Height);
        svg.Open("svg", ("class", kind), ("viewBox", $"0 0 {width} {height}"), ("width", width), ("height", height), ("role", "img"), ("aria-labelledby", $"{id}-t {id}-d"))
            .Leaf("title", title, ("id", id + "-t"))
            .Leaf("desc", description, ("id", id + "-d"));
        foreach (var shape in drawing.Shapes)
            Write(svg, shape);
        return svg.Close().ToString();
    }

    private static void Write(Html svg, Shape shape)
    {
        switch (shape)
        {
            case Shape.Block(var box, var fill, var pen):
                svg.Void("rect", [("x", Px(box.X)), ("y", Px(box.Y)), ("width", Px(box.Width)), ("height", Px(box.Height)), .. Coloured(fill, pen)]);
                break;
            case Shape.Ring(var centre, var radius, var fill, var pen):
                svg.Void("circle", [("cx", Px(centre.X)), ("cy", Px(centre.Y)), ("r", Px(radius)), .. Coloured(fill, pen)]);
                break;
            case Shape.Trace(var through, var closed, var fill, var pen):
                var path = new StringBuilder();
                foreach (var (i, spot) in through.Index())
                    path.Append(i == 0 ? 'M' : 'L').Append(Px(spot.X)).Append(' ').Append(Px(spot.Y));
                svg.Void("path", [("d", closed ? path.Append('Z').ToString() : path.ToString()), .. Coloured(fill, pen)]);
                break;
            case Shape.Lettering words:
                svg.Leaf("text", words.Text, ("x", Px(words.Start.X)), ("y", Px(words.Start.Y)), ("font-size", Px(words.Size)),
                    // Places were found with the program's own font; in a wider one words would lie over each other.
                    ("textLength", Px(PictureFont.Width(words.Text, words.Size, words.Bold))), ("lengthAdjust", "spacingAndGlyphs"),
                    ("class", "w f-" + Name(words.Tone) + (words.Bold ? " b" : "") + (words.Halo ? " halo" : "")));
                break;
        }
    }

    private static IEnumerable<(string, string)> Coloured(Tone? fill, Pen? pen)
    {
        string filled = fill is { } tone ? "f-" + Name(tone) : "f-none";
        if (pen is null)
        {
            yield return ("class", filled);
            yield break;
        }
        yield return ("class", $"{filled} s-{Name(pen.Tone)}");
        if (pen.Width != 1)
            yield return ("stroke-width", Px(pen.Width));
        if (!pen.Dash.IsEmpty)
            yield return ("stroke-dasharray", string.Join(' ', pen.Dash.Select(dash => Px(dash))));
    }

    private static string Name(Tone tone) => tone switch
    {
        Tone.Ground => "paper",
        Tone.Ink => "ink",
        Tone.Pencil => "pencil",
        Tone.Red => "red",
        Tone.Blue => "blue",
        Tone.Edge => "edge",
        Tone.Rule => "rule",
        Tone.Square => "square",
        _ => "band",
    };

    private static string Px(double value) => Math.Round(value, 1).ToString("0.#", CultureInfo.InvariantCulture);
}
