using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>What is kept of a past day. Temperatures in °C, of the local date unless said otherwise.</summary>
public enum DayFigure
{
    AirLow,
    AirMean,
    AirHigh,
    /// <summary>Lowest leaf of the date, in the open and without a frost pocket.</summary>
    LeafLow,
    /// <summary>Lowest air of the night that begins on the date.</summary>
    NightLow,
    /// <summary>Tended ground, 5 cm.</summary>
    Soil5CmMean,
    Soil5CmLow,
    /// <summary>Tended ground, 10 cm.</summary>
    Soil10CmMean,
    Soil10CmLow,
    /// <summary>Millimetres.</summary>
    Rain,
    /// <summary>Millimetres.</summary>
    ReferenceEvapotranspiration,
}

/// <summary>
/// A place's past years day by day, without a break in the dates; what is not known of a day is NaN, so that missing hours
/// and whole missing years are the same thing.
/// </summary>
public sealed class PastDays
{
    private readonly ImmutableDictionary<DayFigure, double[]> _figures;
    private readonly double[] _unknown;

    /// <param name="figures">Each with one value a day.</param>
    public PastDays(DateInterval dates, ImmutableDictionary<DayFigure, double[]> figures)
    {
        foreach (var (figure, values) in figures)
            if (values.Length != dates.Length)
                throw new ArgumentException($"{figure} has {values.Length} values for {dates.Length} days.", nameof(figures));
        Dates = dates;
        _figures = figures;
        _unknown = new double[dates.Length];
        Array.Fill(_unknown, double.NaN);
    }

    public DateInterval Dates { get; }

    public int Count => Dates.Length;

    /// <summary>All values of a figure, one a day.</summary>
    public ReadOnlySpan<double> this[DayFigure figure] => _figures.GetValueOrDefault(figure, _unknown);

    /// <summary>A day's index, which may lie outside.</summary>
    public int IndexOf(LocalDate date) => Period.DaysBetween(Dates.Start, date);

    /// <summary>Mean, or low, of some days that end on one; NaN if any is not known.</summary>
    public double MeanOver(DayFigure figure, int lastDay, int days)
    {
        double sum = 0;
        foreach (double value in Last(figure, lastDay, days))
            sum += value;
        return sum / days;
    }

    /// <inheritdoc cref="MeanOver"/>
    public double LowOver(DayFigure figure, int lastDay, int days)
    {
        double low = double.PositiveInfinity;
        foreach (double value in Last(figure, lastDay, days))
            low = Math.Min(low, value); // Math.Min hands NaN on.
        return low;
    }

    private ReadOnlySpan<double> Last(DayFigure figure, int lastDay, int days) =>
        lastDay - days + 1 >= 0 && lastDay < Count ? this[figure].Slice(lastDay - days + 1, days) : _unknown.AsSpan(0, 1);

    /// <summary>From hourly weather; days of which less than nine tenths of the hours are known are not known.</summary>
    /// <remarks>
    /// Soil is that of the service's own model, leaf that of <see cref="LeafTemperature"/>. Reference evapotranspiration by
    /// Penman and Monteith, where sun, wind or humidity are missing by Hargreaves.
    /// </remarks>
    public static PastDays Of(WeatherSeries years, LocalCalendar calendar)
    {
        if (years.Hours == 0)
            throw new ArgumentException("There are no hours to take days from.", nameof(years));
        var dates = new DateInterval(calendar.DateOf(years.Start), calendar.DateOf(years.LastStamp));
        double[] leaf = LeafTemperature.Hourly(years, calendar.Place, new TemperatureDifference(0));
        double[] soil5 = SoilTemperature.Hourly(years, calendar.Place, 0.05, SoilSurface.TendedGround);
        double[] soil10 = SoilTemperature.Hourly(years, calendar.Place, 0.10, SoilSurface.TendedGround);
        var figures = Enum.GetValues<DayFigure>().ToDictionary(figure => figure, _ => new double[dates.Length]);
        for (int i = 0; i < dates.Length; i++)
        {
            var date = dates.Start.PlusDays(i);
            var day = Stamps(years, calendar.DayOf(date));
            var air = HoursOf(years[WeatherVariable.Air], day);
            (figures[DayFigure.AirLow][i], figures[DayFigure.AirMean][i], figures[DayFigure.AirHigh][i]) = (air.Low, air.Mean, air.High);
            figures[DayFigure.LeafLow][i] = HoursOf(leaf, day).Low;
            figures[DayFigure.NightLow][i] = HoursOf(years[WeatherVariable.Air], Stamps(years, calendar.NightOf(date))).Low;
            (figures[DayFigure.Soil5CmLow][i], figures[DayFigure.Soil5CmMean][i], _) = HoursOf(soil5, day);
            (figures[DayFigure.Soil10CmLow][i], figures[DayFigure.Soil10CmMean][i], _) = HoursOf(soil10, day);
            // Sums and means of an hour stand at its end.
            var ending = (From: day.From + 1, Until: day.Until + 1);
            figures[DayFigure.Rain][i] = HoursOf(years[WeatherVariable.Rain], ending).Mean * (day.Until - day.From);
            figures[DayFigure.ReferenceEvapotranspiration][i] = Evapotranspiration(years, calendar.Place, date, air, day, ending);
        }
        return new(dates, figures.ToImmutableDictionary());
    }

    private static (int From, int Until) Stamps(WeatherSeries years, Interval span) =>
        (years.FirstAtOrAfter(span.Start), years.FirstAtOrAfter(span.End));

    private static (double Low, double Mean, double High) HoursOf(ReadOnlySpan<double> column, (int From, int Until) stamps)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity, sum = 0;
        int known = 0;
        for (int hour = Math.Max(stamps.From, 0); hour < Math.Min(stamps.Until, column.Length); hour++)
        {
            double value = column[hour];
            if (double.IsNaN(value))
                continue;
            (low, high, sum, known) = (Math.Min(low, value), Math.Max(high, value), sum + value, known + 1);
        }
        return known > 0 && known >= WarmthSum.ShareOfHoursNeeded * (stamps.Until - stamps.From)
            ? (low, sum / known, high)
            : (double.NaN, double.NaN, double.NaN);
    }

    private static double Evapotranspiration(
        WeatherSeries years, GeoPosition place, LocalDate date, (double Low, double Mean, double High) air,
        (int From, int Until) day, (int From, int Until) ending)
    {
        double dewPoint = HoursOf(years[WeatherVariable.DewPoint], day).Mean;
        double sun = HoursOf(years[WeatherVariable.Radiation], ending).Mean * (day.Until - day.From) * 3600e-6;
        double wind = Water.ReferenceEvapotranspiration.WindAtTwoMetres(HoursOf(years[WeatherVariable.Wind], day).Mean, 10);
        // A height that is not known costs a few hundredths of the result.
        double metres = double.IsNaN(place.ElevationMetres) ? 0 : place.ElevationMetres;
        double penman = Water.ReferenceEvapotranspiration.Daily(
            air.Low, air.High, VapourPressure.Saturation(dewPoint), sun, wind, place.LatitudeDegrees, metres, date.DayOfYear);
        return double.IsNaN(penman)
            ? Water.ReferenceEvapotranspiration.Hargreaves(
                air.Low, air.High, air.Mean, SolarRadiation.Extraterrestrial(place.LatitudeDegrees, date.DayOfYear))
            : Math.Max(0, penman);
    }
}
