using System.Collections.Immutable;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

internal enum RowStage { Sown, Up, Plants }

/// <summary>What grows in a bed: its names from the fullest to the shortest, and how far it is.</summary>
internal sealed record BedRow(ImmutableArray<string> Names, RowStage Stage);

/// <summary>One bed as it is drawn, in metres east and south of the plan's corner.</summary>
/// <param name="Cover">It wants covering.</param>
internal sealed record BedFacts(
    string Name, string Size, Box Ground, bool Cover, ImmutableArray<BedRow> Rows, ImmutableArray<(int Number, Mark Sign)> Jobs);

/// <summary>What the plan of the beds shows.</summary>
/// <param name="SquareMetres">Side of a square of the paper.</param>
/// <param name="ToScale">False when no bed has a size: boxes alike, in reading order.</param>
/// <param name="Length">"4 ft" for the rule beside the plan.</param>
internal sealed record BedPlanFacts(ImmutableArray<BedFacts> Beds, double SquareMetres, bool ToScale, Func<double, string> Length);

/// <summary>The beds on squared paper. Rows stand for what grows; their places in the bed are not known.</summary>
internal sealed class BedPlan
{
    /// <summary>Without those that hang below the line, or look like another.</summary>
    private const string Letters = "ABCDEFGHIKLMNOPRSTUVWXYZ";
    private const double LeastSquare = 14, HighestPlan = 420;
    private static readonly int[] Steps = [1, 2, 4, 10, 20, 40, 100, 200, 400, 1000, 2000, 4000];

    private readonly List<(string Letter, string Name)> _letters = [];
    private readonly BedPlanFacts _facts;
    private readonly Drawing _drawing;
    private readonly double _font, _side, _left, _top, _scale, _square;
    private readonly int _step;

    private BedPlan(BedPlanFacts facts, Frame frame)
    {
        _facts = facts;
        (_font, _side, _top) = (frame.Of(16, 13), frame.Of(19, 16), frame.Of(44, 36));
        double full = frame.Of(25, 24) / 0.3048, east = facts.Beds.Max(bed => bed.Ground.Right), south = facts.Beds.Max(bed => bed.Ground.Bottom);
        _left = frame.Of(25, 24);
        _scale = Math.Min(full, Math.Min((frame.Width - _left - 14) / east, HighestPlan / south));
        _step = Steps.First(step => step * facts.SquareMetres * _scale >= LeastSquare || step == Steps[^1]);
        _square = _step * facts.SquareMetres * _scale;
        _drawing = new(frame.Width, _top + south * _scale + frame.Of(52, 44));
    }

    /// <summary>The plan, and which letters stand for names that have no room in it.</summary>
    public static (Drawing Drawing, IReadOnlyList<(string Letter, string Name)> Key) Draw(BedPlanFacts facts, Frame frame)
    {
        var plan = new BedPlan(facts, frame);
        plan.Paper();
        foreach (var bed in facts.Beds)
            plan.Ground(bed);
        foreach (var bed in facts.Beds)
            plan.Pressing(bed);
        foreach (var bed in facts.Beds)
            plan.Growing(bed);
        foreach (var bed in facts.Beds)
            plan.Jobs(bed);
        foreach (var bed in facts.Beds)
            plan.Named(bed);
        return (plan._drawing, plan._letters);
    }

    private Box On(Box ground) => new(_left + ground.X * _scale, _top + ground.Y * _scale, ground.Width * _scale, ground.Height * _scale);

    private void Paper()
    {
        if (!_facts.ToScale)
            return;
        for (double x = _left % _square; x <= _drawing.Width; x += _square)
            _drawing.Line(x, 0, x, _drawing.Height, new(Tone.Square));
        for (double y = _top % _square; y <= _drawing.Height; y += _square)
            _drawing.Line(0, y, _drawing.Width, y, new(Tone.Square));

        // A rule of four squares: what they measure is said beside it.
        double rule = 4 * _square, baseline = _drawing.Height - 7;
        string length = _facts.Length(4 * _step * _facts.SquareMetres);
        double right = _drawing.Width - 10 - PictureFont.Width(length, _font) - 7;
        _drawing.Line(right - rule, baseline, right, baseline, new(Tone.Ink, 1.5));
        for (int i = 0; i <= 4; i++)
            _drawing.Line(right - rule + i * _square, baseline, right - rule + i * _square, baseline - (i % 4 == 0 ? 7 : 4), new(Tone.Ink, 1.2));
        _drawing.Keep(new(right - rule, baseline - 7, rule, 8));
        _drawing.Write([length], _font, Tone.Pencil, bold: false, halo: true, new Place(right + 7, baseline + 1));
    }

    private void Ground(BedFacts bed)
    {
        var box = On(bed.Ground);
        _drawing.Block(box, Tone.Ground, new(Tone.Ink, 2));
        if (bed.Cover)
            _drawing.Block(box.Grown(5), null, new(Tone.Red, 1.5, [9, 4]));
    }

    /// <summary>The first job that presses stands on the corner.</summary>
    private void Pressing(BedFacts bed)
    {
        var box = On(bed.Ground);
        foreach (var (number, _) in bed.Jobs.Where(job => job.Sign == Mark.ByAnHour).Take(1))
            _drawing.Numbered(box.Right - _side / 2, box.Y - _side / 2, _side, number, Mark.ByAnHour);
    }

