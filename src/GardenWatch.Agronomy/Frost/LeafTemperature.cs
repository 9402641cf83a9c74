using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Frost;

/// <summary>An exposed leaf near the ground: by night colder than the air, as much as sky, wind and dew allow.</summary>
/// <remarks>
/// Balance of a thin leaf that faces the sky and stores no heat: what it sends out beyond what the sky sends back is made
/// good by the air, and by dew or hoar once it is colder than the dew point. Exchange with the air: free convection from
/// both sides of a leaf a decimetre wide, 1.32 (ΔT/d)^¼ W/m²K a side (about 7 in all), and that of the FAO-56 reference
/// grass with wind (resistance 208/u2, eq. 4), damped under an inversion after Mahrt and Ek 1984, J. Clim. Appl.
/// Meteorol. 23:222-234. No constant is fitted to a station.
/// Checked against the lowest at 10 cm over grass at De Bilt, nights with air under 6 °C: with the hourly weather of 2000
/// bias -0.1 K, RMSE 1.0 K (air less a constant: 1.5 K); with weather made of daily means, 1980 to 2019, 0.1 and 1.4 K.
/// In spring it errs to the warm side (nine May nights of 2000 by 0.9 K: a short night's low falls between the stamps), so
/// frost rules should begin at a leaf of 1 to 1.5 °C (1.5 °C catches 60 of the 62 ground frosts of 2000 with 81 alarms).
/// Clear, still, dry nights give 5 to 7 K. Over snow the leaf may be 10 K colder
/// than the air. By day it is taken as warm as the air: near enough for frost, too cool for heat.
/// </remarks>
public static class LeafTemperature
{
    // Both sides, of a leaf 0.1 m wide: 2 * 1.32 / 0.1^¼, times the fourth root of the difference.
    private const double FreeConvection = 2 * 1.32 * 1.7783;

    // Air's heat capacity by volume over FAO-56's resistance: 1200 J/m³K / (208 / u2).
    private const double ExchangePerWind = 1200.0 / 208;

    private const double LeastWind = 0.3;
    private const double LeafEmissivity = 0.97;
    private const double Psychrometric = 0.0665;
    private const double FirstGuess = 3;
    private const double Tolerance = 0.004;

    /// <summary>°C of the leaf at each stamp; NaN only where the air itself is not known.</summary>
    /// <param name="frostPocket">The bed's extra cold on a clear, still night, as for <see cref="BedAir"/>.</param>
    /// <param name="underGlass">
    /// In a frame, tunnel or greenhouse the pane faces the sky instead of the leaf: the leaf is then as warm as the bed's
    /// air outside. No gain is credited to an unheated house, since thin film may be no warmer than outdoors. A plant on a
    /// sill indoors has the room's warmth and is not to be asked for here.
    /// </param>
    public static double[] Hourly(
        WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket, bool underGlass = false)
    {
        var leaf = new double[weather.Hours];
        Fill(leaf, 0, weather, place, frostPocket, underGlass);
        return leaf;
    }

    /// <summary>The hours from one on, into a column whose earlier ones stand: a run of an ensemble parts from known weather there.</summary>
    public static void Fill(
        Span<double> leaf, int from, WeatherSeries weather, GeoPosition place, TemperatureDifference frostPocket, bool underGlass = false)
    {
        if (underGlass)
        {
            BedAir.Fill(leaf, from, weather, place, frostPocket);
            return;
        }
        var hours = SkyBalance.Over(weather, place, WhenUnknown.Worst);
        for (int hour = from; hour < leaf.Length; hour++)
        {
            var sky = hours.At(hour);
            double air = BedAir.At(sky, frostPocket);
            leaf[hour] = air - Allowance(sky, air);
        }
    }

    /// <summary>Kelvins by which the leaf is colder than the air around it, settled to a hundredth.</summary>
    internal static double Allowance(in SkyBalance sky, double airC)
    {
        double loss = BedAir.NetLossWatts(sky);
        if (!(loss > 0))
            return loss <= 0 ? 0 : double.NaN;
        var air = new StillAir(sky, airC, loss);
        // The colder the leaf, the stabler the air over it, the less it is warmed. Steps of a secant where the balance is
        // steep enough to trust one, else of half the way, which always settles.
        double before = FirstGuess, missedBefore = air.Settled(before) - before;
        double allowance = before + missedBefore / 2;
        for (int round = 0; round < 8; round++)
        {
            double missed = air.Settled(allowance) - allowance;
            if (Math.Abs(missed) < Tolerance)
                return allowance + missed / 2;
            double slope = (missed - missedBefore) / (allowance - before);
            (before, missedBefore) = (allowance, missed);
            allowance = Math.Max(0.001, allowance + (slope is < -0.25 and > -8 ? -missed / slope : missed / 2));
        }
        return allowance;
    }

    /// <summary>The air about a leaf that loses heat to the sky.</summary>
    private readonly struct StillAir(in SkyBalance sky, double airC, double loss)
    {
        private readonly double _wind = Math.Max(LeastWind, sky.WindAtTwoMetres);
        private readonly double _emitted = 4 * LeafEmissivity * SkyBalance.BlackBody(airC) / (airC + 273.16);
        private readonly double _dewPoint = Math.Min(sky.DewPointC, airC);
        private readonly double _richardsonPerKelvin =
            9.81 * 2 / ((airC + 273.16) * Math.Max(LeastWind, sky.WindAtTwoMetres) * Math.Max(LeastWind, sky.WindAtTwoMetres));

        /// <summary>The allowance at which a leaf comes to rest in air as stable as a leaf with another allowance makes it.</summary>
        public double Settled(double allowance)
        {
            double richardson = _richardsonPerKelvin * allowance;
            double exchange = FreeConvection * Math.Sqrt(Math.Sqrt(allowance))
                + ExchangePerWind * _wind / ((1 + 15 * richardson) * Math.Sqrt(1 + 5 * richardson));
            double next = loss / (_emitted + exchange);
            if (airC - next >= _dewPoint)
                return next;
            // Water that condenses gives heat in proportion to the vapour pressure lost below the dew point. The curve over
            // water is kept below 0 °C: over ice the leaf would stall a little warmer, which need not happen.
            double condensing = exchange * VapourPressure.SaturationSlope((_dewPoint + airC - next) / 2) / Psychrometric;
            return (loss + condensing * (airC - _dewPoint)) / (_emitted + exchange + condensing);
        }
    }
}
