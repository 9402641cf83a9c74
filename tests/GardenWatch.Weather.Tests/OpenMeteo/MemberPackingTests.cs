using CsCheck;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.Tests.OpenMeteo;

public class MemberPackingTests
{
    private static readonly MemberPull Pull = InventedMembers.Likely(Instant.FromUtc(2028, 2, 29, 5, 10));

    [Fact]
    public void Members_come_back_as_they_went_in_small_enough_for_a_small_machine()
    {
        byte[] packed = MemberPacking.Pack(Pull);
        var back = Assert.IsType<MemberPull>(MemberPacking.Unpack(packed, out _));

        Assert.Equal(Pull with { Members = [] }, back with { Members = [] });
        Assert.Equal(Pull.Members.Length, back.Members.Length);
        for (int member = 0; member < back.Members.Length; member++)
        {
            Assert.Equal(Pull.Members[member].Keys, back.Members[member].Keys);
            foreach (var (variable, column) in Pull.Members[member])
            {
                Assert.Equal(column.Decimals, back.Members[member][variable].Decimals);
                Assert.Equal(column.Scaled.AsSpan(), back.Members[member][variable].Scaled.AsSpan());
            }
        }
        Assert.InRange(packed.Length, 1, 160_000);
    }

    [Fact]
    public void Any_byte_that_is_changed_and_any_cut_is_noticed()
    {
        byte[] packed = MemberPacking.Pack(Pull);
        Gen.Select(Gen.Int[0, packed.Length - 1], Gen.Byte[1, 255]).Sample((at, change) =>
        {
            var damaged = (byte[])packed.Clone();
            damaged[at] ^= change;
            Assert.Null(MemberPacking.Unpack(damaged, out string? fault));
            Assert.NotNull(fault);
            Assert.Null(MemberPacking.Unpack(packed.AsSpan(0, at), out _));
        }, iter: 100);
    }
}
