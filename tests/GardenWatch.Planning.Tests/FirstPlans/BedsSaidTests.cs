using System.Globalization;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tests.FirstPlans;

/// <summary>The third answer: beds, in many people's words.</summary>
public sealed class BedsSaidTests
{
    private static string Said(string text, UnitSystem units = UnitSystem.Metric) => string.Join("; ",
        Assert.IsType<BedsReading.Ok>(BedsSaid.Read(text, units)).Beds.Select(bed => string.Create(CultureInfo.InvariantCulture,
            $"{bed.Name}{(bed.SizeMetres is var (w, l) ? $" {w:0.##}x{l:0.##}" : "")}{(bed.ContainerLitres is { } litres ? $" {litres:0.#} l" : "")}{(bed.Over == Overhead.Open ? "" : $" {bed.Over}")}")));

    [Theory]
    [InlineData("3", "bed 1; bed 2; bed 3")]
    [InlineData("1", "bed")]
    [InlineData("a bed", "bed")]
    [InlineData("three beds", "bed 1; bed 2; bed 3")]
    [InlineData("two 1.2 x 3 m, a row of pots, one 4x8 ft", "bed 1 1.2x3; bed 2 1.2x3; pots 10 l; bed 3 1.22x2.44")]
    [InlineData("two 1,2 x 3 m", "bed 1 1.2x3; bed 2 1.2x3")]
    [InlineData("2 x 1.2 x 3 m", "bed 1 1.2x3; bed 2 1.2x3")]
    [InlineData("2 beds 1.2m by 3m", "bed 1 1.2x3; bed 2 1.2x3")]
    [InlineData("3 raised beds of 4 by 8 feet each", "raised bed 1 1.22x2.44; raised bed 2 1.22x2.44; raised bed 3 1.22x2.44")]
    [InlineData("4' x 8' (2)", "bed 1 1.22x2.44; bed 2 1.22x2.44")]
    [InlineData("4×8ft", "bed 1.22x2.44")]
    [InlineData("4 ft 6 in x 8 ft", "bed 1.37x2.44")]
    [InlineData("1 1/2 m x 3 m", "bed 1.5x3")]
    [InlineData("120 x 300", "bed 1.2x3")]
    [InlineData("1.2 x 3", "bed 1.2x3")]
    [InlineData("the bed by the shed 2 x 3 m", "bed by the shed 2x3")]
    [InlineData("Anna's bed, my herb spiral", "Anna's bed; herb spiral")]
    [InlineData("a greenhouse 2 x 3 m and a cold frame", "greenhouse 2x3 Greenhouse; cold frame Frame")]
    [InlineData("polytunnel 3x6 m; windowsill", "polytunnel 3x6 Tunnel; windowsill Windowsill")]
    [InlineData("10 m²", "bed 1.2x8.33")]
    [InlineData("about 25 square metres", "bed 5x5")]
    [InlineData("a 5 m row of raspberries", "row of raspberries 0.5x5")]
    [InlineData("a dozen pots", "pots 10 l")]
    [InlineData("a pot", "pot 10 l")]
    [InlineData("two 40 litre tubs", "tubs 40 l")]
    [InlineData("a 5-gallon bucket", "bucket 18.9 l")]
    [InlineData("3 grow bags", "grow bags 40 l")]
    [InlineData("window boxes", "window boxes 10 l")]
    [InlineData("some beds", "bed 1; bed 2; bed 3")]
    [InlineData("raised beds", "raised bed 1; raised bed 2")]
    [InlineData("2 beds\n1 greenhouse", "bed 1; bed 2; greenhouse Greenhouse")]
    [InlineData("an allotment plot, 5 x 10 m", "allotment plot; bed 5x10")]
    [InlineData("pots on the windowsill", "pots on the windowsill Windowsill")]
    public void Beds_are_understood_as_people_tell_them(string text, string beds) => Assert.Equal(beds, Said(text));

    [Theory]
    [InlineData("two 4 x 8", "bed 1 1.22x2.44; bed 2 1.22x2.44")]
    [InlineData("48 x 96", "bed 1.22x2.44")]
    [InlineData("32 sq ft", "bed 1.2x2.48")]
    [InlineData("4 x 8, 1.2 x 3 m", "bed 1 1.22x2.44; bed 2 1.2x3")]
    public void A_size_without_unit_is_in_the_gardeners_own(string text, string beds) => Assert.Equal(beds, Said(text, UnitSystem.Us));

    [Fact]
    public void What_was_assumed_is_said()
    {
        var beds = Assert.IsType<BedsReading.Ok>(BedsSaid.Read("4 x 8, pots, a 3 m bed, a few frames, 1 x 2 m", UnitSystem.Metric)).Beds;
        Assert.Equal("no unit was told, taken as m", beds[0].Guess);
        Assert.Equal("what one holds is a guess", beds.First(bed => bed.Name == "pots").Guess);
        Assert.Contains("one length alone is no size", beds[2].Guess, StringComparison.Ordinal);
        Assert.Equal("how many there are is a guess", beds.First(bed => bed.Over == Overhead.Frame).Guess);
        Assert.Null(beds[^1].Guess);
    }

    [Theory]
    [InlineData("", "nowhere to grow")]
    [InlineData("none", "nowhere to grow")]
    [InlineData("no beds yet", "nowhere to grow")]
    [InlineData("500 beds", "500 beds are more")]
    [InlineData("900 x 900 m", "no bed is of that size")]
    public void What_gives_no_bed_is_told(string text, string told) =>
        Assert.Contains(told, Assert.IsType<BedsReading.Fault>(BedsSaid.Read(text, UnitSystem.Metric)).Problem, StringComparison.Ordinal);

    [Fact]
    public void Names_are_never_said_twice()
    {
        var beds = Assert.IsType<BedsReading.Ok>(BedsSaid.Read("bed, Bed, 2 beds, raised bed, pots, pots", UnitSystem.Metric)).Beds;
        Assert.Equal(beds.Length, beds.Select(bed => bed.Name.ToLowerInvariant()).Distinct().Count());
    }
}
