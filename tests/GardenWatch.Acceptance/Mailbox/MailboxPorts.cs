using GardenWatch.Peers;

namespace GardenWatch.Acceptance.Mailbox;

/// <summary>All on 127.0.0.1.</summary>
/// <param name="Submission">STARTTLS and login, as on 587.</param>
/// <param name="SmallSubmission">The same, taking mails of 20,000 bytes at most.</param>
/// <param name="GreySubmission">The same, asking <see cref="Greylist"/> first.</param>
/// <param name="Imap">STARTTLS, as on 143.</param>
internal sealed record MailboxPorts(int Submission, int SmallSubmission, int GreySubmission, int Imap, int Logins)
{
    public static MailboxPorts Free() =>
        new(FreePort.OnLoopback(), FreePort.OnLoopback(), FreePort.OnLoopback(), FreePort.OnLoopback(), FreePort.OnLoopback());
}
