using GardenWatch.Messages.Letters;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>The day as a line: what the gardener does stands on it, what the weather does hangs from it.</summary>
internal sealed class DayLine
{
    private const double Gap = 5, Hang = 34;
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
        _drawing = new(frame.Width, _line + Hang + _font + 16);
    }

    public static Drawing Draw(DayHours hours, DateTimeZone zone, Func<LocalTime, string> clock, Frame frame)
    {
        var line = new DayLine(hours, zone, clock, frame);
        line.Weather();
        line.Posts();
        line.Lanes();
        line.Hours();
        return line._drawing;
    }

    private double X(Instant at) => _pad + (at - _hours.From).TotalHours * _hourWidth;

    private void Weather()
    {
        foreach (var rain in _hours.Rain)
        {
            double from = Math.Max(X(rain.From), _pad), until = Math.Min(X(rain.Until), _drawing.Width - _pad);
            // Of a day of which the line has a part, the rain is that of the whole day: blocks keep their size.
            double whole = X(rain.Until) - X(rain.From);
            int blocks = new RainHang(rain.From, rain.Until, rain.Mm, rain.Likely).Blocks;
            double length = Math.Min(Hang, 2 + 6 * rain.Mm / blocks), width = whole / blocks;
            for (int block = 0; block < blocks; block++)
            {
                double x = Math.Max(X(rain.From) + block * width, from), end = Math.Min(X(rain.From) + (block + 1) * width, until);
                if (end - x > 2)
                    _drawing.Rain(x, _line, end - x, length, rain.Likely);
            }
            _drawing.Keep(new(from, _line, until - from, length));
            _drawing.Write([.. rain.Words], _font, Tone.Blue, bold: false, halo: true,
                new(from - 7, _line + Hang - 8, Side.End), new(until + 7, _line + Hang - 8), new((from + until) / 2, _line + length + _font, Side.Middle));
        }
        if (_hours.Frost is not { } frost)
            return;
        double chance = frost.Chance ?? 0.5, left = X(frost.From), right = X(frost.Until);
        int icicles = Math.Max(1, (int)(frost.Until - frost.From).TotalHours);
        double each = (right - left) / icicles;
        for (int i = 0; i < icicles; i++)
            _drawing.Icicle(left + i * each, _line, each, Math.Max(3, chance * Hang), solid: false);
        _drawing.Keep(new(left, _line, right - left, Math.Max(3, chance * Hang)));
        _drawing.Write([.. frost.Words], _font, Tone.Blue, bold: false, halo: false,
            new(left - 7, _line + Hang - 8, Side.End), new(right + 7, _line + Hang - 8), new((left + right) / 2, _line + chance * Hang + _font, Side.Middle));
    }

    private void Posts()
    {
        foreach (var post in _hours.By)
            By(post);
        foreach (var post in _hours.Undo)
        {
            double x = X(post.At), top = _top - 8;
            _drawing.Line(x, _line, x, top, new(Tone.Ink, 2));
            _drawing.Keep(new(x - 1, top, 2, _line - top));
            _drawing.Write([.. post.Words], _font, Tone.Ink, bold: false, halo: true,
                new(x - 7, top + _font * 0.8, Side.End), new(x + 7, top + _font * 0.8));
        }
    }

    /// <summary>Its squares side by side on the post, its words beside them.</summary>
    private void By(Post post)
    {
        double x = X(post.At);
        _drawing.Line(x, _line, x, _side, new(Tone.Red, 2));
        _drawing.Keep(new(x - 1, _side + 2, 2, _line - _side - 2));
        int[] numbers = [.. post.Numbers.Take(SquaresAtMost)];
        double step = _side + 2, row = numbers.Length * step - 2;
        double start = new[] { x - _side / 2, x - row + _side / 2 }.Append(x - row / 2)
            .FirstOrDefault(at => at >= 0 && at + row <= _drawing.Width, Math.Max(0, _drawing.Width - row));
        double end = start;
        foreach (int number in numbers)
        {
            if (_drawing.Numbered(end, 0, _side, number, Mark.ByAnHour))
                end += step;
        }
        double baseline = _side * 0.77;
        _drawing.Write([.. post.Words], _font, Tone.Red, bold: true, halo: false,
            new(end + 3, baseline), new(start - 5, baseline, Side.End));
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
            double baseline = y + _side * 0.77, first = lane.Windows.Min(window => Stretch(window, y).X), last = lane.Windows.Max(window => Stretch(window, y).Right);
            _drawing.Write([.. lane.Names], _font, Tone.Ink, bold: false, halo: true,
                new(best.X - 6, baseline, Side.End), new(last + 6, baseline), new(first - 6, baseline, Side.End), new(best.Right + 6, baseline));
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
