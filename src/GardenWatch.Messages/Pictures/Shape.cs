using System.Collections.Immutable;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

/// <summary>A colour by what it is for; <see cref="Paper"/> says which it is by day and by night.</summary>
internal enum Tone { Ground, Ink, Pencil, Red, Blue, Edge, Rule, Square, Band }

/// <summary>In px of the frame, y downwards.</summary>
internal readonly record struct Spot(double X, double Y);

/// <summary>A rectangle: left, top, width, height.</summary>
internal readonly record struct Box(double X, double Y, double Width, double Height)
{
    public double Right => X + Width;

    public double Bottom => Y + Height;

    public Box Grown(double by) => Grown(by, by);

    public Box Grown(double aside, double apart) => new(X - aside, Y - apart, Width + 2 * aside, Height + 2 * apart);

    public bool Meets(Box other) => X < other.Right && other.X < Right && Y < other.Bottom && other.Y < Bottom;

    public bool Holds(Box other) => other.X >= X && other.Y >= Y && other.Right <= Right && other.Bottom <= Bottom;
}

/// <summary>A pen: its colour, width, and lengths of dash and gap where the line is not solid.</summary>
internal sealed record Pen(Tone Tone, double Width, ImmutableArray<float> Dash)
{
    public Pen(Tone tone, double width = 1)
        : this(tone, width, [])
    {
    }
}

/// <summary>Everything a picture is made of.</summary>
internal abstract record Shape
{
    private Shape()
    {
    }

    public sealed record Block(Box Box, Tone? Fill, Pen? Pen) : Shape;

    /// <param name="Closed">Filled and joined; else an open line.</param>
    public sealed record Trace(ImmutableArray<Spot> Through, bool Closed, Tone? Fill, Pen? Pen) : Shape;

    public sealed record Ring(Spot Centre, double Radius, Tone? Fill, Pen? Pen) : Shape;

    /// <param name="Start">Of the first letter, on the line the letters stand on.</param>
    /// <param name="Ink">The rectangle that the letters cover.</param>
    /// <param name="Halo">Paper around the letters, where lines pass behind them.</param>
    public sealed record Lettering(string Text, Spot Start, double Size, Tone Tone, bool Bold, bool Halo, Box Ink) : Shape;
}
