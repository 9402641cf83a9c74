using System.Globalization;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Where the weather service is and how politely it is asked. Defaults suit one home.</summary>
public sealed class OpenMeteoOptions
{
    /// <summary>The service gives at most this many days back in a forecast answer.</summary>
    public const int MostPastDays = 92;

    /// <summary>The service gives at most this many days ahead.</summary>
    public const int MostForecastDays = 16;

    /// <summary>Whole address, so that a self-hosted service or a stand-in can serve.</summary>
    public Uri Forecast { get; set; } = new("https://api.open-meteo.com/v1/forecast");

    public Uri Ensemble { get; set; } = new("https://ensemble-api.open-meteo.com/v1/ensemble");

    public Uri Archive { get; set; } = new("https://archive-api.open-meteo.com/v1/archive");

    public Uri Geocoding { get; set; } = new("https://geocoding-api.open-meteo.com/v1/search");

    public Uri Elevation { get; set; } = new("https://api.open-meteo.com/v1/elevation");

    public TimeSpan PullEvery { get; set; } = TimeSpan.FromHours(1);

    /// <summary>For one try, from the first byte sent to the last byte read.</summary>
    public TimeSpan AttemptTimeout { get; set; } = TimeSpan.FromSeconds(15);

    /// <summary>For all tries and the waits between them.</summary>
    public TimeSpan TotalTimeout { get; set; } = TimeSpan.FromSeconds(60);

    public int Retries { get; set; } = 2;

    /// <summary>Days back in an ordinary pull: they bridge two weeks without network.</summary>
    public int PastDays { get; set; } = 14;

    /// <summary>Days back in a place's first pull, so that soil and warmth are known on the first day.</summary>
    public int FirstPastDays { get; set; } = MostPastDays;

    public int ForecastDays { get; set; } = MostForecastDays;

    /// <summary>Whose members give the chances; by the service's name of the ensemble.</summary>
    public string EnsembleModel { get; set; } = "ecmwf_ifs025";

    /// <summary>What the members of all places may cost in a UTC day, in calls of the free allowance of 10 000.</summary>
    public int EnsembleCallsPerDay { get; set; } = 500;

    /// <summary>How many past years tell what is usual.</summary>
    public int PastYears { get; set; } = 30;

    /// <summary>How many of them are fetched in a UTC day, one at a time.</summary>
    public int PastYearsPerDay { get; set; } = 10;

    /// <summary>Between one past year and the next.</summary>
    public TimeSpan PastYearsPause { get; set; } = TimeSpan.FromMinutes(2);

    /// <summary>Who asks, so that the service's operators can reach somebody before they block an address.</summary>
    public string UserAgent { get; set; } = "GardenWatch/0.1 (home garden, non-commercial)";

    /// <summary>All faults at once, each a sentence with key, value and remedy; empty when all is well.</summary>
    public IReadOnlyList<string> Faults()
    {
        var faults = new List<string>();
        CheckAddress("forecast", Forecast, "https://api.open-meteo.com/v1/forecast");
        CheckAddress("ensemble", Ensemble, "https://ensemble-api.open-meteo.com/v1/ensemble");
        CheckAddress("archive", Archive, "https://archive-api.open-meteo.com/v1/archive");
        CheckAddress("geocoding", Geocoding, "https://geocoding-api.open-meteo.com/v1/search");
        CheckAddress("elevation", Elevation, "https://api.open-meteo.com/v1/elevation");
        CheckSpan("pull every", PullEvery, TimeSpan.FromMinutes(15), TimeSpan.FromHours(24));
        CheckSpan("attempt timeout", AttemptTimeout, TimeSpan.FromSeconds(1), TimeSpan.FromMinutes(2));
        CheckSpan("total timeout", TotalTimeout, TimeSpan.FromSeconds(1), TimeSpan.FromMinutes(10));
        if (TotalTimeout < AttemptTimeout)
            faults.Add(
                $"weather: total timeout is {Said(TotalTimeout)}, shorter than one attempt ({Said(AttemptTimeout)}); " +
                "make it at least as long.");
        CheckNumber("retries", Retries, 0, 5);
        CheckNumber("past days", PastDays, 1, MostPastDays);
        CheckNumber("first past days", FirstPastDays, 1, MostPastDays);
        CheckNumber("forecast days", ForecastDays, 3, MostForecastDays);
        CheckNumber("ensemble calls per day", EnsembleCallsPerDay, 0, 5000);
        CheckNumber("past years", PastYears, 0, 60);
        CheckNumber("past years per day", PastYearsPerDay, 1, 60);
        CheckSpan("past years pause", PastYearsPause, TimeSpan.FromSeconds(10), TimeSpan.FromHours(24));
        if (EnsembleModel is not { Length: > 0 and <= 60 } || EnsembleModel.Any(c => c is not ((>= 'a' and <= 'z') or (>= '0' and <= '9') or '_')))
            faults.Add($"weather: ensemble model is '{EnsembleModel}'; write one name, for example ecmwf_ifs025, gfs_seamless or icon_seamless.");
        if (string.IsNullOrWhiteSpace(UserAgent) || UserAgent.Length > 200 || UserAgent.Any(c => c is < ' ' or > '~'))
            faults.Add(
                "weather: user agent must be 1 to 200 plain letters, digits and signs on one line; " +
                "write for example: GardenWatch (pat@example.org).");
        return faults;

        void CheckAddress(string key, Uri? value, string example)
        {
            if (value is not { IsAbsoluteUri: true } || value.Scheme is not ("http" or "https"))
                faults.Add($"weather: {key} is '{value?.OriginalString}', not a whole web address; write for example {example}.");
        }

        void CheckSpan(string key, TimeSpan value, TimeSpan least, TimeSpan most)
        {
            if (value < least || value > most)
                faults.Add($"weather: {key} is {Said(value)}; use {Said(least)} to {Said(most)}.");
        }

        void CheckNumber(string key, int value, int least, int most)
        {
            if (value < least || value > most)
                faults.Add(string.Create(CultureInfo.InvariantCulture, $"weather: {key} is {value}; use {least} to {most}."));
        }
    }

    private static string Said(TimeSpan span) => span.ToString("c", CultureInfo.InvariantCulture);
}
