using System.Collections.Immutable;
using System.Runtime.InteropServices;
using GardenWatch.Messages.Letters;
using SkiaSharp;

namespace GardenWatch.Messages.Pictures;

/// <summary>Draws shapes on opaque paper, two px for each of the frame, so that they are sharp on a phone.</summary>
internal static class Painter
{
    public const int Scale = 2;
    private const float HaloWidth = 4;

    public static ImmutableArray<byte> Png(Drawing drawing, Paper paper)
    {
        var (pixels, width, height) = Pixels(drawing, paper);
        return IndexedPng.Write(pixels, width, height, [.. Enum.GetValues<Tone>().Select(tone => (uint)Colour(paper, tone))]);
    }

    /// <summary>Rows from the top, each pixel as 0xFFRRGGBB.</summary>
    /// <param name="words">False leaves them out: what they add can be seen.</param>
    public static (uint[] Pixels, int Width, int Height) Pixels(Drawing drawing, Paper paper, bool words = true)
    {
        int width = (int)Math.Ceiling(drawing.Width * Scale), height = (int)Math.Ceiling(drawing.Height * Scale);
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Bgra8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        {
            canvas.Clear(Colour(paper, Tone.Ground));
            canvas.Scale(Scale);
            foreach (var shape in drawing.Shapes)
            {
                if (words || shape is not Shape.Lettering)
                    Draw(canvas, shape, paper);
            }
        }
        return (MemoryMarshal.Cast<byte, uint>(bitmap.GetPixelSpan()).ToArray(), width, height);
    }

    private static void Draw(SKCanvas canvas, Shape shape, Paper paper)
    {
        switch (shape)
        {
            case Shape.Block(var box, var fill, var pen):
                var rectangle = SKRect.Create((float)box.X, (float)box.Y, (float)box.Width, (float)box.Height);
                Twice(fill, pen, paper, paint => canvas.DrawRect(rectangle, paint));
                break;
            case Shape.Ring(var centre, var radius, var fill, var pen):
                Twice(fill, pen, paper, paint => canvas.DrawCircle((float)centre.X, (float)centre.Y, (float)radius, paint));
                break;
            case Shape.Trace(var through, var closed, var fill, var pen):
                using (var builder = new SKPathBuilder())
                {
                    builder.AddPoly([.. through.Select(spot => new SKPoint((float)spot.X, (float)spot.Y))], closed);
                    using var path = builder.Detach();
                    Twice(fill, pen, paper, paint => canvas.DrawPath(path, paint));
                }
                break;
            case Shape.Lettering words:
                Draw(canvas, words, paper);
                break;
        }
    }

    private static void Draw(SKCanvas canvas, Shape.Lettering words, Paper paper)
    {
        using var font = PictureFont.Of(words.Size, words.Bold);
        if (words.Halo)
        {
            using var halo = new SKPaint { IsAntialias = true, IsStroke = true, StrokeWidth = HaloWidth, StrokeJoin = SKStrokeJoin.Round, Color = Colour(paper, Tone.Ground) };
            canvas.DrawText(words.Text, (float)words.Start.X, (float)words.Start.Y, SKTextAlign.Left, font, halo);
        }
        using var paint = new SKPaint { IsAntialias = true, Color = Colour(paper, words.Tone) };
        canvas.DrawText(words.Text, (float)words.Start.X, (float)words.Start.Y, SKTextAlign.Left, font, paint);
    }

    /// <summary>The surface first, then the line.</summary>
    private static void Twice(Tone? fill, Pen? pen, Paper paper, Action<SKPaint> draw)
    {
        if (fill is { } surface)
        {
            using var paint = new SKPaint { IsAntialias = true, Color = Colour(paper, surface) };
            draw(paint);
        }
        if (pen is null)
            return;
        using var dashes = pen.Dash.IsEmpty ? null : SKPathEffect.CreateDash([.. pen.Dash], 0);
        using var line = new SKPaint
        {
            IsAntialias = true,
            IsStroke = true,
            StrokeWidth = (float)pen.Width,
            StrokeJoin = SKStrokeJoin.Round,
            Color = Colour(paper, pen.Tone),
            PathEffect = dashes,
        };
        draw(line);
    }

    private static SKColor Colour(Paper paper, Tone tone) => SKColor.Parse(tone switch
    {
        Tone.Ground => paper.Ground,
        Tone.Ink => paper.Ink,
        Tone.Pencil => paper.Pencil,
        Tone.Red => paper.Red,
        Tone.Blue => paper.Blue,
        Tone.Edge => paper.Edge,
        Tone.Rule => paper.Rule,
        Tone.Square => paper.Square,
        _ => paper.Band,
    });
}
