using System.Collections.Immutable;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Demo;

/// <summary>
/// Hourly weather of a place that does not exist. INVENTED: no day of it was ever measured anywhere. Winters are cold,
/// the last frost comes about mid or late April, July is hot, and every month has rain.
/// </summary>
/// <remarks>
/// Air is the season's course, an air mass that wanders over days, fronts, and the day's own warming and cooling. The
/// last is a store that sunshine fills and a clear calm sky empties, so nights under cloud stay mild and the low comes
/// after sunrise, as in a real garden. The same seed gives the same weather for an hour, whatever the span asked for.
/// </remarks>
public static class InventedSeason
{
    /// <summary>Said wherever this weather is shown.</summary>
    public const string Notice = "Invented weather of an invented place, made for this demonstration. Do not garden by it.";

    /// <summary>The zone the place keeps.</summary>
    public const string ZoneId = "America/New_York";

    /// <summary>Long enough for the soil to forget where it began.</summary>
    private static readonly Duration RunUp = Duration.FromDays(90);

    private enum Stream { Passing, AirMass, LongSpells, CloudByDay, CloudByHour, Wind, Gusts, Dryness }

    /// <summary>A latitude, a longitude and a height that give the sun its course and the clock its noon; no garden is meant.</summary>
    public static GeoPosition Place { get; } = new(39.5, -83.5, 290);

    public static double SolarNoonUtcHour => 12 - Place.LongitudeDegrees / 15;

    /// <summary>Weather with the notable mornings of <see cref="NotableMornings"/> in it.</summary>
    public static WeatherSeries Between(ulong seed, Instant from, Instant until) => Between(seed, from, until, NotableMornings.Shapes);

    /// <param name="from">First stamp, a whole hour.</param>
    /// <param name="until">Last stamp.</param>
    public static WeatherSeries Between(ulong seed, Instant from, Instant until, ImmutableArray<Shape> shapes)
    {
        var scatter = new Scatter(seed);
        double first = HourOf(from - RunUp);
        int hours = (int)(HourOf(until) - first) + 1;
        var passing = Passing.Between(scatter.Stream((int)Stream.Passing), first, first + hours, SolarNoonUtcHour);
        var (rain, kinds) = RainOf(passing, shapes, first, hours);

        var table = new HourTable((int)(HourOf(until) - HourOf(from)) + 1);
        var ground = Ground.At(SeasonalAir(from - RunUp));
        double dayWarmth = 0;
        for (int i = 0; i < hours; i++)
        {
            double hour = first + i;
            var stamp = Instant.FromUnixTimeSeconds((long)hour * 3600);
            var drivers = DriversOf(scatter, passing, shapes, stamp, hour);
            bool wet = rain[i] > 0;
            // The hour that ends at the next stamp may be the wet one: cloud is there before the rain is.
            bool wetSoon = wet || i + 1 < hours && rain[i + 1] > 0;
            double cloud = Math.Round(wetSoon ? Math.Max(drivers.Cloud, 78) : drivers.Cloud);
            double radiation = Math.Round(Sky.ClearRadiation(stamp, Place) * Sky.ThroughCloud(cloud), 1);

            dayWarmth = NextDayWarmth(dayWarmth, radiation, cloud, drivers.Wind, wet);
            double air = Math.Round(drivers.AirMass + dayWarmth, 1);
            double depression = wet ? Math.Min(drivers.DewBelowAirMass, 1.2) : drivers.DewBelowAirMass;
            double dew = Math.Min(air, Math.Round((wet ? air : drivers.AirMass) - depression, 1));
            ground = ground.Next(air, radiation, SeasonalAir(stamp - Duration.FromDays(20)));
            if (stamp < from)
                continue;

            double wind = Math.Round(drivers.Wind, 2);
            double squall = kinds[i] == RainKind.Soft ? 0 : Math.Min(8, rain[i]);
            double humidity = Math.Round(Moisture.RelativeHumidity(air, dew));
            table.Add(new Dictionary<WeatherVariable, double>
            {
                [WeatherVariable.Air] = air,
                [WeatherVariable.DewPoint] = dew,
                [WeatherVariable.RelativeHumidity] = humidity,
                [WeatherVariable.Rain] = rain[i],
                [WeatherVariable.Snowfall] = Math.Round(Moisture.SnowfallCm(air, rain[i]), 2),
                [WeatherVariable.CloudCover] = cloud,
                [WeatherVariable.Wind] = wind,
                [WeatherVariable.Gust] = Math.Round(wind * drivers.GustFactor + 0.5 + squall, 2),
                [WeatherVariable.Radiation] = radiation,
                [WeatherVariable.ReferenceEvapotranspiration] = Math.Round(Sky.Evapotranspiration(air, radiation), 2),
                [WeatherVariable.WeatherCode] = Sky.WeatherCode(air, rain[i], cloud, humidity, wind, kinds[i]),
                [WeatherVariable.SoilAt6Cm] = Math.Round(ground.At6Cm, 1),
                [WeatherVariable.SoilAt18Cm] = Math.Round(ground.At18Cm, 1),
            });
        }
        return table.ToSeries(from, new(SourceKind.Archive, Notice, until));
    }

