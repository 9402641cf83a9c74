using CsCheck;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Frost;

public class GroundFrostTests
{
    private static readonly ForecastError Error = new(1.5);
    private static readonly NightAhead Clear = new(3, -1, 10, 1.5, 14, 3, 9);

    private static readonly Gen<NightAhead> Nights = Gen.Select(
            Gen.Double[-5, 12], Gen.Double[0, 10], Gen.Double[0, 100], Gen.Double[0, 10], Gen.Double[2, 14], Gen.Double[-4, 4], Gen.Double[6, 16])
        .Select(at => new NightAhead(at.Item1, at.Item1 - at.Item2, at.Item3, at.Item4, at.Item1 + at.Item5, at.Item1 + at.Item6, at.Item7));

    [Fact]
    public void The_same_low_freezes_the_ground_under_a_clear_sky_and_not_under_cloud_and_wind()
    {
        Assert.InRange(GroundFrost.Chance(Clear, Error), 0.6, 0.95);
        Assert.InRange(GroundFrost.Chance(Clear with { CloudPercent = 100, WindMetresPerSecond = 6 }, Error), 0, 0.1);
        Assert.InRange(GroundFrost.ExpectedLowC(Clear, Error), -3, 0.5); // 2 to 6 K below the screen
    }

    [Fact]
    public void A_warmer_night_and_a_lower_limit_never_have_the_greater_chance() =>
        Gen.Select(Nights, Gen.Double[-4, 4], Gen.Double[0, 3], Gen.Double[0.3, 4]).Sample((night, limit, more, spread) =>
        {
            var error = new ForecastError(spread);
            double chance = GroundFrost.Chance(night, error, limit);
            Assert.InRange(chance, 0, 1);
            Assert.True(GroundFrost.Chance(night with { LowC = night.LowC + more }, error, limit) <= chance + 1e-6);
            Assert.True(GroundFrost.Chance(night, error, limit - more) <= chance + 1e-6);
        });

    // Of nights like those of the rule. A forecast that lies far from the rule under a clear sky may lie near it under cloud,
    // and the rule then counts for more: there the law need not hold.
    [Fact]
    public void More_cloud_or_wind_never_has_the_greater_chance() =>
        Gen.Select(Nights, Gen.Double[0, 1], Gen.Double[-2, 2]).Sample((any, share, beyond) =>
        {
            var night = any with { LowC = GroundRule.Lowland.Low.Of(any) + beyond };
            double chance = GroundFrost.Chance(night, Error);
            double clouded = night.CloudPercent + 0.3 * share * (100 - night.CloudPercent);
            Assert.True(GroundFrost.Chance(night with { CloudPercent = clouded }, Error) <= chance + 0.01);
            Assert.True(GroundFrost.Chance(night with { WindMetresPerSecond = night.WindMetresPerSecond + share }, Error) <= chance + 0.01);
        });

    [Fact]
    public void A_little_more_of_anything_changes_the_chance_by_little() =>
        Nights.Sample(night =>
        {
            double chance = GroundFrost.Chance(night, Error);
            foreach (var near in (NightAhead[])[
                night with { LowC = night.LowC + 0.01 }, night with { DewPointC = night.DewPointC + 0.01 },
                night with { CloudPercent = Math.Min(100, night.CloudPercent + 0.05) }, night with { WindMetresPerSecond = night.WindMetresPerSecond + 0.01 },
                night with { HighBeforeC = night.HighBeforeC + 0.01 }, night with { LowBeforeC = night.LowBeforeC + 0.01 }])
                Assert.InRange(GroundFrost.Chance(near, Error), chance - 0.02, chance + 0.02);
        });

    [Fact]
    public void What_is_not_known_is_taken_cautiously_and_without_a_low_there_is_no_chance()
    {
        var grey = Clear with { CloudPercent = 60, WindMetresPerSecond = 3 };
        double known = GroundFrost.Chance(grey, Error);
        Assert.True(GroundFrost.Chance(grey with { CloudPercent = double.NaN }, Error) > known);
        Assert.True(GroundFrost.Chance(grey with { WindMetresPerSecond = double.NaN }, Error) > known);
        Assert.InRange(GroundFrost.Chance(Clear with { DewPointC = double.NaN, HighBeforeC = double.NaN, LowBeforeC = double.NaN }, Error), 0.4, 0.9);
        Assert.True(double.IsNaN(GroundFrost.Chance(Clear with { LowC = double.NaN }, Error)));
        Assert.True(double.IsNaN(GroundFrost.ExpectedLowC(Clear with { LowC = double.NaN }, Error)));
    }

    [Fact]
    public void A_forecast_far_from_the_rule_is_believed()
    {
        // Desert air: after a hot day with a dew point of -12 °C the rule of the lowland expects a frost, the forecast 12 °C.
        var desert = new NightAhead(12, -12, 0, 2, 28, 11, 10);
        Assert.True(GroundRule.Lowland.Low.Constant < 0);
        Assert.InRange(GroundFrost.Chance(desert, Error), 0, 0.01);
        Assert.InRange(GroundFrost.ExpectedLowC(desert, Error), 7.5, 10);
    }

    [Fact]
    public void A_doubtful_forecast_gives_a_doubtful_chance()
    {
        var warm = Clear with { LowC = 8 };
        Assert.True(GroundFrost.Chance(warm, ForecastError.AtLead(7)) > GroundFrost.Chance(warm, ForecastError.AtLead(1)));
        Assert.Equal(1.5, ForecastError.AtLead(1).LowKelvins);
        Assert.Equal(3, ForecastError.AtLead(7).LowKelvins);
        Assert.Throws<ArgumentOutOfRangeException>(() => ForecastError.AtLead(-1));
    }

