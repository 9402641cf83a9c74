using System.Collections.Immutable;
using GardenWatch.Planning.Journals;

namespace GardenWatch.Rounds;

/// <summary>A picture as it came.</summary>
/// <param name="Name">Of the file, as it was sent; only shown.</param>
/// <param name="Content">Read once, to its end or to what is taken of it.</param>
public sealed record IncomingPicture(string Name, Stream Content);

/// <summary>What somebody answered at once, whichever way it came.</summary>
public sealed record IncomingAnswers(AnswerOrigin Origin, ImmutableArray<Answer> Answers)
{
    /// <summary>Who: a mail address, or null where nobody is named.</summary>
    public string? Person { get; init; }

    /// <summary>The row of the outbox whose numbers are meant; null for the last message that this person had.</summary>
    public long? Message { get; init; }

    /// <summary>What can't come twice: a mail's Message-ID, the key of a form. Null where what comes twice is meant twice.</summary>
    public string? Source { get; init; }

    public ImmutableArray<IncomingPicture> Pictures { get; init; } = [];
}

/// <summary>What became of answers.</summary>
/// <param name="Understood">Sentences: what was written down, or had been before.</param>
/// <param name="Asked">Sentences: what was not understood or refused, and why.</param>
public sealed record AnswersTaken(ImmutableArray<string> Understood, ImmutableArray<string> Asked)
{
    /// <summary>The same source had come before; nothing was changed, and the sentences are those of then.</summary>
    public bool Repeated { get; init; }

    /// <summary>Why nothing could be written; null when all is well. Then it is worth trying again.</summary>
    public string? NotWritten { get; init; }

    /// <summary>Of the entries added.</summary>
    public ImmutableArray<string> EntryIds { get; init; } = [];
}