    /// <summary>What the season alone gives, without the day's warming.</summary>
    private static double SeasonalAir(Instant instant) => 11.2 + 12.3 * Season.Warmth(instant);

    private readonly record struct Drivers(double AirMass, double DewBelowAirMass, double Cloud, double Wind, double GustFactor);

    private static Drivers DriversOf(Scatter scatter, Passing passing, ImmutableArray<Shape> shapes, Instant stamp, double hour)
    {
        double Wave(Stream stream, double scaleHours) => scatter.Stream((int)stream).Wave(hour / scaleHours);

        double summer = Season.SummerShare(stamp);
        double wander = (4.6 - 2.3 * summer) * (0.85 * Wave(Stream.AirMass, 40) + 0.5 * Wave(Stream.LongSpells, 200));
        double cloudiness = 0.3 - 0.55 * summer + 1.1 * Wave(Stream.CloudByDay, 14) + 0.5 * Wave(Stream.CloudByHour, 5);
        double windiness = (3.3 - 1.1 * summer) * Math.Exp(0.4 * Wave(Stream.Wind, 16));
        foreach (var front in passing.Fronts)
        {
            if (Math.Abs(front.Hour - hour) > 150)
                continue;
            wander += front.AirKelvins(hour);
            cloudiness += front.Cloud(hour);
            windiness += front.WindMetresPerSecond(hour);
        }
        double cloud = 100 / (1 + Math.Exp(-1.7 * cloudiness));
        double dryness = 4.5 + 1.8 * Wave(Stream.Dryness, 30);

        foreach (var shape in shapes)
        {
            double weight = shape.Firmness * shape.Weight(stamp);
            wander += weight * (shape.AirKelvins - wander);
            cloud += weight * (shape.Cloud - cloud);
            windiness += weight * (shape.Wind - windiness);
            dryness += weight * (shape.DewBelowAirKelvins - dryness);
        }
        double stirred = 0.75 + 0.5 * Math.Sin(Math.PI * Math.Clamp((hour % 24 - SolarNoonUtcHour + 8) / 14, 0, 1));
        return new(
            SeasonalAir(stamp) + wander, Math.Max(0.5, dryness), cloud, windiness * stirred, 1.45 + 0.12 * Wave(Stream.Gusts, 6));
    }

    /// <summary>Kelvins above or below the air mass, an hour on.</summary>
    private static double NextDayWarmth(double now, double radiation, double cloud, double wind, bool wet)
    {
        double stirring = 1 / (1 + wind * wind / 40);
        double gain = 0.0044 * radiation * (0.7 + 0.3 * stirring) * (wet ? 0.5 : 1);
        double loss = (0.3 + 1.35 * (1 - Math.Pow(cloud / 100, 2))) * (0.35 + 0.65 * stirring);
        return now + gain - loss - now / 5;
    }

    private static (double[] Mm, RainKind[] Kinds) RainOf(Passing passing, ImmutableArray<Shape> shapes, double first, int hours)
    {
        var mm = new double[hours];
        var kinds = new RainKind[hours];

        void Fall(RainSpell spell, Func<Instant, double> share)
        {
            int from = Math.Max(0, (int)Math.Floor(spell.StartHour - first)), until = (int)Math.Ceiling(spell.EndHour - first);
            for (int i = from; i <= until && i < hours; i++)
            {
                double fallen = spell.InHourEnding(first + i) * share(Instant.FromUnixTimeSeconds((long)(first + i) * 3600));
                if (fallen > mm[i] / 2)
                    kinds[i] = spell.Kind;
                mm[i] += fallen;
            }
        }

        foreach (var spell in passing.Rain)
            Fall(spell, stamp => 1 - shapes.Select(shape => shape.Weight(stamp)).DefaultIfEmpty(0).Max());
        foreach (var shape in shapes)
            if (shape.Rain is { } spell)
                Fall(spell, _ => 1);
        for (int i = 0; i < hours; i++)
            mm[i] = Math.Round(mm[i], 1);
        return (mm, kinds);
    }

    private static double HourOf(Instant instant) => Math.Floor(instant.ToUnixTimeSeconds() / 3600.0);
}
