using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

internal enum Side { Start, Middle, End }

/// <summary>Where words may stand: a point of the line they stand on, and which part of them is at it.</summary>
internal readonly record struct Place(double X, double Baseline, Side Side = Side.Start);

/// <summary>A picture as a list of shapes. Words never leave the frame nor lie over each other: they take the first free place, or none.</summary>
internal sealed class Drawing(double width, double height)
{
    private const double Aside = 3, Apart = 1.5, LineHeight = 1.25;

    private readonly List<Shape> _shapes = [];
    private readonly List<Box> _taken = [];

    public double Width { get; } = width;

    public double Height { get; } = height;

    public IReadOnlyList<Shape> Shapes => _shapes;

    /// <summary>Where words and numbers stand; nothing else may.</summary>
    public IReadOnlyList<Box> Taken => _taken;

    public Box Whole => new(0, 0, Width, Height);

    public void Block(Box box, Tone? fill, Pen? pen = null) => _shapes.Add(new Shape.Block(box, fill, pen));

    public void Line(double x1, double y1, double x2, double y2, Pen pen) =>
        _shapes.Add(new Shape.Trace([new(x1, y1), new(x2, y2)], Closed: false, null, pen));

    public void Path(IEnumerable<Spot> through, Pen pen) => _shapes.Add(new Shape.Trace([.. through], Closed: false, null, pen));

    public void Area(IEnumerable<Spot> through, Tone fill, Pen? pen = null) => _shapes.Add(new Shape.Trace([.. through], Closed: true, fill, pen));

    public void Ring(Spot centre, double radius, Tone? fill, Pen? pen = null) => _shapes.Add(new Shape.Ring(centre, radius, fill, pen));

    /// <summary>Frost hangs as icicles: solid when its hours are known, else in outline.</summary>
    public void Icicle(double x, double y, double width, double length, bool solid = true) => _shapes.Add(new Shape.Trace(
        [new(x + 0.8, y), new(x + width - 0.8, y), new(x + width / 2, y + length)], Closed: true,
        solid ? Tone.Blue : Tone.Ground, new Pen(Tone.Blue, solid ? 0.5 : 1)));

    /// <summary>Rain hangs flat-ended: solid when it is likelier than not, else in outline.</summary>
    public void Rain(double x, double y, double width, double length, bool solid) =>
        Block(new(x + 0.5, y, Math.Max(width - 1, 1.5), length), solid ? Tone.Blue : Tone.Ground, new Pen(Tone.Blue));

    /// <summary>The sign of a job: its number in a square. False when another stands there or the frame ends.</summary>
    public bool Numbered(double x, double y, double side, int number, Mark sign)
    {
        var square = new Box(x, y, side, side);
        if (!Whole.Holds(square) || _taken.Any(taken => taken.Grown(1).Meets(square)))
            return false;
        _taken.Add(square);
        var tone = sign switch { Mark.ByAnHour => Tone.Red, Mark.Waiting => Tone.Pencil, _ => Tone.Ink };
        bool filled = sign == Mark.Now;
        Block(new(x + 0.75, y + 0.75, side - 1.5, side - 1.5), filled ? tone : Tone.Ground, new Pen(tone, 1.5));
        Figure(x, y, side, number, filled ? Tone.Ground : tone);
        return true;
    }

    /// <summary>A job's number alone, where its square is stretched over the hours of a window.</summary>
    public void Figure(double x, double y, double side, int number, Tone tone)
    {
        string figure = number.ToString(System.Globalization.CultureInfo.InvariantCulture);
        double size = side * (figure.Length > 1 ? 0.66 : 0.76);
        var (advance, ink) = PictureFont.Measure(figure, size, bold: true);
        double start = x + (side - advance) / 2, baseline = y + side / 2 + side * 0.27;
        _shapes.Add(new Shape.Lettering(figure, new(start, baseline), size, tone, Bold: true, Halo: false,
            ink with { X = start + ink.X, Y = baseline + ink.Y }));
    }

    /// <summary>No word is to lie here.</summary>
    public void Keep(Box box) => _taken.Add(box);

    /// <summary>The first text that fits in the first free place; false when none does, and then nothing is written.</summary>
    public bool Write(ReadOnlySpan<string> texts, double size, Tone tone, bool bold, bool halo, params ReadOnlySpan<Place> places) =>
        WriteWhere(_ => true, texts, size, tone, bold, halo, places);

    /// <param name="suits">Whether words may cover a rectangle that is free.</param>
    public bool WriteWhere(
        Func<Box, bool> suits, ReadOnlySpan<string> texts, double size, Tone tone, bool bold, bool halo, params ReadOnlySpan<Place> places)
    {
        foreach (string text in texts)
        {
            if (!PictureFont.Knows(text))
                continue;
            var (advance, ink) = PictureFont.Measure(text, size, bold);
            foreach (var place in places)
            {
                double start = place.X - place.Side switch { Side.Middle => advance / 2, Side.End => advance, _ => 0 };
                var covered = ink with { X = start + ink.X, Y = place.Baseline + ink.Y };
                if (!Free(covered) || !suits(covered))
                    continue;
                _taken.Add(covered);
                _shapes.Add(new Shape.Lettering(text, new(start, place.Baseline), size, tone, bold, halo, covered));
                return true;
            }
        }
        return false;
    }

    /// <summary>Lines under each other, all of them or none, in the first free place; centred.</summary>
    public bool WriteLines(ReadOnlySpan<string> lines, double size, Tone tone, params ReadOnlySpan<Place> places)
    {
        foreach (var place in places)
        {
            bool free = true;
            for (int i = 0; i < lines.Length; i++)
            {
                var (advance, ink) = PictureFont.Measure(lines[i], size, bold: false);
                free &= Free(ink with { X = place.X - advance / 2 + ink.X, Y = place.Baseline + i * size * LineHeight + ink.Y });
            }
            if (!free)
                continue;
            for (int i = 0; i < lines.Length; i++)
                Write([lines[i]], size, tone, bold: false, halo: true, new Place(place.X, place.Baseline + i * size * LineHeight, Side.Middle));
            return true;
        }
        return false;
    }

    private bool Free(Box box) => Whole.Holds(box) && !_taken.Any(taken => taken.Grown(Aside, Apart).Meets(box));
}
