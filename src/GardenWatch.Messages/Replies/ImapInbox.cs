using System.Net.Security;
using GardenWatch.Messages.Mail;
using MailKit;
using MailKit.Net.Imap;
using MailKit.Search;
using MailKit.Security;
using MimeKit;
using MimeKit.IO;
using MimeKit.IO.Filters;
using NodaTime;

namespace GardenWatch.Messages.Replies;

/// <summary>The mailbox over IMAP (RFC 3501), told of new mail by IDLE (RFC 2177) where the server can. Opened for reading only: nothing becomes read or moved.</summary>
public sealed class ImapInbox(ReplyOptions options, TimeProvider time) : IReplyInbox
{
    /// <summary>A larger mail is not fetched whole.</summary>
    public const int LargeMail = 1024 * 1024;

    /// <summary>Pictures of a mail, each so large at most. What is longer is left out.</summary>
    public const int MostPictures = 10, LargestPicture = 48 * 1024 * 1024;

    private const int PieceBytes = 512 * 1024;
    private const int LongestHeaders = 64 * 1024;
    private const int MostAtOnce = 50;

    // Servers may end a line that was idle for half an hour, and some do after ten minutes.
    private static readonly TimeSpan LongestIdle = TimeSpan.FromMinutes(9);

    private readonly ImapClient _client = new();
    private IMailFolder? _folder;
    // A server tells once, also in the midst of its answer to something else.
    private bool _toldSinceListed;

    public uint Validity => _folder?.UidValidity ?? 0;

    public async Task Connect(CancellationToken ct)
    {
        _client.CheckCertificateRevocation = options.CheckWithdrawn;
        _client.Timeout = (int)options.AnswerWithin.TotalMilliseconds;
        _client.ServerCertificateValidationCallback = options.CertificateFile is { } file
            ? OwnCertificate.Trusting(file, options.Host)
            : (_, _, _, errors) => errors == SslPolicyErrors.None;
        await Within(async token =>
        {
            await _client.ConnectAsync(options.Host, options.Port, options.Security switch
            {
                MailSecurity.Tls => SecureSocketOptions.SslOnConnect,
                MailSecurity.StartTls => SecureSocketOptions.StartTls,
                _ => SecureSocketOptions.None,
            }, token).ConfigureAwait(false);
            await _client.AuthenticateAsync(options.User, options.Password ?? "", token).ConfigureAwait(false);
            _folder = options.Folder.Equals("INBOX", StringComparison.OrdinalIgnoreCase)
                ? _client.Inbox!
                : await _client.GetFolderAsync(options.Folder, token).ConfigureAwait(false);
            await _folder.OpenAsync(FolderAccess.ReadOnly, token).ConfigureAwait(false);
            _folder.CountChanged += (_, _) => _toldSinceListed = true;
            return true;
        }, ct).ConfigureAwait(false);
    }

    public Task<IReadOnlyList<InboxMail>> From(uint? uid, LocalDate since, CancellationToken ct) => Within<IReadOnlyList<InboxMail>>(async token =>
    {
        // A line that idled was told of new mail; one that did not has to ask.
        await _client.NoOpAsync(token).ConfigureAwait(false);
        _toldSinceListed = false;
        var found = uid is { } first
            ? await _folder!.SearchAsync(SearchQuery.Uids(new UniqueIdRange(new UniqueId(first), UniqueId.MaxValue)), token).ConfigureAwait(false)
            : await _folder!.SearchAsync(SearchQuery.DeliveredAfter(since.ToDateTimeUnspecified()), token).ConfigureAwait(false);
        // "From 12 on" gives the last mail also when that is the eleventh.
        var wanted = found.Where(id => id.Id >= (uid ?? 0)).OrderBy(id => id.Id).Take(MostAtOnce).ToList();
        if (wanted.Count == 0)
            return [];
        var summaries = await _folder.FetchAsync(wanted, MessageSummaryItems.UniqueId | MessageSummaryItems.Size | MessageSummaryItems.Headers, token).ConfigureAwait(false);
        return [.. summaries.Where(summary => summary.Headers is not null).OrderBy(summary => summary.UniqueId.Id).Select(summary => new InboxMail(summary.UniqueId.Id, Bounded(summary.Headers!), summary.Size ?? 0))];
    }, ct);

