using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using static GardenWatch.Tests.Demo.InventedYear;
using static GardenWatch.Agronomy.Series.WeatherVariable;

namespace GardenWatch.Tests.Demo;

public class ForecastFromTruthTests
{
    private static readonly Instant FirstIssue = Instant.FromUtc(NotableMornings.Year, 1, 1, 10, 0);

    private static readonly ForecastFromTruth Forecasts = new(Invented, InventedSeason.Place, seed: 5);

    // Hours ahead of the newest run, which at ten o'clock UTC is that of six.
    [Theory]
    [InlineData(-24, 0, 0.2, 0.4)]
    [InlineData(20, 28, 0.8, 1.2)]
    [InlineData(44, 52, 1.25, 1.75)]
    [InlineData(116, 124, 2.1, 2.9)]
    [InlineData(192, 360, 3.0, 4.2)]
    public void Air_errs_as_much_as_forecasts_do_at_that_lead(int from, int until, double atLeast, double atMost)
    {
        double squares = 0, errors = 0;
        int count = 0;
        for (int day = 0; day < 364; day++)
        {
            var issue = FirstIssue + Duration.FromDays(day);
            var run = issue - Duration.FromHours(4);
            var said = Forecasts.IssuedAt(issue, run + Duration.FromHours(from), until - from);
            foreach (double error in Errors(said, Air))
            {
                squares += error * error;
                errors += error;
                count++;
            }
        }

        Assert.True(count > 360 * (until - from) * 9 / 10);
        Assert.InRange(Math.Sqrt(squares / count), atLeast, atMost);
        Assert.InRange(errors / count, -0.6, 0.6);
    }

    [Fact]
    public void A_run_later_says_nearly_the_same_and_a_week_later_something_else()
    {
        var issue = Instant.FromUtc(NotableMornings.Year, 3, 2, 10, 0);
        var target = Instant.FromUtc(NotableMornings.Year, 3, 12, 0, 0);
        double Difference(Duration later) => Enumerable.Range(0, 48).Average(hour => Math.Abs(
            Forecasts.IssuedAt(issue, target, 48)[Air][hour] - Forecasts.IssuedAt(issue + later, target, 48)[Air][hour]));

        Assert.Equal(0, Difference(Duration.FromHours(1)));
        Assert.InRange(Difference(Duration.FromHours(6)), 0.01, 1);
        Assert.True(Difference(Duration.FromDays(7)) > 2 * Difference(Duration.FromHours(6)));
    }

    [Fact]
    public void The_past_does_not_change_from_one_answer_to_the_next()
    {
        var issue = Instant.FromUtc(NotableMornings.Year, 5, 2, 10, 0);
        var start = issue - Duration.FromDays(5);

        Assert.Equal(
            Forecasts.IssuedAt(issue, start, 96)[Air].ToArray(),
            Forecasts.IssuedAt(issue + Duration.FromDays(3), start, 96)[Air].ToArray());
    }

    [Fact]
    public void Sixteen_days_end_in_hours_that_no_run_has_reached_yet()
    {
        var said = Forecasts.IssuedAt(FirstIssue, pastDays: 1, forecastDays: 16);

        Assert.Equal(17 * 24, said.Hours);
        Assert.False(double.IsNaN(said[Air][^13]));
        Assert.All(said[Air][^5..].ToArray(), value => Assert.True(double.IsNaN(value)));
        Assert.Null(said.SourceOf(said.Hours - 1));
    }

    [Fact]
    public void Rain_is_forecast_in_the_right_amount_on_the_whole_but_not_always_on_the_right_day()
    {
        double said = 0, fallen = 0;
        int hits = 0, misses = 0, falselySaid = 0;
        for (int day = 0; day < 364; day++)
        {
            var forecast = Forecasts.IssuedAt(FirstIssue + Duration.FromDays(day), 0, 3);
            double saidMm = Sum(forecast[Rain][48..72]);
            int start = Invented.FirstAtOrAfter(forecast.StampOf(48));
            double trueMm = Sum(Invented[Rain][start..(start + 24)]);
            said += saidMm;
            fallen += trueMm;
            hits += saidMm >= 1 && trueMm >= 1 ? 1 : 0;
            misses += saidMm < 1 && trueMm >= 1 ? 1 : 0;
            falselySaid += saidMm >= 1 && trueMm < 1 ? 1 : 0;
        }

        Assert.InRange(said / fallen, 0.75, 1.3);
        Assert.InRange((double)hits / (hits + misses), 0.7, 0.98);
        Assert.InRange((double)falselySaid / (hits + falselySaid), 0.05, 0.4);
    }

    [Fact]
    public void The_values_of_a_forecast_hour_agree_with_each_other()
    {
        var said = Forecasts.IssuedAt(Instant.FromUtc(NotableMornings.Year, 4, 20, 10, 0), 2, 15);
        for (int hour = 0; hour < said.Hours; hour++)
        {
            Assert.True(said[DewPoint][hour] <= said[Air][hour]);
            Assert.True(said[Gust][hour] >= said[Wind][hour]);
            Assert.InRange(said[CloudCover][hour], said[Rain][hour] > 0 ? 70 : 0, 100);
            Assert.InRange(said[Radiation][hour], 0, 1050);
            Assert.InRange(said[RelativeHumidity][hour], 5, 100);
        }
    }

    [Fact]
    public void The_same_seed_and_instant_say_the_same()
    {
        var again = new ForecastFromTruth(Invented, InventedSeason.Place, seed: 5);
        var other = new ForecastFromTruth(Invented, InventedSeason.Place, seed: 6);
        double[] said = Forecasts.IssuedAt(FirstIssue, 1, 10)[Air].ToArray();

        Assert.Equal(said, again.IssuedAt(FirstIssue, 1, 10)[Air].ToArray());
        Assert.NotEqual(said, other.IssuedAt(FirstIssue, 1, 10)[Air].ToArray());
    }

    [Fact]
    public void What_is_not_known_of_the_truth_is_not_forecast()
    {
        var start = FirstIssue - Duration.FromDays(2);
        var table = new HourTable(96);
        for (int hour = 0; hour < 96; hour++)
            table[Air, hour] = hour == 60 ? double.NaN : 10;
        var said = new ForecastFromTruth(table.ToSeries(start, new(SourceKind.Archive, "test", start)), InventedSeason.Place, 1)
            .IssuedAt(FirstIssue, start, 120);

        Assert.False(double.IsNaN(said[Air][59]));
        Assert.True(double.IsNaN(said[Air][60]));
        Assert.True(double.IsNaN(said[Air][100]), "after the end of what is known");
        Assert.All(said[Rain].ToArray(), mm => Assert.True(double.IsNaN(mm)));
    }

    private static IEnumerable<double> Errors(WeatherSeries said, WeatherVariable variable)
    {
        for (int hour = 0; hour < said.Hours; hour++)
        {
            int truth = Invented.FirstAtOrAfter(said.StampOf(hour));
            if (!double.IsNaN(said[variable][hour]))
                yield return said[variable][hour] - Invented[variable][truth];
        }
    }

    private static double Sum(ReadOnlySpan<double> values)
    {
        double sum = 0;
        foreach (double value in values)
            sum += value;
        return sum;
    }
}
