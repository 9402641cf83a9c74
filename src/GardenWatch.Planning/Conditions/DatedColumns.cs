using GardenWatch.Agronomy.Diseases;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Warmth;

namespace GardenWatch.Planning.Conditions;

/// <summary>
/// Hourly columns of what is reckoned by local dates. What is counted once a date stands at the date's last stamp and is
/// nothing at the others; a sum over whole dates is then the sum of their values. A date that can't be known is missing
/// at all its stamps, so that shares of known hours are shares of known dates.
/// </summary>
internal sealed class DatedColumns
{
    private readonly LocalDays _days;
    private readonly long _start;
    private readonly int _hours;

    public DatedColumns(WeatherSeries series, LocalDays days)
    {
        _days = days;
        _start = LocalDays.Seconds(series.Start);
        _hours = series.Hours;
    }

    /// <summary>1 for each date that completes the Hutton Criteria.</summary>
    public double[] LateBlightDays(WindowedColumn airC, ReadOnlySpan<double> humidityPercent)
    {
        double[] column = new double[_hours];
        var before = new BlightDay(double.NaN, double.NaN);
        foreach (var date in Dates())
        {
            var today = BlightDay.Of(Held(airC, date), Held(humidityPercent, date));
            Count(column, date, LateBlight.Hutton(before, today) is { } met ? met ? 1 : 0 : null);
            before = today;
        }
        return column;
    }

    /// <summary>Severity values of late blight, 0 to 4 a date.</summary>
    public double[] LateBlightValues(WindowedColumn airC, ReadOnlySpan<double> humidityPercent)
    {
        double[] humid = new double[_hours];
        for (int i = 0; i < humid.Length; i++)
            humid[i] = double.IsNaN(humidityPercent[i]) ? double.NaN : humidityPercent[i] >= LateBlight.HumidPercent ? 1 : 0;
        return Severities(airC, humid, LateBlight.WallinSeverity);
    }

    /// <summary>Severity values of early blight, 0 to 4 a date.</summary>
    public double[] EarlyBlightValues(WindowedColumn airC, WindowedColumn wet)
    {
        double[] hours = new double[_hours];
        for (int i = 0; i < hours.Length; i++)
            hours[i] = wet[i];
        return Severities(airC, hours, EarlyBlight.Severity);
    }

    /// <summary>1 for each date whose wet and cool morning lets downy mildew into lettuce.</summary>
    public double[] LettuceMildewDays(WindowedColumn airC, WindowedColumn wet) => EachDate(date =>
    {
        int six = date.First + MorningHour;
        double hours = 0;
        while (hours < DownyMildew.LettuceWetHours && At(wet, six + (int)hours) == 1)
            hours++;
        // An hour that is not known may have been wet.
        bool isSettled = hours >= DownyMildew.LettuceWetHours || double.IsFinite(At(wet, six + (int)hours));
        return DownyMildew.LettuceByWarmth(isSettled ? hours : double.NaN, Mean(airC, six, 3), Mean(airC, six + 3, 4));
    });

    /// <summary>1 for each date whose longest wetness, from noon to noon, is long and warm enough for downy mildew of cucumber and its kin.</summary>
    public double[] CucumberMildewDays(WindowedColumn airC, WindowedColumn wet) => EachDate(date =>
        LongestWet(wet, date) is var (first, hours) ? DownyMildew.Cucurbit(hours, hours == 0 ? double.NaN : Mean(airC, first, hours)) is { } infection ? infection == Infection.Favoured : null : null);

    /// <summary>1 for each date whose night, from noon to noon, makes spores of basil's downy mildew and lets them in.</summary>
    public double[] BasilMildewDays(WindowedColumn airC, ReadOnlySpan<double> humidityPercent, WindowedColumn wet)
    {
        double[] saturated = new double[_hours];
        for (int i = 0; i < _hours; i++)
            saturated[i] = double.IsNaN(humidityPercent[i]) ? double.NaN : humidityPercent[i] >= SaturatedPercent ? 1 : 0;
        var column = new WindowedColumn(saturated);
        return EachDate(date =>
        {
            if (LongestWet(wet, date) is not var (first, hours))
                return null;
            if (DownyMildew.BasilInfection(hours) == false || DownyMildew.BasilWarmth(Mean(airC, first, hours)) == false)
                return false;
            double humid = column.Total(date.First - HalfADay, date.Last - HalfADay, out int known);
            return known < WarmthSum.ShareOfHoursNeeded * date.Asked ? null : DownyMildew.BasilSpores(Math.Min(humid, 24));
        });
    }

    private const int MorningHour = 6, HalfADay = 12;
    private const double SaturatedPercent = 95;

    private double[] EachDate(Func<Date, bool?> holds)
    {
        double[] column = new double[_hours];
        foreach (var date in Dates())
            Count(column, date, holds(date) is { } met ? met ? 1 : 0 : null);
        return column;
    }

