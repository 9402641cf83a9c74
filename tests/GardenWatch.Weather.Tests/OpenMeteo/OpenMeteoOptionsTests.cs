using GardenWatch.Weather.OpenMeteo;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class OpenMeteoOptionsTests
{
    [Fact]
    public void The_defaults_are_without_fault() => Assert.Empty(new OpenMeteoOptions().Faults());

    [Fact]
    public void All_faults_are_told_at_once_with_key_value_and_remedy()
    {
        var faults = new OpenMeteoOptions
        {
            Forecast = new("v1/forecast", UriKind.Relative),
            Archive = new("ftp://example.org/"),
            PullEvery = TimeSpan.FromMinutes(5),
            TotalTimeout = TimeSpan.FromSeconds(10),
            Retries = 9,
            PastDays = 93,
            ForecastDays = 1,
            UserAgent = "me\r\nX: y",
        }.Faults();

        Assert.Collection(
            faults,
            f => Assert.StartsWith("weather: forecast is 'v1/forecast', not a whole web address; write for example https://", f, StringComparison.Ordinal),
            f => Assert.StartsWith("weather: archive is 'ftp://example.org/'", f, StringComparison.Ordinal),
            f => Assert.Equal("weather: pull every is 00:05:00; use 00:15:00 to 1.00:00:00.", f),
            f => Assert.StartsWith("weather: total timeout is 00:00:10, shorter than one attempt (00:00:15)", f, StringComparison.Ordinal),
            f => Assert.Equal("weather: retries is 9; use 0 to 5.", f),
            f => Assert.Equal("weather: past days is 93; use 1 to 92.", f),
            f => Assert.Equal("weather: forecast days is 1; use 3 to 16.", f),
            f => Assert.StartsWith("weather: user agent must be 1 to 200", f, StringComparison.Ordinal));
    }

    [Fact]
    public void Members_and_past_years_have_their_bounds()
    {
        var faults = new OpenMeteoOptions
        {
            EnsembleModel = "icon,gfs&x=1", EnsembleCallsPerDay = 9000, PastYears = 90, PastYearsPerDay = 0, PastYearsPause = TimeSpan.Zero,
        }.Faults();

        Assert.Collection(
            faults,
            f => Assert.Equal("weather: ensemble calls per day is 9000; use 0 to 5000.", f),
            f => Assert.Equal("weather: past years is 90; use 0 to 60.", f),
            f => Assert.Equal("weather: past years per day is 0; use 1 to 60.", f),
            f => Assert.Equal("weather: past years pause is 00:00:00; use 00:00:10 to 1.00:00:00.", f),
            f => Assert.StartsWith("weather: ensemble model is 'icon,gfs&x=1'; write one name", f, StringComparison.Ordinal));
    }
}
