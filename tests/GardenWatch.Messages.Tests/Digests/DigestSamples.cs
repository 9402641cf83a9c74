using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Tests.Warnings;
using GardenWatch.Messages.Warnings;
using NodaTime;

namespace GardenWatch.Messages.Tests.Digests;

/// <summary>Every sample message by name: approved as a whole, and put to every law.</summary>
public static class DigestSamples
{
    public static TheoryData<string> Names => [.. All.Keys];

    public static Letter Of(string name) => All[name]();

    private static readonly Dictionary<string, Func<Letter>> All = new()
    {
        ["frosty-morning"] = () => Digest.Of(SampleGarden.FrostyMorning(), SampleGarden.Journal, SampleGarden.Pat, SampleGarden.Answerable),
        ["granules-before-rain"] = () => Digest.Of(SampleGarden.GranulesBeforeRain(), [], SampleGarden.Kim, DigestOccasion.OnTime),
        ["quiet-morning"] = () => Digest.Of(SampleGarden.QuietMorning(), [], SampleGarden.Pat, SampleGarden.Answerable),
        ["stale-weather"] = () => Digest.Of(SampleGarden.StaleWeather(), [], SampleGarden.Pat, SampleGarden.Answerable),
        ["missing-weather"] = () => Digest.Of(SampleGarden.MissingWeather(), [], SampleGarden.Pat, SampleGarden.Answerable),
        ["late-after-outage"] = () => Digest.Of(
            SampleGarden.FrostyMorning() with { AsOf = SampleGarden.At(SampleGarden.Tuesday, 9, 40) }, [], SampleGarden.Pat,
            SampleGarden.Answerable with
            {
                DueAt = SampleGarden.At(SampleGarden.Tuesday, 6),
                Skipped = new(SampleGarden.Tuesday.PlusDays(-1), SampleGarden.Tuesday.PlusDays(-1)),
                StagesLastSaid = Digest.StagesOf(SampleGarden.FrostyMorning()).SetItem("radish/2", "sown"),
            }),
        ["hot-sunday"] = () => Digest.Of(SampleGarden.HotAfternoon(), [], SampleGarden.Kim, DigestOccasion.OnTime),
        ["frost-warning"] = () =>
        {
            var agenda = SampleGarden.FrostyMorning() with
            {
                AsOf = SampleGarden.At(SampleGarden.Tuesday, 17, 5),
                Weather = new(SampleGarden.At(SampleGarden.Tuesday, 17), Duration.FromMinutes(5), Planning.Agendas.WeatherState.Fresh),
            };
            return WarningMessage.Of(agenda, [SampleGarden.CoverTomatoes(SampleGarden.Tuesday)], [], SampleGarden.Pat, "quarry-lane@example.org");
        },
        ["gale-warning"] = ThreatSamples.Gale,
        ["hail-warning"] = ThreatSamples.Hail,
        ["heat-warning"] = ThreatSamples.Heat,
        ["several-warnings"] = ThreatSamples.Several,
        ["gale-called-off"] = ThreatSamples.GaleCalledOff,
        ["hostile"] = () => Digest.Of(HostileGarden.Agenda(), HostileGarden.Journal, SampleGarden.Pat, SampleGarden.Answerable),
        ["overgrown"] = () => Digest.Of(HostileGarden.Overgrown(), [], SampleGarden.Pat, SampleGarden.Answerable),
    };
}