    public Task<FetchedMail?> Fetch(InboxMail mail, CancellationToken ct)
    {
        ArgumentNullException.ThrowIfNull(mail);
        return Within(async token =>
        {
            var id = new UniqueId(mail.Uid);
            try
            {
                if (mail.Size <= LargeMail)
                {
                    var message = await _folder!.GetMessageAsync(id, token).ConfigureAwait(false);
                    return new FetchedMail(message, [.. ReplyText.PicturesOf(message).Take(MostPictures).Select(Decoded)]);
                }
                return await FetchParts(id, mail.Headers, token).ConfigureAwait(false);
            }
            catch (MessageNotFoundException)
            {
                return null;
            }
            catch (FormatException)
            {
                return null;
            }
        }, ct, patience: mail.Size > LargeMail ? 10 : 1);
    }

    public async Task News(CancellationToken ct)
    {
        if (_toldSinceListed)
            return;
        if (!options.Idle || !_client.Capabilities.HasFlag(ImapCapabilities.Idle))
        {
            await Task.Delay(options.PollEvery, time, ct).ConfigureAwait(false);
            return;
        }
        using var done = CancellationTokenSource.CreateLinkedTokenSource(ct);
        void Arrived(object? sender, EventArgs told) => done.Cancel();
        _folder!.CountChanged += Arrived;
        using var enough = time.CreateTimer(_ => done.Cancel(), null, options.PollEvery < LongestIdle ? options.PollEvery : LongestIdle, Timeout.InfiniteTimeSpan);
        // A server may never answer to our DONE: then the line is given up.
        using var giveUp = new CancellationTokenSource();
        using var _ = done.Token.Register(() => giveUp.CancelAfter(options.AnswerWithin));
        try
        {
            await _client.IdleAsync(done.Token, giveUp.Token).WaitAsync(giveUp.Token).ConfigureAwait(false);
        }
        finally
        {
            _folder.CountChanged -= Arrived;
        }
        ct.ThrowIfCancellationRequested();
    }

