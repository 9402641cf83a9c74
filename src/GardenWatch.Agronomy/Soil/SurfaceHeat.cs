using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;

namespace GardenWatch.Agronomy.Soil;

/// <summary>
/// The heat that an hour's sun and air offer a soil: the temperature its surface is drawn to, and how strongly.
/// </summary>
/// <remarks>
/// Sol-air temperature: net radiation, less what evaporates (Priestley and Taylor 1972, Mon. Weather Rev. 100:81-92, 1.26
/// for a wet surface), over the exchange with the air, which is radiation's own (about 5 W/m²K) and that of the FAO-56
/// reference grass with wind (resistance 208/u2). Bare soil evaporates by FAO-56 eq. 74: in full until 9 mm are gone, then
/// less and less to 22 mm.
/// </remarks>
internal sealed class SurfaceHeat
{
    private const double RadiativeExchange = 5;
    private const double ExchangePerWind = 1200.0 / 208;
    private const double WetPriestleyTaylor = 1.26;
    private const double Psychrometric = 0.0665;
    private const double MegajoulesPerMillimetre = 2.45;
    private const double EasilyEvaporatedMm = 9;
    private const double EvaporableMm = 22;

    private readonly double _transmission;
    private readonly double _albedo;
    private readonly double _wetness;
    private readonly double _skyShare;
    private readonly double _windShare;
    private readonly double _throughCover;
    private readonly double _throughCoverPerWind;
    private readonly bool _driesOut;

    public SurfaceHeat(SoilSurface surface, double depletionMm = (EasilyEvaporatedMm + EvaporableMm) / 2)
    {
        DepletionMm = depletionMm;
        // Conductance: 5 cm of straw, which conducts 0.1 W/mK in still air and up to 0.6 with 5 m/s over it (van Donk and Tollner
        // 2000, abstract); three quarters of the wind of two metres get there. Compost, leaves and chips lie closer and moister, at about
        // 0.25; turf and thatch, and the narrow gap under a film, by judgement. Wetness: the share of a wet surface's evaporation;
        // those of mulches are set so that the year under them is as Kohnke and Werkhoven 1963 measured it (MulchedSoilTests). A
        // film stops evaporation, but half of its warmth goes to the air that it traps and spills; the shares are set so that a
        // sunny spring afternoon gains what Lamont 1993 (HortTechnology 3:35-39) printed: +1.7 K at 10 cm under black, 3.3 to 5
        // under clear, -1 under white.
        (_albedo, _wetness, _skyShare, _throughCover, _throughCoverPerWind) = surface.Cover switch
        {
            SoilCover.Bare => (0.20, 0.60, 1.0, double.PositiveInfinity, 0),
            // As bare ground that never dries out for long; by judgement.
            SoilCover.Tended => (0.20, 0.60, 1.0, double.PositiveInfinity, 0),
            SoilCover.Grass => (0.23, 0.85, 0.0, 8.0, 0),
            SoilCover.Straw => (0.25, 0.60, 0.5, 2.0, 1.5),
            SoilCover.OrganicMulch => (0.20, 0.75, 0.5, 5.0, 0),
            SoilCover.BlackFilm => (0.05, 0.30, 1.0, 10.0, 0),
            SoilCover.ClearFilm => (0.20, 0.15, 0.5, 20.0, 0),
            SoilCover.WhiteFilm => (0.45, 0.30, 1.0, 10.0, 0),
            _ => throw new ArgumentOutOfRangeException(nameof(surface), surface.Cover, "Not a soil cover."),
        };
        // A roof lets three quarters of the sun in, halves the loss to the sky and keeps most of the wind out; it is
        // aired in sun, so the gain stays small (1 to 3 K).
        (_transmission, _windShare) = surface.Roof == SoilRoof.Open ? (1.0, 1.0) : (0.75, 0.25);
        if (surface.Roof != SoilRoof.Open)
            _skyShare *= 0.5;
        if (surface.Place != SoilPlace.Ground)
            _wetness *= 0.8;
        _driesOut = surface is { Cover: SoilCover.Bare, Roof: SoilRoof.Open, Place: SoilPlace.Ground };
    }

    /// <summary>What the upper crust of bare ground has lost by evaporation.</summary>
    public double DepletionMm { get; private set; }

    /// <summary>The temperature the surface is drawn to, °C, and the conductance from there to the soil, W/m²K.</summary>
    public (double DrawnToC, double Conductance) Hour(in SkyBalance sky, double rainMm)
    {
        double wetness = Wetness(rainMm);
        double net = (1 - _albedo) * _transmission * sky.SunWatts - sky.LossWatts;
        double wind = _windShare * sky.WindAtTwoMetres;
        double exchange = RadiativeExchange + ExchangePerWind * wind;
        double conductance = 1 / (1 / exchange + 1 / (_throughCover + _throughCoverPerWind * wind));
        if (net <= 0)
            return (sky.AirC + net * _skyShare / exchange, conductance);
        double slope = VapourPressure.SaturationSlope(sky.AirC);
        double evaporating = net * Math.Min(0.95, WetPriestleyTaylor * wetness * slope / (slope + Psychrometric));
        DepletionMm = Math.Min(EvaporableMm, DepletionMm + evaporating * 3600e-6 / MegajoulesPerMillimetre);
        return (sky.AirC + (net - evaporating) / exchange, conductance);
    }

    // Rain wets only bare ground's upper crust; where it is not known, or gets to no crust, the cover's usual state counts.
    private double Wetness(double rainMm)
    {
        if (!_driesOut || double.IsNaN(rainMm))
            return _wetness;
        DepletionMm = Math.Max(0, DepletionMm - rainMm);
        return Math.Clamp((EvaporableMm - DepletionMm) / (EvaporableMm - EasilyEvaporatedMm), 0.05, 1);
    }
}
