using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Peers.Smtp;

/// <summary>A mail the server kept: the bytes as they were meant, without the dots that SMTP doubles.</summary>
public sealed record ReceivedMail(
    string From, ImmutableArray<string> To, ImmutableArray<byte> Bytes, Instant At, bool OverTls, string? User);
