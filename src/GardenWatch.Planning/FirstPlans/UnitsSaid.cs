using GardenWatch.Planning.Quantities;
using NodaTime.TimeZones;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>In which units messages shall speak.</summary>
public static class UnitsSaid
{
    /// <summary>Where weather is told in °F, by ISO 3166 code. The United Kingdom is not among them: its forecasts speak °C.</summary>
    private static readonly HashSet<string> Fahrenheit = new(StringComparer.OrdinalIgnoreCase)
    {
        "US", "LR", "BS", "BZ", "KY", "PW", "FM", "MH", "PR", "GU", "VI", "AS", "MP",
    };

    /// <summary>Null when the word is neither.</summary>
    public static UnitSystem? Read(string text) => WrittenNumber.Plain(text).TrimEnd('.') switch
    {
        "metric" or "m" or "si" or "c" or "°c" or "celsius" or "metres" or "meters" or "centimetres" or "km" => UnitSystem.Metric,
        "us" or "u.s" or "usa" or "american" or "imperial" or "f" or "°f" or "fahrenheit" or "feet" or "ft" or "inches" => UnitSystem.Us,
        _ => null,
    };

    public static string Word(UnitSystem units) => units == UnitSystem.Us ? "us" : "metric";

    /// <summary>What is usual in the country; where only the zone is known, in the country of the zone.</summary>
    public static UnitSystem Usual(string? countryCode, string? zoneId) =>
        Fahrenheit.Contains(countryCode ?? CountryOf(zoneId) ?? "") ? UnitSystem.Us : UnitSystem.Metric;

    private static string? CountryOf(string? zoneId) =>
        TzdbDateTimeZoneSource.Default.ZoneLocations?.FirstOrDefault(place => place.ZoneId == zoneId)?.CountryCode;
}
