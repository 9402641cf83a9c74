namespace GardenWatch.Agronomy.Quantities;

/// <summary>A place on the earth: degrees north and east, metres above the sea.</summary>
public readonly record struct GeoPosition(double LatitudeDegrees, double LongitudeDegrees, double ElevationMetres);
