using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Score;
using NodaTime;

namespace GardenWatch.Trial.Play;

/// <summary>One year in the service's own hands. The figures of forty stand in FIGURES.md; here only what must hold in any.</summary>
public class AdvisedSeasonTests
{
    private const ulong ForecastSeed = 1;

    /// <summary>A year of many late frosts.</summary>
    private const int Year = 1991;

    /// <summary>Spring has been, and a test must not take a minute.</summary>
    private static readonly AnnualDate Until = new(7, 31);

    private const double ColdSurpriseK = 4;

    [Fact]
    public async Task A_year_of_advice_covers_before_frosts_and_sows_into_warm_soil()
    {
        string? path = DeBilt.File(DeBiltDays.FileName);
        Assert.SkipWhen(path is null, DeBilt.NotAtHand(DeBiltDays.FileName));
        var observed = DeBiltDays.Read(path, Year - 1, Year);

        var season = await AdvisedSeason.Live(new(observed.Weather, DeBilt.Place, ForecastSeed), Year, Until, TestContext.Current.CancellationToken);
        var frosts = FrostFigures.OfAdvice(season, observed);
        var spreadings = DeedFigures.Spreadings(season, observed, DeedKind.Spread);
        TestContext.Current.TestOutputHelper?.WriteLine($"{frosts}\n{spreadings}\n{DeedFigures.MetTable([season], observed)}");

        Assert.Equal(Period.DaysBetween(AdvisedSeason.Begins.InYear(Year), Until.InYear(Year)) + 1, season.Days.Length);
        Assert.True(frosts.Hit.Length > 3 * frosts.Missed.Length, "frosts announced and missed");
        Assert.DoesNotContain(frosts.FalselyAnnounced, night => night.GroundLowC > 8);
        Assert.True(frosts.FalselyAnnounced.Length < FrostFigures.OfPlainRule(season, observed, airC: 8).FalselyAnnounced.Length);
        // A year has too few spreadings for a share.
        Assert.NotEqual(0, spreadings.Count(SpreadVerdict.Right));
        Assert.True(season.Deeds.Count(deed => deed is { Kind: DeedKind.Sow, Subject: "radish" }) > 5, "batches go on");
        Assert.Contains(season.Deeds, deed => deed is { Kind: DeedKind.SetOut, Subject: "tomato" });
        Assert.All(DeedFigures.SoilsMet(season.Deeds, observed), met => Assert.False(met.MeanC < met.Deed.SoilNeededC - ColdSurpriseK, met.ToString()));
    }
}
