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
        var season = SeasonsPlayed.Of(name);
        Assert.SkipWhen(season is null, "The weather of this season is not at hand.");

        Approved.Check(SeasonDigests.Of(PlayedGarden.Play(season)), name, "txt");
    }
}
