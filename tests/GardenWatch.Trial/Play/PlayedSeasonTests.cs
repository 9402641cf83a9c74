using GardenWatch.Agronomy.Series;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Score;
using NodaTime;

namespace GardenWatch.Trial.Play;

/// <summary>The loop itself, and what the plainest rules score: the mark that advice has to beat.</summary>
public class PlayedSeasonTests
{
    private const ulong ForecastSeed = 2000;
    private static readonly LocalDate From = new(2000, 3, 1);
    private static readonly LocalDate To = new(2000, 10, 31);

    private static ObservedWeather Observed()
    {
        string? path = DeBilt.File(DeBiltHours.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltHours.FileName));
        return DeBiltHours.Read(path);
    }

    private static double ForecastLow(ObservedWeather observed, WeatherSeries known, LocalDate night)
    {
        var hours = observed.Calendar.NightOf(night);
        return known[WeatherVariable.Air][known.FirstAtOrAfter(hours.Start)..known.FirstAtOrAfter(hours.End)].ToArray().Min();
    }

    private static PlayedSeason Rule(ObservedWeather observed, double warnBelowC) => PlayedSeason.Play(
        observed, new(observed.Weather, DeBilt.Place, ForecastSeed),
        (asOf, known) =>
        {
            var today = observed.Calendar.DateOf(asOf);
            return new(ForecastLow(observed, known, today) < warnBelowC ? [today] : [], TenderOut: true, []);
        },
        From, To, daysBack: 1);

    [Fact]
    public void A_rule_of_air_below_zero_misses_most_ground_frosts_and_one_of_five_degrees_cries_wolf()
    {
        var observed = Observed();
        var bold = Rule(observed, warnBelowC: 0).Frosts(frostAtC: 0);
        var timid = Rule(observed, warnBelowC: 5).Frosts(frostAtC: 0);
        TestContext.Current.TestOutputHelper?.WriteLine($"air below 0 °C: {bold}\nair below 5 °C: {timid}");

        Assert.True(bold.Missed.Length > bold.Hit.Length);
        Assert.True(timid.Missed.Length < bold.Missed.Length / 4);
        Assert.True(timid.FalselyAnnounced.Length > 2 * bold.FalselyAnnounced.Length);
        Assert.Equal(bold.Hit.Length + bold.Missed.Length, timid.Hit.Length + timid.Missed.Length);
    }

    [Fact]
    public void Each_look_knows_only_its_own_hour()
    {
        var observed = Observed();
        var looks = new List<Instant>();
        PlayedSeason.Play(
            observed, new(observed.Weather, DeBilt.Place, ForecastSeed),
            (asOf, known) =>
            {
                looks.Add(asOf);
                Assert.All(known.Sources, source => Assert.Equal(asOf, source.KnownAt));
                return MorningFindings.Nothing;
            },
            new(2000, 3, 25), new(2000, 3, 27), daysBack: 5);

        // Summer time began on 26 March.
        Assert.Equal(
            [
                Instant.FromUtc(2000, 3, 25, 5, 0), Instant.FromUtc(2000, 3, 25, 16, 0), Instant.FromUtc(2000, 3, 26, 4, 0),
                Instant.FromUtc(2000, 3, 26, 15, 0), Instant.FromUtc(2000, 3, 27, 4, 0), Instant.FromUtc(2000, 3, 27, 15, 0),
            ],
            looks);
    }

    [Fact]
    public void Spreading_on_the_forecast_is_better_than_spreading_on_a_fixed_day()
    {
        var observed = Observed();
        var wanted = new RainWanted(EnoughMm: 6, TooMuchMm: 15, WashoutMmPerHour: 8);
        PlayedSeason Spread(Func<Instant, WeatherSeries, bool> now) => PlayedSeason.Play(
            observed, new(observed.Weather, DeBilt.Place, ForecastSeed),
            (asOf, known) => new([], false, now(asOf, known) ? [new(DeedKind.Spread, "granules", asOf, null)] : []),
            From, To, daysBack: 0);
        double ShareRight(PlayedSeason season) =>
            (double)season.Spreadings(wanted).Count(SpreadVerdict.Right) / season.Deeds.Length;

        var onForecast = Spread((asOf, known) =>
        {
            int first = known.LastAtOrBefore(asOf) + 1;
            return known[WeatherVariable.Rain].Slice(first, 24).ToArray().Sum() is >= 6 and <= 15;
        });
        var onMondays = Spread((asOf, _) => observed.Calendar.DateOf(asOf).DayOfWeek == IsoDayOfWeek.Monday);
        TestContext.Current.TestOutputHelper?.WriteLine(
            $"on the forecast: {onForecast.Spreadings(wanted)}\non Mondays: {onMondays.Spreadings(wanted)}");

        Assert.True(ShareRight(onForecast) > 2 * ShareRight(onMondays));
    }
}
