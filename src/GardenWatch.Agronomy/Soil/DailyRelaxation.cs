namespace GardenWatch.Agronomy.Soil;

/// <summary>Topsoil that follows the daily mean of the air, for records that hold nothing else.</summary>
/// <remarks>The service itself uses <see cref="SoilTemperature"/>; these are the published yardsticks beside it.</remarks>
public static class DailyRelaxation
{
    /// <summary>One day of top soil, °C.</summary>
    /// <param name="vegetationFactor">1 for bare soil to 0.5 for a dense canopy: shade slows warming.</param>
    /// <remarks>
    /// Zheng, Hunt and Running 1993, Clim. Res. 2:183-191, surface step: a quarter of the way each day, a tenth under snow.
    /// Day-to-day error 1.5 to 2 K.
    /// </remarks>
    public static double Zheng(double soilC, double airC, bool underSnow = false, double vegetationFactor = 1) =>
        !(vegetationFactor is >= 0.5 and <= 1)
        ? throw new ArgumentOutOfRangeException(nameof(vegetationFactor), vegetationFactor, "A vegetation factor is 0.5 to 1.")
        : soilC + (underSnow ? 0.1 : 0.25) * (airC - soilC) * (airC > soilC ? vegetationFactor : 1);

    /// <summary>One day of a layer from the surface down to a depth, °C.</summary>
    /// <param name="greenAreaIndex">Leaf area over ground area; 0 for bare soil.</param>
    /// <remarks>
    /// Kätterer and Andrén 2009, Acta Agric. Scand. B 59:77-86, for cold temperate arable land. The factor for bare ground
    /// is a share of the Celsius value, so it runs too warm on hot days.
    /// </remarks>
    public static double KattererAndren(double soilC, double airC, double layerMetres, double greenAreaIndex)
    {
        if (!(layerMetres is > 0 and <= 2))
            throw new ArgumentOutOfRangeException(nameof(layerMetres), layerMetres, "A layer is up to 2 m.");
        if (!(greenAreaIndex is >= 0 and <= 15))
            throw new ArgumentOutOfRangeException(nameof(greenAreaIndex), greenAreaIndex, "A green area index is 0 to 15.");
        double surface = airC < 0 ? 0.20 * airC : airC * (0.95 + 0.05 * Math.Exp(-0.4 * (0.8 * greenAreaIndex - 3)));
        double middleCm = layerMetres * 100 / 2;
        return soilC + (surface - soilC) * 0.24 * Math.Exp(-0.017 * middleCm) * Math.Exp(-0.15 * greenAreaIndex);
    }
}
