using System.Collections.Immutable;
using GardenWatch.Agronomy.Seeds;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Agendas;

/// <summary>What is left of a packet, by the year that the plan says and the years that the crop's seed keeps.</summary>
/// <param name="Share">Of the seed, likely to come up.</param>
internal sealed record SeedAge(Planting Planting, int Year, double Share)
{
    // Between sowing a third thicker and twice as thick (9 of 10 come up of good seed): of ten, six.
    private const double TwiceAsThickFrom = 1.5;

    public SeedWorth Worth => SeedViability.WorthOf(Share);

    /// <summary>Null where the plan says no year, or how long the seed keeps is not known.</summary>
    /// <param name="sownIn">The year in which it is to be sown.</param>
    public static SeedAge? Of(Planting planting, int sownIn) => planting is { SeedYear: { } year, Crop.Seed.Years: { } keeps } && year <= sownIn
        ? new(planting, year, SeedViability.After(SeedViability.GoodFreshShare, sownIn - year, keeps))
        : null;

    /// <summary>"carrots of 2023 (5 in 10)".</summary>
    public string Said(Speech speech) => speech.Say($"{speech.Word(Planting.Crop.Plants)} of {Year} ({speech.Chance(Share)})");

    /// <summary>Said with the sowing itself; null for seed that is sown as usual.</summary>
    public Reason? Why(Speech speech)
    {
        string? text = Worth switch
        {
            SeedWorth.SowThicker when SeedViability.TimesAsThick(Share) >= TwiceAsThickFrom =>
                speech.Say($"Seed of {Year}: by its age some {speech.Chance(Share)} will come up. Sow it twice as thick, or test twenty first."),
            SeedWorth.SowThicker => speech.Say($"Seed of {Year}: by its age some {speech.Chance(Share)} will come up. Sow it a third thicker, or test twenty first."),
            SeedWorth.BuyFresh => speech.Say($"Seed of {Year} is past its time ({speech.Counted(Planting.Crop.Seed!.Years!.Value, "year")}): buy fresh, or test twenty first and sow it double."),
            _ => null,
        };
        return text is null ? null : new("seed-age", ImmutableDictionary<string, double>.Empty.Add("share", Share), text);
    }
}
