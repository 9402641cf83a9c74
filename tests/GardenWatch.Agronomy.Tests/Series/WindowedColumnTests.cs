using System.Globalization;
using CsCheck;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Agronomy.Tests.Series;

public sealed class WindowedColumnTests
{
    private static readonly Gen<double> Hour = Gen.Frequency(
        (6, Gen.Int[-400, 400].Select(tenths => tenths / 10.0)), (2, Gen.Const(double.NaN)), (1, Gen.Double[-1e6, 1e6]));

    [Fact]
    public void Every_statistic_of_any_stretch_is_that_of_a_plain_look_through_its_hours() =>
        Gen.Select(Hour.Array[0, 300], Gen.Int[-20, 320], Gen.Int[-20, 320]).Sample((hours, a, b) =>
        {
            int first = Math.Min(a, b), last = Math.Max(a, b);
            var column = new WindowedColumn(hours);
            var known = hours.Where((value, i) => i >= first && i <= last && !double.IsNaN(value)).ToArray();
            Assert.Equal(known.Length, column.Known(first, last));
            if (known.Length == 0)
            {
                Assert.All((double[])[column.Total(first, last), column.Mean(first, last), column.Low(first, last), column.High(first, last)],
                    value => Assert.True(double.IsNaN(value)));
                return;
            }
            Assert.Equal(known.Sum(), column.Total(first, last), 1e-5);
            Assert.Equal(known.Average(), column.Mean(first, last), 1e-6);
            Assert.Equal(known.Min(), column.Low(first, last));
            Assert.Equal(known.Max(), column.High(first, last));
        });

    [Fact]
    public void A_moving_window_gives_every_hour_what_asking_for_its_stretch_gives() =>
        Gen.Select(Hour.Array[0, 300], Gen.Int[1, 320]).Sample((hours, window) =>
        {
            var column = new WindowedColumn(hours);
            double[] totals = new double[hours.Length], means = new double[hours.Length];
            double[] lows = new double[hours.Length], highs = new double[hours.Length];
            column.MovingTotals(window, totals);
            column.MovingMeans(window, means);
            column.MovingLows(window, lows);
            column.MovingHighs(window, highs);
            for (int last = 0; last < hours.Length; last++)
            {
                int first = last - window + 1;
                Assert.Equal(column.Total(first, last), totals[last]);
                Assert.Equal(column.Mean(first, last), means[last]);
                Assert.Equal(column.Low(first, last), lows[last]);
                Assert.Equal(column.High(first, last), highs[last]);
            }
        });

    [Fact]
    public void Moving_means_and_spread_agree_with_a_statistics_package()
    {
        double[] hours = [.. Enumerable.Range(0, 2000).Select(i => 10 + 8 * Math.Sin(i / 3.7) + i % 7)];
        var column = new WindowedColumn(hours);
        double[] means = new double[hours.Length], lows = new double[hours.Length], highs = new double[hours.Length];
        column.MovingMeans(72, means);
        column.MovingLows(72, lows);
        column.MovingHighs(72, highs);
        var mean = new MathNet.Numerics.Statistics.MovingStatistics(72);
        for (int i = 0; i < hours.Length; i++)
        {
            mean.Push(hours[i]);
            if (i < 71)
                continue; // it fills up differently
            Assert.Equal(mean.Mean, means[i], 1e-9);
            Assert.Equal(mean.Minimum, lows[i]);
            Assert.Equal(mean.Maximum, highs[i]);
        }
    }

    [Fact]
    public void A_window_without_hours_or_without_room_is_refused()
    {
        var column = new WindowedColumn([1.0, 2.0]);
        Assert.Throws<ArgumentOutOfRangeException>(() => column.MovingTotals(0, new double[2]));
        Assert.Throws<ArgumentException>(() => column.MovingLows(1, new double[3]));
    }

    [Fact]
    public void An_array_that_is_given_is_not_written_to()
    {
        double[] given = [1, double.NegativeInfinity, double.NaN, 4];
        Assert.Equal(5, new WindowedColumn(given).Total(0, 3));
        Assert.Equal([1, double.NegativeInfinity, double.NaN, 4], given);
    }

