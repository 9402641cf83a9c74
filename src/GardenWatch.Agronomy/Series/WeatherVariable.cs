namespace GardenWatch.Agronomy.Series;

/// <summary>What one column of a <see cref="WeatherSeries"/> holds. Each is hourly, stamped with a UTC instant.</summary>
/// <remarks>Instants are values at the stamp. Sums and means are of the hour that ends at the stamp.</remarks>
public enum WeatherVariable
{
    /// <summary>Air at two metres, °C, at the stamp.</summary>
    Air,
    /// <summary>Relative humidity at two metres, 0 to 100 %, at the stamp.</summary>
    RelativeHumidity,
    /// <summary>Dew point at two metres, °C, at the stamp.</summary>
    DewPoint,
    /// <summary>Rain, showers and the water of snow, mm, of the hour that ends at the stamp.</summary>
    Rain,
    /// <summary>Fresh snow, cm, of the hour that ends at the stamp.</summary>
    Snowfall,
    /// <summary>Cloud cover, 0 to 100 %, at the stamp.</summary>
    CloudCover,
    /// <summary>Wind at ten metres, m/s, at the stamp.</summary>
    Wind,
    /// <summary>Highest gust at ten metres, m/s, of the hour that ends at the stamp.</summary>
    Gust,
    /// <summary>Shortwave radiation on the flat, W/m², mean of the hour that ends at the stamp.</summary>
    Radiation,
    /// <summary>FAO-56 reference evapotranspiration, mm, of the hour that ends at the stamp.</summary>
    ReferenceEvapotranspiration,
    /// <summary>WMO code of present weather, at the stamp.</summary>
    WeatherCode,
    /// <summary>The service's own soil temperature near 6 cm, °C, at the stamp.</summary>
    SoilAt6Cm,
    /// <summary>The service's own soil temperature near 18 cm, °C, at the stamp.</summary>
    SoilAt18Cm,
}
