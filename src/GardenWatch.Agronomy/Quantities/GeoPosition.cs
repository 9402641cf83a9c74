namespace GardenWatch.Agronomy.Quantities;

/// <summary>A place on the earth: degrees north and east, metres above the sea.</summary>
/// <param name="LatitudeDegrees">-90 to 90, south negative.</param>
/// <param name="LongitudeDegrees">-180 to 180, west negative.</param>
/// <param name="ElevationMetres">NaN where it is not known.</param>
/// <exception cref="ArgumentOutOfRangeException">The place is not on the earth.</exception>
public readonly record struct GeoPosition(double LatitudeDegrees, double LongitudeDegrees, double ElevationMetres)
{
    public double LatitudeDegrees { get; init => field = Within.Latitude(value); } = Within.Latitude(LatitudeDegrees);

    public double LongitudeDegrees { get; init => field = Within.Longitude(value); } = Within.Longitude(LongitudeDegrees);
}
