using System.Collections.Immutable;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Mail;
using GardenWatch.Setup;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>The ways out beside mail that the settings set up.</summary>
public sealed class HouseChannels(ImmutableArray<IChannel> channels)
{
    // A message may wait on disk; a server that says nothing for so long says nothing.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    public static HouseChannels None { get; } = new([]);

    public static HouseChannels Of(Settings settings, IClock clock)
    {
        var channels = ImmutableArray.CreateBuilder<IChannel>();
        // One line for each, as each waits alone.
        if (settings.Push is { } push)
            channels.Add(new PushChannel(push, new(HttpHandover.NewLine(), Patience, clock)));
        if (settings.Webhook is { } webhook)
            channels.Add(new WebhookChannel(webhook, new(HttpHandover.NewLine(), Patience, clock), clock));
        if (settings.HomeHub is { } hub)
            channels.Add(new HomeHubChannel(hub));
        return new(channels.ToImmutable());
    }

    public ImmutableArray<IChannel> All => channels;

    public ImmutableArray<string> Words => [.. channels.Select(channel => channel.Word)];

    /// <summary>Nothing for a channel that is not set up any more: it is refused when it would be sent, and so is seen.</summary>
    public byte[] Render(string word, ChannelNote note) => Find(word)?.Render(note) ?? [];

    public async Task<SendOutcome> Send(OutboxRow row, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (row.Bytes.Length == 0 || Find(row.Key.Addressee) is not { } channel)
            return new SendOutcome.Refused($"The plan names {row.Key.Addressee}, which gardenwatch.yaml does not set up.");
        return await channel.Send(row.Bytes, row.MessageId, ct).ConfigureAwait(false);
    }

    private IChannel? Find(string word) => channels.FirstOrDefault(channel => channel.Word == word);
}
