using SkiaSharp;

namespace GardenWatch.Messages.Pictures;

/// <summary>The font that the program brings with it: a bare machine has none, and pictures would lose their words.</summary>
internal static class PictureFont
{
    private static readonly Lazy<SKTypeface> Regular = new(() => Load("font/NotoSans-Regular"));
    private static readonly Lazy<SKTypeface> Bold = new(() => Load("font/NotoSans-Bold"));

    /// <summary>Without hinting, so that letters are as wide as measured at any size.</summary>
    public static SKFont Of(double size, bool bold) => new((bold ? Bold : Regular).Value, (float)size)
    {
        Edging = SKFontEdging.Antialias,
        Hinting = SKFontHinting.None,
        Subpixel = true,
        LinearMetrics = true,
    };

    /// <summary>Whether each letter can be drawn; a box in place of one would be no word.</summary>
    public static bool Knows(string text)
    {
        using var font = Of(12, bold: false);
        return text.Length > 0 && font.ContainsGlyphs(text);
    }

    public static double Width(string text, double size, bool bold = false) => Measure(text, size, bold).Advance;

    /// <summary>How far the text advances, and what its ink covers when it starts at (0, 0).</summary>
    public static (double Advance, Box Ink) Measure(string text, double size, bool bold)
    {
        using var font = Of(size, bold);
        float advance = font.MeasureText(text, out var ink);
        return (advance, new(ink.Left, ink.Top, ink.Width, ink.Height));
    }

    private static SKTypeface Load(string name)
    {
        using var stream = typeof(PictureFont).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidOperationException($"The program lacks {name}.");
        using var data = SKData.Create(stream);
        return SKTypeface.FromData(data) ?? throw new InvalidOperationException($"{name} is no font.");
    }
}
