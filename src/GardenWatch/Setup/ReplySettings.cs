using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;

namespace GardenWatch.Setup;

/// <summary>Where replies are read; what is not written follows from the account that sends.</summary>
internal static class ReplySettings
{
    private const string OutgoingPrefix = "smtp.";

    /// <summary>Null when they are not read, or when a fault was added.</summary>
    public static ReplyOptions? Of(SettingValues values, ConfigFolder folder, string? credentials, MailOptions? mail)
    {
        if (values.FirstOf("replies") is not { } first || (values.Value(SettingKey.RepliesRead) is not null && !values.Choice(SettingKey.RepliesRead)))
            return null;
        int faultsBefore = values.FaultCount;
        if (mail is null)
        {
            // An account that sends and is at fault has been told of.
            if (values.Value(SettingKey.MailHost) is null)
                values.Add(first.Fault("`replies` is there, but no `mail:` by which messages go out that could be answered.", "Add `mail: { host: mail.example.org, ... }`, or take `replies` away."));
            return null;
        }
        var security = Security(values);
        var replies = new ReplyOptions
        {
            Host = values.Text(SettingKey.RepliesHost) ?? (mail.Host.StartsWith(OutgoingPrefix, StringComparison.OrdinalIgnoreCase) ? "imap." + mail.Host[OutgoingPrefix.Length..] : mail.Host),
            Security = security,
            Port = values.Number(SettingKey.RepliesPort, 1, 65535) ?? (security == MailSecurity.Tls ? 993 : 143),
            User = values.Text(SettingKey.RepliesUser) ?? mail.User ?? "",
            Password = values.Value(SettingKey.RepliesPasswordFile) is null ? mail.Password : SecretFile.Of(SettingKey.RepliesPasswordFile, "password", values, folder, credentials),
            Folder = values.Text(SettingKey.RepliesFolder)!,
            Address = values.Text(SettingKey.RepliesAddress) ?? mail.FromAddress,
            PollEvery = values.Span(SettingKey.RepliesPollEvery) ?? TimeSpan.FromMinutes(5),
            Insecure = values.Choice(SettingKey.RepliesInsecure),
            CertificateFile = values.Text(SettingKey.RepliesCertificateFile) is { } path ? Path.GetFullPath(path, folder.Path) : mail.CertificateFile,
            CheckWithdrawn = mail.CheckWithdrawn,
        };
        if (values.FaultCount == faultsBefore)
            values.AddFaults(replies.Faults(), values.Value(SettingKey.RepliesRead) is not null ? SettingKey.RepliesRead : Written(values));
        return replies;
    }

    private static SettingKey Written(SettingValues values) =>
        SettingKey.All.First(key => key.Section == "replies" && values.Value(key) is { From: not "default" });

    private static MailSecurity Security(SettingValues values)
    {
        switch (values.Text(SettingKey.RepliesSecurity)!.ToLowerInvariant())
        {
            case "tls": return MailSecurity.Tls;
            case "starttls": return MailSecurity.StartTls;
            case "none": return MailSecurity.None;
            default:
                values.AddFault(SettingKey.RepliesSecurity, "Write `tls` (port 993), `starttls` (port 143), or `none` for a mail server on this machine.");
                return MailSecurity.Tls;
        }
    }
}
