using System.Globalization;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Tests.Digests;

/// <summary>Contrast as WCAG 2.2 defines it: (L1 + 0.05) / (L2 + 0.05) of relative luminances; text needs 4.5.</summary>
public sealed class PaperTests
{
    [Theory]
    [InlineData("#000000", "#FFFFFF", 21)] // WCAG 2.2, "contrast ratio": from 1 to 21
    [InlineData("#777777", "#FFFFFF", 4.48)] // the known grey that just fails
    public void The_measure_agrees_with_known_pairs(string one, string other, double ratio) =>
        Assert.Equal(ratio, Contrast(one, other), tolerance: 0.005);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Every_ink_can_be_read_on_its_paper(bool dark)
    {
        var paper = dark ? Paper.Dark : Paper.Light;
        Assert.All([paper.Ink, paper.Pencil, paper.Red, paper.Blue], ink => Assert.True(Contrast(ink, paper.Ground) >= 4.5, $"{ink} on {paper.Ground}"));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Lines_that_carry_a_fact_keep_3_to_1(bool dark)
    {
        var paper = dark ? Paper.Dark : Paper.Light;
        Assert.True(Contrast(paper.Edge, paper.Ground) >= 3, $"{paper.Edge} on {paper.Ground}");
        Assert.All([paper.Ink, paper.Blue], line => Assert.True(Contrast(line, paper.Band) >= 3, $"{line} on {paper.Band}"));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Words_on_the_band_of_a_week_can_be_read(bool dark)
    {
        var paper = dark ? Paper.Dark : Paper.Light;
        Assert.All([paper.Ink, paper.Pencil, paper.Blue], ink => Assert.True(Contrast(ink, paper.Band) >= 4.5, $"{ink} on {paper.Band}"));
    }

    private static double Contrast(string one, string other)
    {
        double a = Luminance(one), b = Luminance(other);
        return (Math.Max(a, b) + 0.05) / (Math.Min(a, b) + 0.05);
    }

    private static double Luminance(string colour)
    {
        double Channel(int at)
        {
            double c = int.Parse(colour.AsSpan(at, 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }
        return 0.2126 * Channel(1) + 0.7152 * Channel(3) + 0.0722 * Channel(5);
    }
}
