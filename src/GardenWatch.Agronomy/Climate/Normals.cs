using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>Means over the years by week and by day of the year; days that are not known are left out, not counted as nothing.</summary>
internal static class Normals
{
    public const int Weeks = 52;
    public const int Days = 365;

    // Thirty years leave a day's mean uncertain by about 0.7 K; fifteen days twice over bring that below 0.2 K and blunt
    // the summit of a year by as little.
    private const int SmoothedOver = 15;

    /// <summary>From 0; 29 February shares the slot of the 28th.</summary>
    public static int SlotOf(LocalDate date) =>
        date.DayOfYear - 1 - (CalendarSystem.Iso.IsLeapYear(date.Year) && date.DayOfYear > 59 ? 1 : 0);

    public static ImmutableArray<double> Weekly(PastDays days, DayFigure figure)
    {
        double[] week = Means(days, figure, Weeks, slot => Math.Min(slot / 7, Weeks - 1));
        return [.. week.Select(mean => mean * 7)];
    }

    public static ImmutableArray<NormalAir> Air(PastDays days)
    {
        double[] low = Smooth(DayFigure.AirLow), mean = Smooth(DayFigure.AirMean), high = Smooth(DayFigure.AirHigh);
        return [.. Enumerable.Range(0, Days).Select(slot => new NormalAir(low[slot], mean[slot], high[slot]))];

        double[] Smooth(DayFigure figure) => Smoothed(Smoothed(Means(days, figure, Days, slot => slot)));
    }

    private static double[] Means(PastDays days, DayFigure figure, int groups, Func<int, int> groupOf)
    {
        var sums = new double[groups];
        var known = new int[groups];
        var values = days[figure];
        for (int i = 0; i < values.Length; i++)
        {
            if (double.IsNaN(values[i]))
                continue;
            int group = groupOf(SlotOf(days.Dates.Start.PlusDays(i)));
            sums[group] += values[i];
            known[group]++;
        }
        return [.. sums.Select((sum, group) => sum / known[group])]; // nothing known: 0/0, not a number
    }

    private static double[] Smoothed(double[] year)
    {
        var smooth = new double[year.Length];
        for (int day = 0; day < year.Length; day++)
        {
            double sum = 0;
            int known = 0;
            for (int off = -SmoothedOver / 2; off <= SmoothedOver / 2; off++)
            {
                double value = year[(day + off + year.Length) % year.Length];
                if (double.IsNaN(value))
                    continue;
                sum += value;
                known++;
            }
            smooth[day] = sum / known;
        }
        return smooth;
    }
}
