using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Messages.Pictures;

/// <summary>What the picture of a sowing's warmth shows.</summary>
/// <param name="Days">Gathered by the end of each day.</param>
/// <param name="Known">How many of them have been; the others are forecast.</param>
/// <param name="Needed">To the first picking; null where it is not known.</param>
/// <param name="Picking">First pickings by the packet; null where they are not known.</param>
/// <param name="NeededWords">"520 degree-days needed".</param>
/// <param name="SoFarWords">"380 so far".</param>
internal sealed record WarmthFacts(
    LocalDate Since, ImmutableArray<double> Days, int Known, double? Needed, DateInterval? Picking,
    string NeededWords, string SoFarWords, string PickingWords, string TodayWord, Func<LocalDate, string> DateWords);

/// <summary>Gathered warmth as a line that climbs to what is needed: solid as it was, dashed as it is forecast.</summary>
internal static class WarmthLine
{
    private const double Left = 6, Top = 44, Base = 214, Under = 30;
    private const int LeastDays = 14, MostDaysShown = 400;

    public static Drawing Draw(WarmthFacts facts, Frame frame)
    {
        double font = frame.Of(16, 13);
        var drawing = new Drawing(frame.Width, Base + Under);
        int days = Math.Max(facts.Days.Length, LeastDays);
        if (facts.Picking is { } coming)
            days = Math.Max(days, Math.Min(MostDaysShown, Period.DaysBetween(facts.Since, coming.End) + 2));
        double across = (frame.Width - 2 * Left) / days;
        double most = Math.Max(facts.Days.DefaultIfEmpty(0).Max(), facts.Needed ?? 0) * 1.08 + 1;
        double X(double day) => Left + day * across;
        double Y(double gathered) => Base - gathered / most * (Base - Top);

        drawing.Line(Left, Base, frame.Width - Left, Base, new(Tone.Ink, 1.5));
        if (facts.Picking is { } picking)
        {
            double from = X(Math.Clamp(Period.DaysBetween(facts.Since, picking.Start), 0, days)), until = X(Math.Clamp(Period.DaysBetween(facts.Since, picking.End) + 1, 0, days));
            drawing.Block(new(from, Top, Math.Max(until - from, 2), Base - Top), Tone.Band);
            drawing.Write([facts.PickingWords], font, Tone.Ink, bold: false, halo: true,
                new Place((from + until) / 2, Top - font * 0.6, Side.Middle), new Place(frame.Width - Left, Top - font * 0.6, Side.End), new Place(Left, Top - font * 0.6));
        }
        if (facts.Needed is { } needed)
        {
            drawing.Line(Left, Y(needed), frame.Width - Left, Y(needed), new(Tone.Ink, 1.5));
            drawing.Write([facts.NeededWords], font, Tone.Ink, bold: false, halo: true, new Place(Left, Y(needed) - 6), new Place(Left, Y(needed) + font + 4));
        }
        drawing.Line(X(facts.Known), Top - 6, X(facts.Known), Base, new(Tone.Edge));
        Spot[] spots = [new(X(0), Y(0)), .. facts.Days.Select((gathered, day) => new Spot(X(day + 1), Y(gathered)))];
        drawing.Path(spots.Take(facts.Known + 1), new(Tone.Ink, 2.5));
        if (facts.Days.Length > facts.Known)
            drawing.Path(spots.Skip(facts.Known), new(Tone.Ink, 2, [5, 4]));
        var here = spots[Math.Min(facts.Known, spots.Length - 1)];
        drawing.Write([facts.SoFarWords], font, Tone.Ink, bold: true, halo: true,
            new Place(here.X - 8, here.Y - 8, Side.End), new Place(here.X + 8, here.Y + font + 6), new Place(here.X + 8, here.Y - 10));
        Dates(drawing, facts, days, font, X);
        return drawing;
    }

    /// <summary>The first day, today, and weeks or months between them as far as there is room.</summary>
    private static void Dates(Drawing drawing, WarmthFacts facts, int days, double font, Func<double, double> x)
    {
        double baseline = Base + font + 6;
        drawing.Write([facts.TodayWord], font, Tone.Pencil, bold: false, halo: false, new Place(x(facts.Known), baseline, Side.Middle), new Place(x(facts.Known), baseline, Side.Start), new Place(x(facts.Known), baseline, Side.End));
        drawing.Write([facts.DateWords(facts.Since)], font, Tone.Pencil, bold: false, halo: false, new Place(Left, baseline));
        int step = days <= 70 ? 7 : 28;
        for (int day = step; day < days; day += step)
        {
            drawing.Line(x(day), Base, x(day), Base + 5, new(Tone.Edge));
            drawing.Write([facts.DateWords(facts.Since.PlusDays(day))], font, Tone.Pencil, bold: false, halo: false, new Place(x(day), baseline, Side.Middle));
        }
    }
}