    public async ValueTask DisposeAsync()
    {
        try
        {
            using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(3));
            if (_client.IsConnected)
                await _client.DisconnectAsync(quit: true, patience.Token).WaitAsync(patience.Token).ConfigureAwait(false);
        }
        // The line is given up in any case, and why it could not be ended well is of no use.
        catch (Exception)
        {
        }
        _client.Dispose();
    }

    /// <summary>A server that stops answering is noticed, whatever it was asked.</summary>
    private async Task<T> Within<T>(Func<CancellationToken, Task<T>> ask, CancellationToken ct, int patience = 1)
    {
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(ct);
        deadline.CancelAfter(options.AnswerWithin * patience);
        try
        {
            return await ask(deadline.Token).WaitAsync(deadline.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            throw new TimeoutException($"The mailbox gave no answer in {options.AnswerWithin * patience}.");
        }
    }

    private static HeaderList Bounded(HeaderList headers)
    {
        int length = 0;
        var bounded = new HeaderList();
        foreach (var header in headers)
        {
            length += header.RawValue.Length;
            if (length > LongestHeaders)
                break;
            bounded.Add(header.Clone());
        }
        return bounded;
    }

    /// <summary>The text of a large mail, cut, and its pictures, each through a file that is gone when it is closed.</summary>
    private async Task<FetchedMail?> FetchParts(UniqueId id, HeaderList headers, CancellationToken ct)
    {
        var summary = (await _folder!.FetchAsync([id], MessageSummaryItems.UniqueId | MessageSummaryItems.BodyStructure, ct).ConfigureAwait(false)).FirstOrDefault();
        if (summary?.Body is null)
            return null;
        var message = new MimeMessage(headers);
        var pictures = new List<ReplyPicture>();
        try
        {
            if ((summary.TextBody ?? summary.HtmlBody) is { } words)
            {
                using var cut = await _folder!.GetStreamAsync(id, words, 0, ReplyText.LongestBody * 4, ct).ConfigureAwait(false);
                var copy = new MemoryStream();
                await cut.CopyToAsync(copy, ct).ConfigureAwait(false);
                copy.Position = 0;
                var text = new TextPart(words.ContentType.MediaSubtype) { Content = new MimeContent(copy, Encoding(words)) };
                foreach (string name in (string[])["charset", "format", "delsp"])
                    if (words.ContentType.Parameters[name] is { } value)
                        text.ContentType.Parameters[name] = value;
                message.Body = text;
            }
            foreach (var part in summary.BodyParts.Where(part => part.ContentType.IsMimeType("image", "*") && !ReplyText.IsOurPicture(part.ContentId)).Take(MostPictures))
            {
                // In base64 a file is a third longer, and its line ends come on top.
                bool fits = part.Octets <= (uint)(LargestPicture / 3 * 4 + LargestPicture / 25);
                var picture = fits ? await Streamed(id, part, ct).ConfigureAwait(false) : null;
                pictures.Add(picture ?? new(part.FileName ?? "", ReplyPicture.TooLarge));
            }
            return new(message, pictures);
        }
        catch
        {
            new FetchedMail(message, pictures).Dispose();
            throw;
        }
    }

    private async Task<ReplyPicture?> Streamed(UniqueId id, BodyPartBasic part, CancellationToken ct)
    {
        var file = new FileStream(Path.Combine(Path.GetTempPath(), Path.GetRandomFileName()), new FileStreamOptions
        {
            Mode = FileMode.CreateNew, Access = FileAccess.ReadWrite, Share = FileShare.None, Options = FileOptions.DeleteOnClose,
        });
        try
        {
            using (var decoding = new FilteredStream(new KeptOpen(file)))
            {
                decoding.Add(DecoderFilter.Create(Encoding(part)));
                for (int offset = 0; offset < part.Octets && file.Length <= LargestPicture; offset += PieceBytes)
                {
                    using var piece = await _folder!.GetStreamAsync(id, part, offset, PieceBytes, ct).ConfigureAwait(false);
                    await piece.CopyToAsync(decoding, ct).ConfigureAwait(false);
                }
                await decoding.FlushAsync(ct).ConfigureAwait(false);
            }
            file.Position = 0;
            if (file.Length <= LargestPicture)
                return new(part.FileName ?? "", file);
            await file.DisposeAsync().ConfigureAwait(false);
            return null;
        }
        catch
        {
            await file.DisposeAsync().ConfigureAwait(false);
            throw;
        }
    }

    private static ContentEncoding Encoding(BodyPartBasic part) =>
        part.ContentTransferEncoding?.Trim().ToLowerInvariant() switch
        {
            "base64" => ContentEncoding.Base64,
            "quoted-printable" => ContentEncoding.QuotedPrintable,
            _ => ContentEncoding.Binary,
        };

    private static ReplyPicture Decoded(MimePart picture)
    {
        var content = new MemoryStream();
        picture.Content?.DecodeTo(content);
        content.Position = 0;
        return new(picture.FileName ?? "", content);
    }

    /// <summary>The decoder closes what it writes to, and the picture is read after it.</summary>
    private sealed class KeptOpen(Stream under) : Stream
    {
        public override bool CanRead => false;
        public override bool CanSeek => false;
        public override bool CanWrite => true;
        public override long Length => under.Length;
        public override long Position { get => under.Position; set => throw new NotSupportedException(); }
        public override void Flush() => under.Flush();
        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();
        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();
        public override void SetLength(long value) => throw new NotSupportedException();
        public override void Write(byte[] buffer, int offset, int count) => under.Write(buffer, offset, count);
    }
}
