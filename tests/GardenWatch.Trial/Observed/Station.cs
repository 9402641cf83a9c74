using GardenWatch.Agronomy.Climate;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Trial.Observed;

/// <summary>A place whose days were measured over some years, made hourly.</summary>
/// <param name="Weather">Hours of all its years.</param>
internal sealed record Station(string Name, LocalCalendar Calendar, WeatherSeries Weather)
{
    /// <summary>So the southern half of the year is the northern one's: 182 days later.</summary>
    private const int HalfAYear = 182;

    /// <summary>
    /// Seattle-Tacoma airport, 2012 to 2015, measured by NOAA (National Centers for Environmental Information, a work of the United States
    /// government), as the npm package vega-datasets 3.2.1 carries it in seattle-weather.csv. Its wind is m/s, though the package says km/h.
    /// </summary>
    public static Station Seattle { get; } = OfSeattle("Seattle", 47.45, -122.3, 130, "America/Los_Angeles", -8, halfYears: 0);

    /// <summary>The same days half a year later, in the far south of New Zealand.</summary>
    public static Station SeattleInTheSouth { get; } = OfSeattle("Seattle's days in the south", -46.4, 168.3, 130, "Pacific/Auckland", 12, halfYears: 1);

    private static readonly Lazy<Station?> InKansas = new(OfManhattan);

    /// <summary>Manhattan in Kansas, 2010 to 2016, U.S. Climate Reference Network (NOAA). Not part of the project: null where it is not at hand.</summary>
    public static Station? Manhattan => InKansas.Value;

    public const string ManhattanFile = "uscrn_manhattan_ks_daily_2010_2016.csv";

    /// <summary>What the whole years before a year tell.</summary>
    public ClimateSummary ClimateBefore(int year)
    {
        int hours = Weather.FirstAtOrAfter(Calendar.StartOf(new(year, 1, 1)));
        var table = new HourTable(hours);
        foreach (var variable in Enum.GetValues<WeatherVariable>())
            for (int hour = 0; hour < hours; hour++)
                table[variable, hour] = Weather[variable][hour];
        var before = table.ToSeries(Weather.Start, new(SourceKind.Archive, Name, Weather.Start + Duration.FromHours(hours)));
        return ClimateSummary.Of(PastDays.Of(before, Calendar), southern: Calendar.Place.LatitudeDegrees < 0);
    }

    private static Station OfSeattle(string name, double latitude, double longitude, double metres, string zone, int hoursFromUtc, int halfYears)
    {
        var file = ObservedTable.Read(Path.Combine(AppContext.BaseDirectory, "Observed", "seattle-weather.csv"));
        var days = Enumerable.Range(0, file.Rows).Select(row => new MeasuredDay(
            LocalDatePattern.Iso.Parse(file.Text(row, "date")).Value.PlusDays(halfYears * HalfAYear),
            file.Number(row, "temp_min"), file.Number(row, "temp_max"), file.Number(row, "precipitation"), double.NaN, file.Number(row, "wind"), double.NaN, double.NaN));
        return Of(name, new(latitude, longitude, metres), zone, hoursFromUtc, [.. days]);
    }

    private static Station? OfManhattan()
    {
        // The station measures wind for its gauge alone; in the open it is about this.
        const double wind = 2.5;
        if (DeBilt.File(ManhattanFile) is not { } path)
            return null;
        var file = ObservedTable.Read(path);
        var days = Enumerable.Range(0, file.Rows).Select(row => new MeasuredDay(
            LocalDatePattern.Iso.Parse(file.Text(row, "date")).Value,
            file.Number(row, "tmin_c"), file.Number(row, "tmax_c"), file.Number(row, "precip_mm"), file.Number(row, "solar_mj_m2"), wind, file.Number(row, "rh_avg_pct"), double.NaN));
        return Of("Manhattan", new(39.1, -96.6, 343), "America/Chicago", -6, [.. days]);
    }

    private static Station Of(string name, GeoPosition place, string zone, int hoursFromUtc, MeasuredDay[] days) => new(
        name, new(DateTimeZoneProviders.Tzdb[zone], place),
        new MadeHours(place, Offset.FromHours(hoursFromUtc), hourOfHigh: 15, new(260)).Of(days, $"{name}, daily made hourly"));
}
