using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Warmth;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>
/// A bed's daily warmth for one need, from a year ago to a year ahead: measured and forecast where it is known, the normal
/// of the date where it is not. What is normal may stray, so sums have an early and a late date.
/// </summary>
internal sealed class WarmthCourse
{
    // How far the sum of a season's warmth strays from the normal one in most years: about a tenth. Common practice.
    private const double NormalStraysBy = 0.1;
    private const int DaysEachWay = 400;
    private const int HoursKnownOfADay = 20;

    private readonly LocalDate _first;
    private readonly double[] _known = new double[2 * DaysEachWay];
    private readonly double[] _normal = new double[2 * DaysEachWay];

    private WarmthCourse(LocalDate first) => _first = first;

    public static WarmthCourse Of(WarmthNeed need, GardenWeather weather, Bed bed, LocalDate today)
    {
        var course = new WarmthCourse(today.PlusDays(-DaysEachWay));
        var hours = weather.BedOf(bed).Weather;
        var warmth = hours.Column(new(Measure.Warmth, BaseCelsius: need.Base.Celsius, CeilingCelsius: need.Ceiling?.Celsius));
        var (seriesFrom, seriesTo) = (weather.Calendar.DateOf(hours.Series.Start), weather.Calendar.DateOf(hours.Series.LastStamp));
        for (int day = 0; day < course._known.Length; day++)
        {
            var date = course._first.PlusDays(day);
            (course._known[day], course._normal[day]) = (double.NaN, double.NaN);
            if (date >= seriesFrom && date <= seriesTo)
            {
                var span = weather.Calendar.DayOf(date);
                int from = Math.Max(0, hours.Series.FirstAtOrAfter(span.Start)), to = Math.Min(hours.Series.Hours, hours.Series.FirstAtOrAfter(span.End)) - 1;
                int known = to >= from ? warmth.Known(from, to) : 0;
                if (known >= HoursKnownOfADay)
                    course._known[day] = warmth.Total(from, to) * (to - from + 1) / known;
            }
            if (double.IsNaN(course._known[day]) && weather.Climate?.AirOn(date) is { } air)
                course._normal[day] = Normal(air, need);
        }
        return course;
    }

    /// <summary>From the day on which it comes to the smaller need at the soonest, to that on which it comes to the larger at the latest.</summary>
    /// <param name="since">Both days may be the first that counts.</param>
    /// <returns>Null when a day on the way is neither known nor has a normal, or a year is not enough.</returns>
    public DateInterval? Reached(DateInterval since, (double From, double To) needed) =>
        Reached(since.Start, needed.From, 1 + NormalStraysBy) is { } early && Reached(since.End, needed.To, 1 - NormalStraysBy) is { } late
            ? new(early, LocalDate.Max(early, late))
            : null;

    /// <summary>The usual warmth of some days; null when it is not known of all.</summary>
    public double? Sum(LocalDate from, int days)
    {
        double sum = 0;
        for (int day = 0; day < days; day++)
        {
            if (Of(from.PlusDays(day)) is not { } warmth)
                return null;
            sum += warmth;
        }
        return sum;
    }

    /// <summary>Of one day, as known or as usual.</summary>
    public double? Of(LocalDate date)
    {
        int day = Period.DaysBetween(_first, date);
        return day < 0 || day >= _known.Length ? null
            : !double.IsNaN(_known[day]) ? _known[day]
            : double.IsNaN(_normal[day]) ? null : _normal[day];
    }

    private LocalDate? Reached(LocalDate since, double needed, double normalCounts)
    {
        double sum = 0;
        for (int day = Math.Max(0, Period.DaysBetween(_first, since)); day < _known.Length; day++)
        {
            double warmth = double.IsNaN(_known[day]) ? _normal[day] * normalCounts : _known[day];
            if (double.IsNaN(warmth))
                return null;
            sum += warmth;
            if (sum >= needed)
                return _first.PlusDays(day);
        }
        return null;
    }

    private static double Normal(NormalAir air, WarmthNeed need) => double.IsNaN(air.LowC) || double.IsNaN(air.HighC)
        ? double.NaN
        : DegreeDays.SingleSine(air.LowC, Math.Max(air.LowC, air.HighC), need.Base.Celsius, need.Ceiling?.Celsius ?? double.PositiveInfinity);
}
