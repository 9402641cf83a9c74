using System.Text;
using MimeKit;

namespace GardenWatch.Messages.Mail;

/// <summary>Keeps mail as <c>.eml</c> files, which mail programs open: for the demo, and to look at without a server.</summary>
public sealed class EmlFolder(string folder) : IPostbox
{
    /// <summary>One file for a Message-ID, so that sending the same again leaves one mail.</summary>
    public async Task<SendOutcome> Send(ReadOnlyMemory<byte> mail, string from, string to, CancellationToken cancellationToken)
    {
        try
        {
            Directory.CreateDirectory(folder);
            string path = Path.Combine(folder, FileName(mail));
            string half = path + ".part";
            await File.WriteAllBytesAsync(half, mail, cancellationToken).ConfigureAwait(false);
            File.Move(half, path, overwrite: true);
            return new SendOutcome.Accepted($"Written to {path}.");
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            return new SendOutcome.TryLater($"The mail could not be written into {folder}: {fault.Message}");
        }
    }

    private static string FileName(ReadOnlyMemory<byte> mail)
    {
        using var stream = new MemoryStream(mail.ToArray(), writable: false);
        string id = MimeMessage.Load(stream).MessageId ?? "mail";
        var name = new StringBuilder();
        foreach (char c in id)
            name.Append(char.IsAsciiLetterOrDigit(c) || c is '-' or '@' ? c : c == '.' && name.Length > 0 ? '.' : '_');
        return name.ToString(0, Math.Min(name.Length, 120)) + ".eml";
    }
}
