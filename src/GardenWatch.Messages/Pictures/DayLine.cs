using GardenWatch.Messages.Letters;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>The day as a line: what the gardener does stands on it, what the weather does hangs from it.</summary>
internal sealed class DayLine
{
    private const double Gap = 5, Deepest = 34;
    private const int SquaresAtMost = 4;

    private readonly DayHours _hours;
    private readonly DateTimeZone _zone;
    private readonly Func<LocalTime, string> _clock;
    private readonly Drawing _drawing;
    private readonly double _side, _font, _pad, _line, _top, _hourWidth;

    private DayLine(DayHours hours, DateTimeZone zone, Func<LocalTime, string> clock, Frame frame)
    {
        (_hours, _zone, _clock) = (hours, zone, clock);
        (_side, _font, _pad) = (frame.Of(19, 16), frame.Of(16, 13), frame.Of(8, 6));
        _top = _side + 9;
        _line = _top + Math.Max(hours.Lanes.Length, 1) * (_side + Gap) + 10;
        _hourWidth = (frame.Width - 2 * _pad) / (hours.Until - hours.From).TotalHours;
        _drawing = new(frame.Width, _line + (hours.Rain.IsEmpty && hours.Frost is null ? 6 : Deepest) + _font + 20);
    }

    public static Drawing Draw(DayHours hours, DateTimeZone zone, Func<LocalTime, string> clock, Frame frame)
    {
        var line = new DayLine(hours, zone, clock, frame);
        line.Hours();
        line.Weather();
        line.Posts();
        line.Lanes();
        return line._drawing;
    }

    private double X(Instant at) => _pad + (at - _hours.From).TotalHours * _hourWidth;

    private void Weather()
    {
        foreach (var rain in _hours.Rain)
            Hang(rain);
        var frost = _hours.Frost;
        double left = 0, right = 0, length = 0;
        if (frost is not null)
        {
            (left, right, length) = (X(frost.From), X(frost.Until), Math.Max(3, (frost.Chance ?? 0.5) * Deepest));
            int icicles = Math.Max(1, (int)(frost.Until - frost.From).TotalHours);
            double each = (right - left) / icicles;
            for (int i = 0; i < icicles; i++)
                _drawing.Icicle(left + i * each, _line, each, length, solid: false);
            _drawing.Keep(new(left, _line, right - left, length));
        }
        // What hangs is all in its place before words look for theirs.
        if (frost is not null)
            Beside(left, right, length, frost.Words);
        foreach (var rain in _hours.Rain)
            Beside(Math.Max(X(rain.From), _pad), Math.Min(X(rain.Until), _drawing.Width - _pad), LengthOf(rain), rain.Words);
    }

    /// <summary>Blocks of the whole spell, cut to the hours of the line.</summary>
    private void Hang(RainSpan rain)
    {
        double begins = X(rain.From), width = (X(rain.Until) - begins) / rain.Blocks, length = LengthOf(rain);
        for (int block = 0; block < rain.Blocks; block++)
        {
            double x = Math.Max(begins + block * width, _pad), end = Math.Min(begins + (block + 1) * width, _drawing.Width - _pad);
            if (end - x <= 2)
                continue;
            _drawing.Rain(x, _line, end - x, length, rain.Likely);
            _drawing.Keep(new(x, _line, end - x, length));
        }
    }

    private static double LengthOf(RainSpan rain) => Math.Min(Deepest, 2 + 6 * rain.Mm / rain.Blocks);

    private void Beside(double left, double right, double length, IReadOnlyList<string> words) =>
        _drawing.Write([.. words], _font, Tone.Blue, bold: false, halo: false,
            new(left - 7, _line + Deepest - 8, Side.End), new(right + 7, _line + Deepest - 8),
            new((left + right) / 2, _line + length + _font, Side.Middle), new(left, _line + length + _font), new(right, _line + length + _font, Side.End));

