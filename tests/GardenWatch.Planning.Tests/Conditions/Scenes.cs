using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

/// <summary>Scenes whose weather a test writes hour by hour; the bed's models give what the test gives as air.</summary>
internal static class Scenes
{
    public static readonly GeoPosition Lexington = new(38.03, -84.5, 295);

    public static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb[id];

    public static Instant At(int year, int month, int day, int hour = 0, int minute = 0) =>
        Instant.FromUtc(year, month, day, hour, minute);

    public static Condition Read(string phrase) =>
        ConditionText.Read(phrase, "leaf") is ConditionReading.Ok(var condition)
            ? condition
            : throw new InvalidOperationException($"{phrase}: {ConditionText.Read(phrase)}");

    public static Scene Of(
        Instant start, double[] hourly, string zone = "UTC", UnitSystem units = UnitSystem.Metric, Moments? moments = null,
        GeoPosition? place = null, params (string Name, Quantity Quantity)[] numbers) =>
        Of(start, hourly.Length, _ => hourly, zone, units, moments, place, numbers);

    public static Scene Of(
        Instant start, int hours, Func<WeatherVariable, double[]> column, string zone = "UTC", UnitSystem units = UnitSystem.Metric,
        Moments? moments = null, GeoPosition? place = null, params (string Name, Quantity Quantity)[] numbers)
    {
        var columns = Enum.GetValues<WeatherVariable>().ToImmutableDictionary(v => v, v => column(v).ToImmutableArray());
        var series = new WeatherSeries(start, hours, columns, [], [.. Enumerable.Repeat((short)-1, hours)]);
        var air = column(WeatherVariable.Air);
        var models = new BedModels(() => air, () => air, _ => column(WeatherVariable.SoilAt6Cm));
        return new(
            new BedWeather(series, new LocalCalendar(Zone(zone), place ?? Lexington), models),
            moments ?? Moments.None,
            numbers.ToDictionary(n => n.Name, n => n.Quantity),
            new Speech(units, Zone(zone)));
    }

    public static double[] Hours(int count, Func<int, double> value) => [.. Enumerable.Range(0, count).Select(value)];

    public static Verdict Ask(this Scene scene, string phrase, Instant at)
    {
        var verdict = Evaluate.At(Read(phrase), at, scene);
        Assert.Equal(verdict.Holds, Evaluate.Holds(Read(phrase), at, scene));
        return verdict;
    }

    /// <summary>With plain spaces, so that tests can be read.</summary>
    public static string Said(this Verdict verdict) => verdict.Sentence.Replace('\u00A0', ' ');
}