    [Fact]
    public void Impossible_values_are_refused_with_the_value_and_the_range()
    {
        Assert.Contains("Cloud is from 0 to 100 %", Assert.Throws<ArgumentOutOfRangeException>(() => Clear with { CloudPercent = 140 }).Message, StringComparison.Ordinal);
        Assert.Contains("Wind is from 0 to 120 m/s", Assert.Throws<ArgumentOutOfRangeException>(() => Clear with { WindMetresPerSecond = -1 }).Message, StringComparison.Ordinal);
        Assert.Contains("-100 to 100 °C", Assert.Throws<ArgumentOutOfRangeException>(() => Clear with { LowC = 290 }).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => new ForecastError(-1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ForecastError(1, 1, 1));
    }

    [Fact]
    public void A_rule_is_recovered_from_nights_made_by_it_and_not_made_of_too_few()
    {
        var random = new Random(3);
        List<PastNight> nights = [.. Enumerable.Range(0, 4000).Select(_ =>
        {
            var night = new NightAhead(0, 12 * random.NextDouble() - 6, 100 * random.NextDouble(), 6 * random.NextDouble(), 6 + 12 * random.NextDouble(), 10 * random.NextDouble() - 3, 8 + 6 * random.NextDouble());
            double rest = 2.4 * (random.NextDouble() + random.NextDouble() + random.NextDouble() - 1.5);
            night = night with { LowC = Math.Clamp(GroundRule.Lowland.Low.Of(night) + rest, -60, 40) };
            return new PastNight(night, GroundRule.Lowland.Ground.Of(night) + 1.1 * rest + random.NextDouble() - 0.5);
        })];
        var fitted = GroundRule.Fit(nights);
        Assert.NotNull(fitted);
        Assert.Equal(GroundRule.Lowland.Low.PerDewPoint, fitted.Low.PerDewPoint, 0.05);
        Assert.Equal(GroundRule.Lowland.Ground.PerCloud, fitted.Ground.PerCloud, 0.5);
        Assert.Equal(1.1, fitted.Covariance / fitted.LowVariance, 0.05);
        var doubtful = GroundRule.Fit(nights, groundError: 2);
        Assert.NotNull(doubtful);
        Assert.Equal(fitted.GroundVariance + 4, doubtful.GroundVariance, 1e-9);
        Assert.Throws<ArgumentOutOfRangeException>(() => GroundRule.Fit(nights, -1));
        Assert.Null(GroundRule.Fit(nights[..60]));
        Assert.Null(GroundRule.Fit([.. Enumerable.Repeat(nights[0], 500)]));
    }

    [Fact]
    public void A_night_is_read_from_hours_that_hold_it_and_the_day_before()
    {
        var start = Instant.FromUtc(2026, 4, 19, 0, 0);
        var calendar = new LocalCalendar(DateTimeZone.Utc, new(50, 10, 200));
        var weather = TestSeries.Of(start, 72,
            (WeatherVariable.Air, hour => hour % 24 is >= 6 and < 20 ? 14 : hour / 24.0 + 2),
            (WeatherVariable.DewPoint, _ => -3), (WeatherVariable.CloudCover, _ => 25), (WeatherVariable.Wind, _ => 2));
        var night = NightAhead.Of(weather, calendar, new(2026, 4, 20));
        Assert.Equal(new(2026, 4, 20), calendar.DateOf(start + Duration.FromHours(24)));
        Assert.Equal(2 + 44 / 24.0, night.LowC, 1e-9);
        Assert.Equal((-3, 25, 2, 14), (night.DewPointC, night.CloudPercent, night.WindMetresPerSecond, night.HighBeforeC));
        Assert.Equal(2 + 19 / 24.0, night.LowBeforeC, 0.1);
        Assert.InRange(night.NightHours, 9, 11);
        Assert.True(double.IsNaN(NightAhead.Of(weather, calendar, new(2026, 4, 22)).LowC));

        var outlook = FrostOutlook.Of(weather, calendar, new(2026, 4, 20), new TemperatureDifference(1), Error);
        Assert.NotNull(outlook);
        Assert.Equal(LeafNight.Coldest(weather, calendar.Place, new(1), calendar.NightOf(new(2026, 4, 20))), outlook.Leaf);
        Assert.InRange(outlook.Chance(0), 0.3, 0.9);
        Assert.True(outlook.WarningPays(0));
        Assert.True(outlook.Chance(0) > FrostOutlook.Of(weather, calendar, new(2026, 4, 20), new(0), Error)!.Chance(0));
        Assert.True(outlook.Chance(0) > FrostOutlook.Of(weather, calendar, new(2026, 4, 20), new(1), Error, underGlass: true)!.Chance(0));
        Assert.Null(FrostOutlook.Of(weather, calendar, new(2026, 5, 20), new(0), Error));

        var past = Assert.NotNull(PastNight.WithLeaf(weather, calendar, new(2026, 4, 20)));
        Assert.Equal(night, past.Ahead);
        Assert.Equal(LeafNight.Coldest(weather, calendar.Place, new(0), calendar.NightOf(new(2026, 4, 20)))!.LeafC, past.GroundLowC);
        Assert.Null(PastNight.WithLeaf(weather, calendar, new(2026, 5, 20)));
    }

    [Theory]
    [InlineData(0, 0.5)]
    [InlineData(1, 0.8413447)] // Abramowitz and Stegun 1964, table 26.1
    [InlineData(-1.2815516, 0.1)]
    [InlineData(-3, 0.0013499)]
    public void The_normal_distribution_is_that_of_the_tables(double z, double below)
    {
        Assert.Equal(below, NormalDistribution.Below(z), 1e-6);
        Assert.Equal(z, NormalDistribution.Quantile(below), 2e-4);
    }
}
