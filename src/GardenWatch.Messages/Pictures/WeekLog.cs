using System.Collections.Immutable;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

/// <summary>A job's place in the week.</summary>
/// <param name="From">In days from the first midnight, like <paramref name="Until"/>; equal where only an hour is known.</param>
internal readonly record struct WeekJob(int Number, Mark Sign, double From, double Until);

/// <summary>The rain of a day, in days from the first midnight.</summary>
internal readonly record struct WeekRain(double From, double Until, int Blocks, double Mm, bool Likely, string Words);

/// <summary>One day and the night that begins on it; what is not known is null, and is left out.</summary>
/// <param name="RainKnown">False when nothing is known of its rain.</param>
/// <param name="LeafC">How cold the leaves get, where a frost is to be reckoned with.</param>
/// <param name="Frost">The chance of frost in the night; null when there is none to speak of.</param>
internal sealed record WeekDayFacts(
    string Name, double? HighC, double? LowC, bool RainKnown, WeekRain? Rain, double? LeafC, double? Frost, string FrostWords);

/// <summary>What the week's picture shows.</summary>
/// <param name="Degrees">"58°", in the reader's unit.</param>
internal sealed record WeekFacts(
    ImmutableArray<WeekDayFacts> Days, ImmutableArray<WeekJob> Jobs, Func<double, string> Degrees, string FrostLine, string NotKnown);

/// <summary>The week as a hand-kept weather log: rain and frost hang from the sky, jobs stand on the ground.</summary>
internal sealed class WeekLog
{
    private const double Sky = 28, SkyLength = 34, Warmest = 100, Coldest = 172, Ground = 212;
    /// <summary>The lowest air of a night, and the highest of a day, where their hours are not known.</summary>
    private const double LowAt = 5.5 / 24, HighAt = 16.0 / 24;
    /// <summary>The morning after the last day: its night's low belongs to the week.</summary>
    private const double MorningAfter = 0.5;
    private const double NearFrostKelvins = 5;
    private const double LeastRangeKelvins = 8;

    private readonly WeekFacts _facts;
    private readonly Drawing _drawing;
    private readonly double _pad, _day, _font, _side, _lowest, _highest;
    private readonly bool _nearFrost;
    private readonly Frame _frame;

    private WeekLog(WeekFacts facts, Frame frame)
    {
        (_facts, _frame) = (facts, frame);
        (_pad, _font, _side) = (frame.Of(6, 2), frame.Of(16, 12.5), frame.Of(18, 15));
        _day = (frame.Width - 2 * _pad) / (facts.Days.Length + MorningAfter);
        _drawing = new(frame.Width, 220);
        double[] known = [.. facts.Days.SelectMany(day => new[] { day.HighC, day.LowC, day.LeafC }).OfType<double>()];
        (_lowest, _highest) = (known.Min(), known.Max());
        _nearFrost = _lowest < NearFrostKelvins;
        if (_nearFrost)
            _lowest = Math.Min(_lowest, 0);
        double wanting = Math.Max(0, LeastRangeKelvins - (_highest - _lowest)) / 2;
        (_lowest, _highest) = (_lowest - wanting, _highest + wanting);
    }

    /// <summary>Null when no warmth of the week is known.</summary>
    public static Drawing? Draw(WeekFacts facts, Frame frame)
    {
        if (!facts.Days.Any(day => day.HighC is not null || day.LowC is not null))
            return null;
        var log = new WeekLog(facts, frame);
        log.Names();
        log.Warmth();
        log.FromTheSky();
        log.OnTheGround();
        log.FrostLine();
        return log._drawing;
    }

    private double X(double day) => _pad + day * _day;

    private double Y(double celsius) => Coldest - (celsius - _lowest) / (_highest - _lowest) * (Coldest - Warmest);

    private void Names()
    {
        for (int i = 0; i < _facts.Days.Length; i++)
        {
            _drawing.Line(X(i + 1), Sky - 5, X(i + 1), Ground, new(Tone.Rule, 1, [1, 3]));
            string name = _facts.Days[i].Name;
            _drawing.Write(_frame.Wide ? [name] : [name.Split('\u00A0')[0]], _font, Tone.Ink, bold: i == 0, halo: false, new Place(X(i + 0.5), _font * 0.95, Side.Middle));
        }
    }

    private void Warmth()
    {
        int days = _facts.Days.Length;
        double end = days + MorningAfter;
        var highs = new Course(_facts.Days.Select(day => day.HighC), HighAt, end);
        var lows = new Course(_facts.Days.Select(day => day.LowC), 1 + LowAt, end);
        foreach (var outline in Course.Between(highs, lows))
            _drawing.Area(outline.Select(at => new Spot(X(at.Day), Y(at.Celsius))), Tone.Band);
        foreach (var stretch in highs.Stretches.Concat(lows.Stretches))
            _drawing.Path(stretch.Select(at => new Spot(X(at.Day), Y(at.Celsius))), new(Tone.Ink, 1.5));
        if (_nearFrost)
            _drawing.Line(_pad, Y(0), _drawing.Width - _pad, Y(0), new(Tone.Blue, 1.2, [6, 4]));

        for (int i = 0; i < days; i++)
        {
            var day = _facts.Days[i];
            if (day.LeafC is { } leaf && day.LowC is { } air)
                Plumb(X(i + 1 + LowAt), Y(air), Y(leaf));
        }
        for (int i = 0; i < days; i++)
        {
            var day = _facts.Days[i];
            if (day.HighC is { } high)
                HighOrLow(high, new Place(X(i + HighAt), Y(high) - 6, Side.Middle));
            if (day.LowC is { } low)
            {
                double x = X(i + 1 + LowAt), below = Y(low) + _font * 0.95;
                if (day.LeafC is null)
                    HighOrLow(low, new Place(x, below, Side.Middle));
                else
                    HighOrLow(low, new Place(x + 7, below), new Place(x - 7, below, Side.End), new Place(x, below + 12, Side.Middle));
            }
            if (day.HighC is null && day.LowC is null)
                NotKnown(i, (Warmest + Coldest) / 2);
        }
    }