    [Fact]
    public void A_column_that_goes_on_from_another_is_as_one_made_whole() =>
        Gen.Select(Hour.Array[1, 120], Hour.Array[0, 120], Gen.Int[1, 120], Gen.Int[-20, 260], Gen.Int[-20, 260]).Sample((before, after, from, a, b) =>
        {
            from = Math.Min(from, before.Length);
            int first = Math.Min(a, b), last = Math.Max(a, b);
            var whole = new WindowedColumn([.. before[..from], .. after]);
            var column = new WindowedColumn(before).GoingOn(from, after);

            Assert.Equal(whole.Hours, column.Hours);
            Assert.Equal(whole[a], column[a]);
            Assert.Equal(whole.Known(first, last), column.Known(first, last));
            Assert.Equal(whole.Total(first, last), column.Total(first, last), 1e-4);
            Assert.Equal(whole.Low(first, last), column.Low(first, last));
            Assert.Equal(whole.High(first, last), column.High(first, last));

            double[] moving = new double[column.Hours], ofWhole = new double[column.Hours];
            column.MovingLows(7, moving);
            whole.MovingLows(7, ofWhole);
            Assert.Equal(ofWhole, moving);
        });

    [Fact]
    public void Thirty_years_of_tenths_of_a_millimetre_add_up_exactly()
    {
        // 0.1 can't be held exactly, so a plain running sum drifts, and the same day would differ with where it lies.
        const int Hours = 262_980;
        var column = new WindowedColumn([.. Enumerable.Repeat(0.1, Hours)]);
        Assert.Equal(26_298, column.Total(0, Hours - 1), 1e-8);
        Assert.Equal(2.4, column.Total(Hours - 24, Hours - 1), 1e-12);
        Assert.Equal(column.Total(0, 23), column.Total(Hours - 24, Hours - 1));
    }

    [Fact]
    public void Great_and_small_numbers_in_one_column_keep_a_thousandth()
    {
        double[] hours = [.. Enumerable.Range(0, 200_000).Select(i => i % 1000 == 0 ? 1200.0 : 0.001)];
        var column = new WindowedColumn(hours);
        Assert.Equal(999 * 0.001, column.Total(1, 999), 1e-6);
    }

    [Fact]
    public void An_infinite_value_is_missing_and_a_backward_stretch_is_empty()
    {
        var column = new WindowedColumn([1, double.PositiveInfinity, 3]);
        Assert.Equal(2, column.Known(0, 2));
        Assert.Equal(3, column.High(0, 2));
        Assert.Equal(0, column.Known(2, 1));
        Assert.True(double.IsNaN(column.Low(2, 1)));
        Assert.True(double.IsNaN(column[3]));
        Assert.True(double.IsNaN(column[-1]));
    }

    [Fact]
    public void A_measured_year_gives_the_same_as_a_plain_look_for_every_window_of_a_week_and_of_a_day()
    {
        string? folder = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        Assert.SkipWhen(folder is null, "GARDENWATCH_TEST_DATA is not set");
        string path = Path.Combine(folder!, "weather-data", "debilt_hourly_2000.csv");
        Assert.SkipUnless(File.Exists(path), $"{path} is not there");
        var rows = File.ReadLines(path).Skip(1).Select(line => line.Split(',')).ToArray();
        double[] air = [.. rows.Select(cells => double.Parse(cells[1], CultureInfo.InvariantCulture))];
        double[] rain = [.. rows.Select(cells => double.Parse(cells[4], CultureInfo.InvariantCulture))];
        var (airColumn, rainColumn) = (new WindowedColumn(air), new WindowedColumn(rain));
        Assert.Equal(8784, air.Length);
        foreach (int length in (int[])[24, 25, 168])
        {
            for (int first = 0; first + length <= air.Length; first += 5)
            {
                Assert.Equal(air.Skip(first).Take(length).Min(), airColumn.Low(first, first + length - 1));
                Assert.Equal(air.Skip(first).Take(length).Max(), airColumn.High(first, first + length - 1));
                Assert.Equal((double)rain.Skip(first).Take(length).Sum(mm => (decimal)mm), rainColumn.Total(first, first + length - 1), 1e-9);
            }
        }
    }
}
