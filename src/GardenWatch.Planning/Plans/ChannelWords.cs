using System.Collections.Immutable;

namespace GardenWatch.Planning.Plans;

/// <summary>The ways out beside mail, as a plan names them among those who are told.</summary>
public static class ChannelWords
{
    public const string Push = "push";
    public const string Webhook = "webhook";
    public const string HomeHub = "home hub";

    public static readonly ImmutableArray<string> All = [Push, Webhook, HomeHub];

    /// <summary>The same words mean a channel wherever addressees are kept: no mail address is one.</summary>
    public static bool IsOne(string addressee) => All.Contains(addressee);

    /// <summary>Programs, not people: they are told on days without the gardener, too.</summary>
    public static bool IsProgram(string addressee) => addressee is Webhook or HomeHub;
}
