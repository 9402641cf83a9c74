using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using NodaTime;

namespace GardenWatch.Trial.Observed;

/// <summary>
/// The station whose weather the trial plays: De Bilt, KNMI 260, open data of the Royal Netherlands Meteorological
/// Institute (CC BY 4.0). The files are not part of the project.
/// </summary>
internal static class DeBilt
{
    /// <summary>The folder above <c>weather-data/</c>.</summary>
    public const string FolderVariable = "GARDENWATCH_TEST_DATA";

    public static GeoPosition Place { get; } = new(52.10, 5.18, 2);

    public static LocalCalendar Calendar { get; } = new(DateTimeZoneProviders.Tzdb["Europe/Amsterdam"], Place);

    /// <summary>Null where the observations are not at hand.</summary>
    public static string? File(string name)
    {
        string? folder = Environment.GetEnvironmentVariable(FolderVariable);
        string? path = folder is null ? null : Path.Combine(folder, "weather-data", name);
        return path is not null && System.IO.File.Exists(path) ? path : null;
    }

    public static string NotAtHand(string name) =>
        $"{name} is not at hand; set {FolderVariable} to the folder that holds weather-data/.";
}