    /// <summary>The longest unbroken wetness from the noon before a date to its own; null when too many of these hours are unknown.</summary>
    private (int First, int Hours)? LongestWet(WindowedColumn wet, Date date)
    {
        var longest = (First: date.First - HalfADay, Hours: 0);
        int known = 0, run = 0;
        for (int i = date.First - HalfADay; i <= date.Last - HalfADay; i++)
        {
            double isWet = At(wet, i);
            known += double.IsNaN(isWet) ? 0 : 1;
            run = isWet == 1 ? run + 1 : 0;
            if (run > longest.Hours)
                longest = (i - run + 1, run);
        }
        return known < WarmthSum.ShareOfHoursNeeded * date.Asked ? null : longest;
    }

    private double At(WindowedColumn column, int hour) => hour >= 0 && hour < _hours ? column[hour] : double.NaN;

    private double Mean(WindowedColumn column, int first, int hours)
    {
        double sum = 0;
        for (int i = first; i < first + hours; i++)
            sum += At(column, i);
        return sum / hours;
    }

    /// <summary>Degree-days of each date, spread evenly over its hours, so that a moment within a date parts it.</summary>
    public double[] Warmth(WindowedColumn airC, double baseC, double ceilingC, WarmthMethod method)
    {
        double[] column = new double[_hours];
        var dates = Dates().ToArray();
        var extremes = Array.ConvertAll(dates, date => Extremes(airC, date));
        for (int i = 0; i < dates.Length; i++)
        {
            var (low, high) = extremes[i];
            double nextLow = i + 1 < dates.Length ? extremes[i + 1].Low : double.NaN;
            double warmth = method switch
            {
                WarmthMethod.Average => DegreeDays.Average(low, high, baseC, ceilingC),
                WarmthMethod.AverageOfClipped => DegreeDays.AverageOfClipped(low, high, baseC, ceilingC),
                WarmthMethod.SingleTriangle => DegreeDays.SingleTriangle(low, high, baseC, ceilingC),
                WarmthMethod.DoubleTriangle => DegreeDays.DoubleTriangle(low, high, nextLow, baseC, ceilingC),
                WarmthMethod.SingleSine => DegreeDays.SingleSine(low, high, baseC, ceilingC),
                WarmthMethod.DoubleSine => DegreeDays.DoubleSine(low, high, nextLow, baseC, ceilingC),
                WarmthMethod.ReducingCeiling => DegreeDays.HighestWithReducingCeiling(high, baseC, ceilingC),
                _ => throw new ArgumentOutOfRangeException(nameof(method), method, "is not reckoned by dates"),
            };
            Stamps(column, dates[i]).Fill(warmth / dates[i].Asked);
        }
        return column;
    }

    private double[] Severities(WindowedColumn airC, double[] met, Func<double, double, int?> severity)
    {
        double[] column = new double[_hours];
        foreach (var date in Dates())
        {
            double hours = 0, sum = 0;
            int known = 0;
            for (int i = Math.Max(date.First, 0); i <= Math.Min(date.Last, _hours - 1); i++)
            {
                if (double.IsNaN(met[i]) || double.IsNaN(airC[i]))
                    continue;
                known++;
                hours += met[i];
                sum += met[i] * airC[i];
            }
            Count(column, date, known < WarmthSum.ShareOfHoursNeeded * date.Asked ? null : severity(hours, sum / hours));
        }
        return column;
    }

    private static (double Low, double High) Extremes(WindowedColumn airC, Date date)
    {
        airC.Total(date.First, date.Last, out int known);
        return known < WarmthSum.ShareOfHoursNeeded * date.Asked
            ? (double.NaN, double.NaN)
            : (airC.Low(date.First, date.Last), airC.High(date.First, date.Last));
    }

    private void Count(double[] column, Date date, double? value)
    {
        if (value is null)
            Stamps(column, date).Fill(double.NaN);
        else
            column[Math.Min(date.Last, _hours - 1)] = value.Value;
    }

    private Span<double> Stamps(double[] column, Date date)
    {
        int first = Math.Max(date.First, 0);
        return column.AsSpan(first, Math.Min(date.Last, _hours - 1) - first + 1);
    }

    private static double[] Held(WindowedColumn column, Date date)
    {
        double[] held = new double[date.Asked];
        for (int i = 0; i < held.Length; i++)
            held[i] = column[date.First + i];
        return held;
    }

    private static double[] Held(ReadOnlySpan<double> column, Date date)
    {
        double[] held = new double[date.Asked];
        for (int i = 0; i < held.Length; i++)
            held[i] = date.First + i >= 0 && date.First + i < column.Length ? column[date.First + i] : double.NaN;
        return held;
    }

    /// <summary>The dates that have a stamp in the series; a stamp at midnight is the last of the date before.</summary>
    private IEnumerable<Date> Dates()
    {
        if (_hours == 0)
            yield break;
        long end = _start + (_hours - 1L) * LocalDays.SecondsAnHour;
        for (int day = _days.DayAt(_start - 1); ; day++)
        {
            long from = _days.StartOf(day), until = _days.StartOf(day + 1);
            if (from >= end)
                yield break;
            var date = new Date(Hour(from) + 1, Hour(until));
            if (date.Last >= Math.Max(date.First, 0))
                yield return date;
        }
    }

    private int Hour(long second) => (int)Math.Floor((second - _start) / (double)LocalDays.SecondsAnHour);

    /// <summary>First and last stamp of a date, as hours of the series, which may not hold them.</summary>
    private readonly record struct Date(int First, int Last)
    {
        public int Asked => Last - First + 1;
    }
}
