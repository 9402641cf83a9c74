using System.Globalization;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Setup;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>A town as it goes from the first form to the second: the page keeps nothing of a visitor between the two.</summary>
/// <param name="Text">What the browser gives back, believed no more than what is typed.</param>
public sealed record WrittenTown(string Text)
{
    public const int Most = 10;
    private const int LongestName = 100;

    public string Label => Text.Split('|') is [.., var label] && label.Length > 0 ? label : "The place you named";

    public static WrittenTown Of(FoundTown town) => new(string.Create(CultureInfo.InvariantCulture,
        $"{town.Place.LatitudeDegrees}|{town.Place.LongitudeDegrees}|{town.Place.ElevationMetres}|{town.Place.ZoneId}|{town.Place.CountryCode}|{Clean(town.Place.Town)}|{Clean(town.Label)}"));

    /// <summary>Null when it is no place.</summary>
    public FirstPlace? Read()
    {
        if (Text.Split('|') is not [var latitude, var longitude, var elevation, var zone, var country, { Length: <= LongestName } town, { Length: <= 3 * LongestName }]
            || Number(latitude) is not (>= -90 and <= 90 and var north) || Number(longitude) is not (>= -180 and <= 180 and var east))
            return null;
        return new(
            town.Length == 0 ? null : town, country.Length == 2 ? country : null, north, east, Number(elevation) is >= -450 and <= 6000 and var metres ? metres : null,
            DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone)?.Id);
    }

    private static double? Number(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value : null;

    private static string Clean(string? text) => (text ?? "").Replace('|', '/');
}
