using GardenWatch.Messages.Tests;

namespace GardenWatch.Trial.Seasons;

/// <summary>Whole seasons as their gardeners read them.</summary>
public class SeasonDigestTests
{
    public static TheoryData<string> Seasons => [.. SeasonsPlayed.Names];

    [Theory]
    [MemberData(nameof(Seasons))]
    public void A_season_reads_as_approved(string name)
    {
        var mornings = SeasonsPlayed.Played(name);
        Assert.SkipWhen(mornings is null, "The weather of this season is not at hand.");

        Approved.Check(SeasonDigests.Of(mornings), name, "txt");
    }
}
