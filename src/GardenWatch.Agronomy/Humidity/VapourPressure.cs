using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Humidity;

/// <summary>Pressure of water vapour in air, kPa, from temperatures in °C.</summary>
public static class VapourPressure
{
    /// <summary>Saturation over water.</summary>
    /// <remarks>
    /// FAO-56 (Allen et al. 1998) eq. 11. From -20 to 50 °C within 0.6 % of Goff-Gratch; over ice it is too high, by
    /// 10 % at -10 °C.
    /// </remarks>
    public static double Saturation(double airC) => 0.6108 * Math.Exp(17.27 * airC / (airC + 237.3));

    /// <summary>Saturation over ice, at 0 °C and below; above, that over water.</summary>
    /// <remarks>Buck 1981, J. Appl. Meteorol. 20:1527-1532, ice curve with the coefficients of his 1996 revision.</remarks>
    public static double SaturationOverIce(double airC) =>
        airC > 0 ? Saturation(airC) : 0.61115 * Math.Exp((23.036 - airC / 333.7) * airC / (279.82 + airC));

    /// <summary>Actual vapour pressure of air with a relative humidity, 0 to 100 % over water.</summary>
    /// <remarks>FAO-56 eq. 10 solved for the pressure.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Humidity outside 0 to 100 %.</exception>
    public static double Actual(double airC, double relativeHumidityPercent) =>
        Within.Humidity(relativeHumidityPercent) / 100 * Saturation(airC);

    /// <summary>What the air could still take up: the drying power that leaves feel, from 0 in fog.</summary>
    /// <remarks>FAO-56 (es - ea), here of one instant; of a day take the means of its eq. 12 and 17.</remarks>
    /// <exception cref="ArgumentOutOfRangeException">Humidity outside 0 to 100 %.</exception>
    public static double Deficit(double airC, double relativeHumidityPercent) =>
        Saturation(airC) - Actual(airC, relativeHumidityPercent);

    /// <summary>Slope of the saturation curve over water, kPa/K.</summary>
    /// <remarks>FAO-56 eq. 13.</remarks>
    public static double SaturationSlope(double airC) => 4098 * Saturation(airC) / ((airC + 237.3) * (airC + 237.3));

    /// <summary>Actual vapour pressure from a ventilated psychrometer.</summary>
    /// <remarks>FAO-56 eq. 15 and 16, coefficient 0.000662 for Asmann's kind.</remarks>
    public static double FromWetBulb(double dryC, double wetC, double pressureKPa) =>
        Saturation(wetC) - 0.000662 * pressureKPa * (dryC - wetC);

    /// <summary>Mean pressure of the air at a height above the sea.</summary>
    /// <remarks>FAO-56 eq. 7.</remarks>
    public static double OfAirAtElevation(double metres) => 101.3 * Math.Pow((293 - 0.0065 * metres) / 293, 5.26);

    /// <summary>Psychrometric constant, kPa/K.</summary>
    /// <remarks>FAO-56 eq. 8.</remarks>
    public static double PsychrometricConstant(double pressureKPa) => 0.000665 * pressureKPa;
}