    /// <summary>The others in the column at the right, from the top, where the names leave room.</summary>
    private void Jobs(BedFacts bed)
    {
        var box = On(bed.Ground);
        int? onCorner = bed.Jobs.Where(job => job.Sign == Mark.ByAnHour).Select(job => (int?)job.Number).FirstOrDefault();
        foreach (var (number, sign) in bed.Jobs.Where(job => job.Number != onCorner))
        {
            bool placed = false;
            for (double x = box.Right - _side - 4; !placed && x >= box.X + 2; x -= _side + 3)
                for (double y = box.Y + 8; !placed && y + _side <= box.Bottom - 2; y += 4)
                    placed = _drawing.Numbered(x, y, _side, number, sign);
            // Beside a bed that is too small to hold it.
            for (double x = box.Right + 4; !placed && x < box.Right + 4 * _side; x += _side + 3)
                placed = _drawing.Numbered(x, box.Y, _side, number, sign);
        }
    }

    /// <summary>Its name above it, whole; where there is no room, a letter that the words beside the plan explain.</summary>
    private void Named(BedFacts bed)
    {
        var box = On(bed.Ground);
        double above = box.Y - (bed.Cover ? 11 : 8), below = box.Bottom + _font + (bed.Cover ? 8 : 4);
        var others = _facts.Beds.Where(other => other != bed).Select(other => On(other.Ground)).ToArray();
        // Up to the next bed: a name that lies over two would be read as that of either.
        double end = others.Where(other => other.X > box.X + 1 && other.Y < box.Bottom && other.Bottom > box.Y).Select(other => other.X - 4).DefaultIfEmpty(_drawing.Width).Min();
        bool named = _drawing.WriteWhere(Suits, [bed.Name], _font, Tone.Ink, bold: true, halo: true, new(box.X - 1, above), new(box.X - 1, below));
        if (!named)
        {
            string letter = Letters[_letters.Count].ToString();
            if (_drawing.WriteWhere(Suits, [letter], _font, Tone.Ink, bold: true, halo: true, new(box.X - 1, above), new(box.X + 5, box.Y + _font + 4), new(box.X + box.Width / 2, box.Bottom - 5, Side.Middle)))
                _letters.Add((letter, bed.Name));
        }
        _drawing.WriteWhere(Suits, [bed.Size], _font - 2, Tone.Pencil, bold: false, halo: true,
            new(box.X + box.Width / 2, below - 2, Side.Middle), new(box.X + box.Width / 2, box.Bottom - 6, Side.Middle));

        bool Suits(Box words) =>
            (box.Grown(-3).Holds(words) || !box.Grown(3).Meets(words)) && words.Right <= end && !others.Any(other => other.Grown(2).Meets(words));
    }

    /// <summary>A name and a row for each that has room; how many more there are is said.</summary>
    private void Growing(BedFacts bed)
    {
        var box = On(bed.Ground);
        double each = _font * 2.3, left = box.X + 7;
        int room = (int)((box.Height - 10) / each), shown = bed.Rows.Length <= room ? bed.Rows.Length : Math.Max(0, room - 1);
        for (int i = 0; i < shown; i++)
        {
            double baseline = box.Y + 6 + i * each + _font;
            var names = bed.Rows[i].Names.Where(name => PictureFont.Width(name, _font) <= box.Width - 12).ToArray();
            _drawing.Write(names, _font, Tone.Ink, bold: false, halo: true, new Place(left, baseline));
            Row(bed.Rows[i].Stage, left, box.Right - 7 - (bed.Jobs.IsEmpty ? 0 : _side + 3), baseline + _font * 0.85);
        }
        if (shown < bed.Rows.Length)
        {
            double baseline = box.Y + 6 + shown * each + _font;
            string more = shown == 0 ? $"{bed.Rows.Length}" : $"+{bed.Rows.Length - shown}";
            if (PictureFont.Width(more, _font) <= box.Width - 10 && baseline < box.Bottom - 3)
                _drawing.Write([more], _font, Tone.Pencil, bold: false, halo: true, new Place(left, baseline));
        }
    }

    /// <summary>Sown: seeds. Up: seed leaves. Set out: plants with their ring.</summary>
    private void Row(RowStage stage, double from, double until, double y)
    {
        switch (stage)
        {
            case RowStage.Sown:
                for (double x = from + 2; x <= until; x += 7)
                    _drawing.Ring(new(x, y), 1.4, Tone.Ink);
                break;
            case RowStage.Up:
                for (double x = from + 3; x <= until - 3; x += 9)
                    _drawing.Path([new(x - 2.6, y - 3.2), new(x, y), new(x + 2.6, y - 3.2)], new(Tone.Ink, 1.3));
                break;
            default:
                for (double x = from + 5; x <= until - 5; x += 18)
                {
                    _drawing.Ring(new(x, y - 1), 5, null, new(Tone.Ink, 1.4));
                    _drawing.Ring(new(x, y - 1), 1.6, Tone.Ink);
                }
                break;
        }
    }
}
