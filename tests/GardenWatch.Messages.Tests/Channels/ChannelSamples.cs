using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using NodaTime;

namespace GardenWatch.Messages.Tests.Channels;

internal static class ChannelSamples
{
    public static readonly Instant Noon = SampleGarden.At(SampleGarden.Tuesday, 12);

    public static ChannelNote FrostyDigest => DigestOf(SampleGarden.FrostyMorning());

    public static ChannelNote DigestOf(Agenda agenda) =>
        ChannelNote.Of(Digest.Of(agenda, [], SampleGarden.Pat, DigestOccasion.OnTime), agenda, "digest", urgent: false, Noon);

    public static ChannelNote FrostWarning
    {
        get
        {
            var agenda = SampleGarden.FrostyMorning();
            var letter = WarningMessage.Of(agenda, [SampleGarden.CoverTomatoes(SampleGarden.Tuesday)], [], SampleGarden.Pat);
            return ChannelNote.Of(letter, agenda, "warning", urgent: true, SampleGarden.At(SampleGarden.Tuesday, 22));
        }
    }
}