    private void Posts()
    {
        var ends = _hours.By.Select(Squares).ToArray();
        for (int i = 0; i < ends.Length; i++)
        {
            double baseline = _side * 0.77;
            _drawing.Write([.. _hours.By[i].Words], _font, Tone.Red, bold: true, halo: false,
                new(ends[i].Right + 5, baseline), new(ends[i].Left - 5, baseline, Side.End));
        }
        foreach (var post in _hours.Undo)
        {
            double x = X(post.At), top = _side + 5;
            _drawing.Line(x, _line, x, top, new(Tone.Ink, 2));
            _drawing.Keep(new(x - 1, top, 2, _line - top));
            _drawing.Write([.. post.Words], _font, Tone.Ink, bold: false, halo: false,
                new(x - 7, top + _font * 0.8, Side.End), new(x + 7, top + _font * 0.8));
        }
    }

    /// <summary>The jobs of an hour side by side at the head of its post, inside the frame; gives where they begin and end.</summary>
    private (double Left, double Right) Squares(Post post)
    {
        double x = X(post.At);
        _drawing.Line(x, _line, x, _side, new(Tone.Red, 2));
        _drawing.Keep(new(x - 1, _side + 2, 2, _line - _side - 2));
        int[] numbers = [.. post.Numbers.Take(SquaresAtMost)];
        double step = _side + 2, row = numbers.Length * step - 2;
        double left = Math.Clamp(x - _side / 2, 0, _drawing.Width - row);
        for (int i = 0; i < numbers.Length; i++)
            _drawing.Numbered(left + i * step, 0, _side, numbers[i], Mark.ByAnHour);
        return (left, left + row);
    }

    /// <summary>A job's square stretched over its hours, from the line upwards in reading order.</summary>
    private void Lanes()
    {
        for (int i = 0; i < _hours.Lanes.Length; i++)
        {
            var lane = _hours.Lanes[i];
            double y = _line - 7 - (i + 1) * (_side + Gap) + Gap;
            foreach (var window in lane.Windows)
            {
                var stretch = Stretch(window, y);
                _drawing.Block(stretch, Tone.Ink);
                _drawing.Keep(stretch);
            }
            var best = Stretch(lane.Best, y);
            _drawing.Figure(best.X, y, _side, lane.Number, Tone.Ground);
            double baseline = y + _side * 0.77;
            var stretches = lane.Windows.Select(window => Stretch(window, y)).Prepend(best).ToArray();
            // Beside its hours; where a post stands in the way, beyond it.
            var posts = _hours.By.Select(post => X(post.At));
            _drawing.Write([.. lane.Names], _font, Tone.Ink, bold: false, halo: true,
            [
                .. stretches.SelectMany(stretch => new Place[] { new(stretch.X - 6, baseline, Side.End), new(stretch.Right + 6, baseline) }),
                .. posts.Where(x => x > best.X).Select(x => new Place(x + 6, baseline)),
            ]);
        }
    }

    /// <summary>At least a square wide, and inside the frame.</summary>
    private Box Stretch(Planning.Agendas.Window window, double y)
    {
        double width = Math.Max((window.Until - window.From).TotalHours * _hourWidth, _side);
        return new(Math.Min(X(window.From), _drawing.Width - width), y, width, _side);
    }

    /// <summary>Local hours; on a change of the clock the line has the hours that pass.</summary>
    private void Hours()
    {
        _drawing.Line(_pad, _line, _drawing.Width - _pad, _line, new(Tone.Ink, 1.5));
        var last = Instant.MinValue;
        for (var local = _hours.From.InZone(_zone).LocalDateTime; ; local = local.PlusHours(1))
        {
            var at = local.InZoneLeniently(_zone).ToInstant();
            if (at > _hours.Until)
                return;
            if (at <= last)
                continue;
            last = at;
            bool sixth = local.Hour % 6 == 0;
            _drawing.Line(X(at), _line, X(at), _line + (sixth ? 7 : 3), new(Tone.Edge));
            if (sixth)
            {
                string hour = _clock(local.TimeOfDay);
                double half = PictureFont.Width(hour, _font) / 2, x = Math.Clamp(X(at), half + 1, _drawing.Width - half - 1);
                _drawing.Write([hour], _font, Tone.Pencil, bold: false, halo: false, new Place(x, _drawing.Height - 5, Side.Middle));
            }
        }
    }
}