    /// <summary>From the air's low to what the leaves feel on a clear, calm night.</summary>
    private void Plumb(double x, double air, double leaf)
    {
        _drawing.Line(x, air, x, leaf, new(Tone.Blue, 2));
        _drawing.Line(x - 4, leaf, x + 4, leaf, new(Tone.Blue, 2));
        _drawing.Keep(new(x - 1, Math.Min(air, leaf), 2, Math.Abs(leaf - air)));
        _drawing.Keep(new(x - 4, leaf - 1, 8, 2));
    }

    private void HighOrLow(double celsius, params ReadOnlySpan<Place> places) =>
        _drawing.Write([_facts.Degrees(celsius)], _font, Tone.Ink, bold: false, halo: true, places);

    /// <summary>In the place where the fact would stand.</summary>
    private void NotKnown(int day, double y)
    {
        double x = X(day + 0.5);
        _drawing.WriteLines(_facts.NotKnown.Split(' '), _font, Tone.Pencil, new(x, y), new(x, y + 20), new(x, y - 20), new(x, y + 36));
    }

    private void FromTheSky()
    {
        for (int i = 0; i < _facts.Days.Length; i++)
        {
            var day = _facts.Days[i];
            if (day.Rain is { } rain)
                Rain(rain);
            if (day.Frost is { } chance)
                Frost(X(i + 1 + LowAt), chance, day.FrostWords);
            if (!day.RainKnown)
                NotKnown(i, Sky + _font * 1.1);
        }
        _drawing.Line(_pad, Sky, _drawing.Width - _pad, Sky, new(Tone.Ink, 1.5));
    }

    private void Rain(WeekRain rain)
    {
        double length = Math.Min(SkyLength, 3 + 7 * rain.Mm / rain.Blocks), width = (X(rain.Until) - X(rain.From)) / rain.Blocks;
        for (int block = 0; block < rain.Blocks; block++)
            _drawing.Rain(X(rain.From) + block * width, Sky, width, length, rain.Likely);
        _drawing.Keep(new(X(rain.From), Sky, X(rain.Until) - X(rain.From), length));
        Hung(rain.Words, (X(rain.From) + X(rain.Until)) / 2, length);
    }

    /// <summary>Three icicles are the sign of a night with frost; the middle one is as long as it is likely.</summary>
    private void Frost(double x, double chance, string words)
    {
        double width = _frame.Of(7, 6), length = Math.Max(6, chance * SkyLength);
        for (int i = -1; i <= 1; i++)
            _drawing.Icicle(x + i * width - width / 2, Sky, width, i == 0 ? length : length * 0.65);
        _drawing.Keep(new(x - 1.5 * width, Sky, 3 * width, length));
        Hung(words, x, length);
    }

    /// <summary>Words under what hangs; a row lower, or a little aside, where a neighbour has the place.</summary>
    private void Hung(string words, double x, double length)
    {
        double baseline = Sky + length + _font * 0.9 + 2, half = PictureFont.Width(words, _font) / 2;
        x = Math.Clamp(x, half + 1, _drawing.Width - half - 1);
        _drawing.Write([words], _font, Tone.Blue, bold: false, halo: true,
            new(x, baseline, Side.Middle), new(x, baseline + _font, Side.Middle), new(x + 8, baseline, Side.Middle), new(x - 8, baseline, Side.Middle));
    }

    private void OnTheGround()
    {
        int most = Math.Max(1, (int)((_day - 2) / (_side + 2)));
        foreach (var job in _facts.Jobs.Where(job => job.Until > job.From))
            _drawing.Block(new(X(job.From), Ground - 6, Math.Max(X(job.Until) - X(job.From), 3), 6), Tone.Ink);
        foreach (var day in _facts.Jobs.GroupBy(job => (int)Math.Floor(job.From)))
        {
            var jobs = day.ToArray();
            bool all = jobs.Length <= most;
            WeekJob[] shown = [.. jobs.Take(all ? most : Math.Max(1, most - 1))];
            string more = all ? "" : $"+{jobs.Length - shown.Length}";
            double row = shown.Length * (_side + 2) - 2 + (all ? 0 : PictureFont.Width(more, _font) + 3);
            double centre = shown.Average(job => (X(job.From) + X(job.Until)) / 2);
            double x = Math.Clamp(centre - row / 2, X(day.Key) + 1, Math.Max(X(day.Key) + 1, X(day.Key + 1) - row - 2));
            foreach (var job in shown)
            {
                _drawing.Numbered(x, Ground - 9 - _side, _side, job.Number, job.Sign);
                x += _side + 2;
            }
            if (!all)
                _drawing.Write([more], _font, Tone.Pencil, bold: false, halo: true, new Place(x + 1, Ground - 9 - _side * 0.23));
        }
        _drawing.Line(_pad, Ground, _drawing.Width - _pad, Ground, new(Tone.Ink, 1.5));
    }

    private void FrostLine()
    {
        if (!_nearFrost)
            return;
        double right = _drawing.Width - _pad, below = Y(0) + _font * 0.95, above = Y(0) - 5;
        _drawing.Write([_facts.FrostLine], _font, Tone.Blue, bold: false, halo: true,
            new(right, below, Side.End), new(_pad, below), new(right, above, Side.End), new(_pad, above),
            new(X(_facts.Days.Length / 2.0), below, Side.Middle));
    }
}
