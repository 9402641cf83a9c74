using System.Collections.Immutable;

namespace GardenWatch.Messages.Replies;

/// <summary>Lines that a gardener wrote one below the other, with nothing quoted between them.</summary>
/// <param name="Above">The quoted lines directly above, without their marks: what is answered there, when someone writes between the lines.</param>
/// <param name="Between">Something quoted follows below as well.</param>
public sealed record OwnWords(string Text, ImmutableArray<string> Above, bool Between)
{
    public OwnWords(string text)
        : this(text, [], false)
    {
    }
}
