namespace GardenWatch.Planning.Quantities;

/// <summary>How messages speak. The plan file may use either, with units.</summary>
public enum UnitSystem { Metric, Us }

/// <summary>What a quantity is of, and in brackets the one unit it is kept in.</summary>
public enum Dimension
{
    /// <summary>A reading (°C).</summary>
    Temperature,
    /// <summary>A difference between readings (K).</summary>
    TemperatureDifference,
    /// <summary>Depth of rain or of watering (mm).</summary>
    WaterDepth,
    /// <summary>How fast rain falls (mm/h).</summary>
    RainRate,
    /// <summary>Wind and gusts (m/s).</summary>
    Speed,
    /// <summary>Sizes, spacings, depths in the soil (m).</summary>
    Length,
    /// <summary>Beds (m²).</summary>
    Area,
    /// <summary>Containers and watering (litres).</summary>
    Volume,
    /// <summary>Chances, humidity, cloud (0 to 1).</summary>
    Share,
    /// <summary>Spells (hours).</summary>
    Hours,
    /// <summary>Intervals (days).</summary>
    Days,
    /// <summary>Degree-days (°C days).</summary>
    Warmth,
    /// <summary>Sun (W/m²).</summary>
    Radiation,
    /// <summary>Severity values, which disease models count.</summary>
    Severity,
    /// <summary>What was picked (g).</summary>
    Mass,
}

/// <summary>A number with its dimension, kept in the unit named at <see cref="Dimension"/>.</summary>
public readonly record struct Quantity(double Value, Dimension Dimension);

public static class DimensionUnits
{
    /// <summary>The one unit in which quantities of a dimension are kept, as other programs read it.</summary>
    public static string Unit(this Dimension dimension) => dimension switch
    {
        Dimension.Temperature => "°C",
        Dimension.TemperatureDifference => "K",
        Dimension.WaterDepth => "mm",
        Dimension.RainRate => "mm/h",
        Dimension.Speed => "m/s",
        Dimension.Length => "m",
        Dimension.Area => "m²",
        Dimension.Volume => "L",
        Dimension.Hours => "h",
        Dimension.Days => "d",
        Dimension.Warmth => "°C d",
        Dimension.Radiation => "W/m²",
        Dimension.Mass => "g",
        _ => "1",
    };
}
