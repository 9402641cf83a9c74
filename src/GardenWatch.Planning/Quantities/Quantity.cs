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
}

/// <summary>A number with its dimension, kept in the unit named at <see cref="Dimension"/>.</summary>
public readonly record struct Quantity(double Value, Dimension Dimension);
