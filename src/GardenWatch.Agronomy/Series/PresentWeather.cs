namespace GardenWatch.Agronomy.Series;

/// <summary>What a code of present weather says that no other column does; null when the code is not known.</summary>
/// <remarks>
/// WMO Manual on Codes, code table 4677. Forecast models give 95, 96 and 99 only; the others are an observer's. Hail
/// is told by models of a few regions, so that no hail in the codes is no promise.
/// </remarks>
public static class PresentWeather
{
    public static bool? HasThunder(double code) =>
        double.IsNaN(code) ? null : code is 17 or 29 or (>= 91 and <= 99 and not 98);

    public static bool? HasHail(double code) =>
        double.IsNaN(code) ? null : code is 27 or 89 or 90 or 96 or 99;

    public static bool? HasHeavyHail(double code) => double.IsNaN(code) ? null : code is 99;
}
