using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>Fetches a place's past years from the archive, a calendar year (UTC) at a time.</summary>
public sealed class ArchiveClient(ServiceLine line, OpenMeteoOptions options)
{
    /// <summary>
    /// One reanalysis throughout. The archive's own choice takes finer models for later years, and the step between them
    /// would look like a change of climate.
    /// </summary>
    public const string Model = "era5_seamless";

    /// <summary>The reanalysis follows five days behind; more at times.</summary>
    public static Duration Delay { get; } = Duration.FromDays(10);

    /// <summary>The archive goes back to this year.</summary>
    public const int FirstYear = 1940;

    private const double LeastAirKnown = 0.9;

    public static ImmutableArray<WeatherVariable> Variables { get; } =
    [
        WeatherVariable.Air, WeatherVariable.DewPoint, WeatherVariable.Rain, WeatherVariable.CloudCover,
        WeatherVariable.Wind, WeatherVariable.Radiation,
    ];

    /// <summary>What one year costs of the free allowance, in calls.</summary>
    public static double Weight { get; } = CallWeight.Of(Variables.Length, members: 1, days: 366);

    private static readonly string AskedFor = string.Join(',', Variables.Select(variable => ServiceVariable.Of(variable).Name));

    /// <summary>The newest year of which the archive has all.</summary>
    public static int LastWholeYear(Instant now) => (now - Delay).InUtc().Year - 1;

    /// <summary>Refused for good, as far as can be told, when the archive has too little of the year.</summary>
    public Task<Lookup<Pull>> Year(GeoPosition place, int year, CancellationToken cancellation)
    {
        var address = new ServiceAddress(options.Archive)
            .WithHourly(place, AskedFor)
            .With("models", Model)
            .With("start_date", string.Create(CultureInfo.InvariantCulture, $"{year:0000}-01-01"))
            .With("end_date", string.Create(CultureInfo.InvariantCulture, $"{year:0000}-12-31"))
            .Whole;
        return line.Ask<Pull>(address, sound =>
        {
            var asked = new Asked(place, line.Clock.GetCurrentInstant(), address.Host, sound.ServerDate);
            return Read(sound.Body.Span, asked, year, out string? fault) is { } pull
                ? new Lookup<Pull>.Found(pull, sound.ServerDate)
                : new Lookup<Pull>.Refused($"The year {year} of the weather archive at {address.Host} is not used: {fault}.", sound.ServerDate);
        }, cancellation);
    }

    internal static Pull? Read(ReadOnlySpan<byte> json, Asked asked, int year, out string? fault)
    {
        var answer = HourlyAnswer.Read(json, ColumnKey.Plain, asked.Place, out fault);
        if (answer is null)
            return null;
        var begin = Instant.FromUtc(year, 1, 1, 0, 0);
        int hours = 24 * CalendarSystem.Iso.GetDaysInYear(year);
        // An answer in a zone of its own begins at that zone's midnight; its stamps are exact all the same.
        if (Math.Abs((answer.Start - begin).TotalHours) > 14 || answer.Hours != hours)
        {
            fault = $"it gives {answer.Hours} hours from {answer.Start}, and {hours} from {begin} were asked for";
            return null;
        }
        answer.Columns.TryGetValue(new(ServiceVariable.Of(WeatherVariable.Air), 0), out var air);
        int known = air?.Scaled.Count(value => value != PulledColumn.Missing) ?? 0;
        if (known >= LeastAirKnown * hours)
            return ForecastAnswer.PullOf(answer, asked, Model);
        fault = $"it gives the air temperature for only {known} of {hours} hours";
        return null;
    }
}
