using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>A night's coldest leaf, and what makes it so: the numbers behind a frost warning.</summary>
/// <param name="At">The stamp at which the leaf is coldest.</param>
/// <param name="AirC">Air of the place at that stamp.</param>
/// <param name="PocketKelvins">Taken off for the bed's frost pocket.</param>
/// <param name="AllowanceKelvins">Taken off for sky, wind and dew.</param>
/// <param name="CloudKnown">False when the sky had to be taken as clear.</param>
/// <param name="WindKnown">False when the air had to be taken as still.</param>
/// <param name="HumidityKnown">False when the air had to be taken as dry.</param>
/// <param name="ShareKnown">Share of the night's hours with known air; below 1 the night may be colder still.</param>
public sealed record LeafNight(
    Instant At, double AirC, double PocketKelvins, double AllowanceKelvins,
    bool CloudKnown, bool WindKnown, bool HumidityKnown, double ShareKnown)
{
    public double BedAirC => AirC - PocketKelvins;

    // RMSE at De Bilt in 2000, with hourly weather (FrostAtDeBiltTests).
    private const double OwnError = 1.0;

    public double LeafC => BedAirC - AllowanceKelvins;

    /// <summary>Chance, 0 to 1, that the leaf is at or below a limit, with the error of the forecast's low and of the leaf itself.</summary>
    public double ChanceAtOrBelow(double limitC, ForecastError error) =>
        NormalDistribution.Below((limitC - LeafC) / Math.Sqrt(error.LowKelvins * error.LowKelvins + OwnError * OwnError));

    /// <summary>The coldest known hour of a night, by <see cref="LeafTemperature"/>; null when no air is known in it.</summary>
    public static LeafNight? Coldest(
        WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket, Interval night, bool underGlass = false)
    {
        int from = Math.Clamp(weather.FirstAtOrAfter(night.Start), 0, weather.Hours);
        int until = Math.Clamp(weather.LastAtOrBefore(night.End) + 1, from, weather.Hours);
        var hours = SkyBalance.Over(weather, place, WhenUnknown.Worst);
        int coldest = -1;
        double air = 0, bed = 0, leaf = double.PositiveInfinity;
        for (int hour = from; hour < until; hour++)
        {
            var sky = hours.At(hour);
            double bedAir = BedAir.At(sky, frostPocket);
            double leafHere = underGlass ? bedAir : bedAir - LeafTemperature.Allowance(sky, bedAir);
            if (leafHere < leaf)
                (coldest, air, bed, leaf) = (hour, sky.AirC, bedAir, leafHere);
        }
        if (coldest < 0)
            return null;
        bool Known(WeatherVariable variable) => !double.IsNaN(weather[variable][coldest]);
        // Stamps of the night that lie outside the series are unknown too.
        int stamps = weather.LastAtOrBefore(night.End) - weather.FirstAtOrAfter(night.Start) + 1;
        double known = ScreenNight.ShareKnown(weather[WeatherVariable.Air][from..until]) * (until - from);
        return new(
            weather.StampOf(coldest), air, air - bed, bed - leaf,
            Known(WeatherVariable.CloudCover),
            Known(WeatherVariable.Wind),
            Known(WeatherVariable.DewPoint) || Known(WeatherVariable.RelativeHumidity),
            known / stamps);
    }
}
