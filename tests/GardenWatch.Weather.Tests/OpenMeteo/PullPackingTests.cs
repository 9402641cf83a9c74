using System.Collections.Immutable;
using CsCheck;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class PullPackingTests
{
    private static readonly Instant Fetched = Instant.FromUtc(2028, 2, 29, 5, 10) + Duration.FromNanoseconds(123_456_789);

    [Fact]
    public async Task A_pull_comes_back_as_it_went_in()
    {
        await using var bench = await ServiceBench.Open();
        var pull = Assert.IsType<PullOutcome.Good>(await bench.Pull()).Pull with
        {
            FetchedAt = Fetched, ZoneName = "Pacific/Auckland", OutOfRange = 3, GridElevationMetres = double.NaN,
        };

        AssertSame(pull, Unpacked(PullPacking.Pack(pull)));
    }

    [Fact]
    public void Values_come_back_exactly_as_printed() =>
        Gen.Select(Gen.Int[0, 2], Gen.Int[-32_000, 32_000].Array[1, 60], Gen.Bool.Array[60]).Sample((decimals, numbers, missing) =>
        {
            double power = Math.Pow(10, decimals);
            double[] printed = [.. numbers.Select((n, i) => missing[i] ? double.NaN : n / power)];
            var column = PulledColumn.Of(printed, decimals);
            var pull = new Pull(
                Fetched, "h", "m", Instant.FromUtc(2028, 1, 1, 0, 0), printed.Length,
                ImmutableSortedDictionary<WeatherVariable, PulledColumn>.Empty.Add(WeatherVariable.DewPoint, column),
                0, 0, 0, null, null, 0);
            var back = Unpacked(PullPacking.Pack(pull)).Columns[WeatherVariable.DewPoint];
            for (int hour = 0; hour < printed.Length; hour++)
                Assert.Equal(printed[hour], back[hour]);
        });

    [Fact]
    public void Decimals_that_do_not_fit_are_rounded_away_and_no_more()
    {
        var column = PulledColumn.Of([1013.257, -40.1312], 4);

        Assert.Equal(1, column.Decimals);
        Assert.Equal(1013.3, column[0]);
        Assert.Equal(-40.1, column[1]);
    }

    [Fact]
    public void Any_byte_that_is_changed_is_noticed()
    {
        byte[] packed = PullPacking.Pack(Small());
        Gen.Select(Gen.Int[0, packed.Length - 1], Gen.Byte[1, 255]).Sample((at, change) =>
        {
            var damaged = (byte[])packed.Clone();
            damaged[at] ^= change;
            Assert.IsType<UnpackOutcome.Damaged>(PullPacking.Unpack(damaged));
        });
    }

    [Fact]
    public void Any_cut_is_noticed()
    {
        byte[] packed = PullPacking.Pack(Small());
        for (int length = 0; length < packed.Length; length++)
            Assert.IsType<UnpackOutcome.Damaged>(PullPacking.Unpack(packed.AsSpan(0, length)));
    }

    [Fact]
    public void Bytes_of_a_newer_program_are_named_as_such()
    {
        byte[] packed = PullPacking.Pack(Small());
        packed[0] = 2;

        var damaged = Assert.IsType<UnpackOutcome.Damaged>(PullPacking.Unpack(packed));
        Assert.Contains("version 2 and this program reads 1", damaged.Reason, StringComparison.Ordinal);
    }

    private static Pull Small() => InventedPull.At(
        Fetched, 1, 3, (stamp, _) => stamp.ToUnixTimeSeconds() / 3600 % 17, WeatherVariable.Air, WeatherVariable.Rain);

    private static Pull Unpacked(byte[] packed) => Assert.IsType<UnpackOutcome.Good>(PullPacking.Unpack(packed)).Pull;

    private static void AssertSame(Pull expected, Pull actual)
    {
        var none = ImmutableSortedDictionary<WeatherVariable, PulledColumn>.Empty;
        Assert.Equal(expected with { Columns = none }, actual with { Columns = none });
        Assert.Equal(expected.Columns.Keys, actual.Columns.Keys);
        foreach (var (variable, column) in expected.Columns)
        {
            Assert.Equal(column.Decimals, actual.Columns[variable].Decimals);
            Assert.Equal(column.Scaled.AsSpan(), actual.Columns[variable].Scaled.AsSpan());
        }
    }
}
