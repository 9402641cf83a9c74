using System.Net;
using System.Security.Cryptography.X509Certificates;
using GardenWatch.Peers.Smtp;

namespace GardenWatch.Acceptance.Mailbox;

/// <summary>
/// Everything the two servers need, in one folder of their own: settings, spool, certificate, accounts and mail. Nothing under
/// /etc or /var is read or written.
/// </summary>
internal sealed class ServerFiles : IDisposable
{
    /// <summary>Accounts and their passwords; the first may send.</summary>
    public static readonly (string Address, string Password)[] Accounts =
        [("garden@example.org", "plain-radish"), ("pat@example.org", "early-carrot"), ("sam@example.org", "late-leek")];

    // The account `mail`, which every Debian has: mail is delivered and read as it, since neither server does that as root.
    private const int MailUser = 8;

    private const UnixFileMode ForAll = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute
        | UnixFileMode.GroupRead | UnixFileMode.GroupExecute | UnixFileMode.OtherRead | UnixFileMode.OtherExecute;

    public ServerFiles(MailboxPorts ports, int greylistPort)
    {
        // Made only where both servers are installed, and that is never Windows.
#pragma warning disable CA1416
        File.SetUnixFileMode(Root, ForAll);
        foreach (string folder in (string[])["dovecot", "postfix", "spool", "data", "mail"])
            Directory.CreateDirectory(Path.Combine(Root, folder), ForAll);
        File.SetUnixFileMode(Path.Combine(Root, "mail"), ForAll | UnixFileMode.GroupWrite | UnixFileMode.OtherWrite);
#pragma warning restore CA1416
        WriteCertificate();
        File.WriteAllLines(Path.Combine(Root, "accounts"), Accounts.Select(account => $"{account.Address}:{{PLAIN}}{account.Password}"));
        File.WriteAllText(DovecotSettings, Dovecot(ports));
        File.WriteAllText(Path.Combine(PostfixFolder, "main.cf"), PostfixMain(ports));
        File.WriteAllText(Path.Combine(PostfixFolder, "master.cf"), PostfixServices(ports, greylistPort));
    }

    public string Root { get; } = Directory.CreateTempSubdirectory("gardenwatch-mailbox-").FullName;

    public string Certificate => Path.Combine(Root, "certificate.pem");

    public string DovecotSettings => Path.Combine(Root, "dovecot", "dovecot.conf");

    public string PostfixFolder => Path.Combine(Root, "postfix");

    public string Data => Path.Combine(Root, "data");

    /// <summary>What both said, for a test that fails.</summary>
    public string Logs => string.Join('\n', Directory.GetFiles(Root, "*.log").Order(StringComparer.Ordinal).Select(File.ReadAllText));

    public void Dispose() => Directory.Delete(Root, recursive: true);

    private void WriteCertificate()
    {
        using var certificate = ServerCertificate.For("localhost", IPAddress.Loopback);
        File.WriteAllText(Certificate, certificate.ExportCertificatePem());
        using var key = certificate.GetECDsaPrivateKey()!;
        File.WriteAllText(Path.Combine(Root, "key.pem"), key.ExportPkcs8PrivateKeyPem());
    }

    /// <summary>The words of 2.3, as Debian 12 has it; 2.4 has others (`ssl_server_cert_file`, `mail_driver`, named passdbs).</summary>
    private string Dovecot(MailboxPorts ports) => $$"""
        base_dir = {{Root}}/run
        state_dir = {{Root}}/state
        log_path = {{Root}}/dovecot.log
        protocols = imap
        listen = 127.0.0.1
        ssl = yes
        ssl_cert = <{{Certificate}}
        ssl_key = <{{Root}}/key.pem
        auth_mechanisms = plain login
        disable_plaintext_auth = yes
        # A wrong password is answered at once, and the next login as well: they are the test's, not a stranger's.
        auth_failure_delay = 0
        service anvil {
          unix_listener anvil-auth-penalty {
            mode = 0
          }
        }
        first_valid_uid = {{MailUser}}
        first_valid_gid = {{MailUser}}
        mail_location = maildir:{{Root}}/mail/%u
        passdb {
          driver = passwd-file
          args = scheme=PLAIN username_format=%u {{Root}}/accounts
        }
        userdb {
          driver = static
          args = uid={{MailUser}} gid={{MailUser}} home={{Root}}/mail/%u
        }
        service imap-login {
          inet_listener imap {
            port = {{ports.Imap}}
          }
          inet_listener imaps {
            port = 0
          }
        }
        # Where Postfix asks whether a login is right.
        service auth {
          inet_listener {
            address = 127.0.0.1
            port = {{ports.Logins}}
          }
        }

        """;

    private string PostfixMain(MailboxPorts ports) => $$"""
        compatibility_level = 3.6
        queue_directory = {{Root}}/spool
        data_directory = {{Data}}
        command_directory = /usr/sbin
        daemon_directory = /usr/lib/postfix/sbin
        mail_owner = postfix
        setgid_group = postdrop
        maillog_file = {{Root}}/postfix.log
        maillog_file_prefixes = {{Root}}
        myhostname = localhost
        mydestination =
        mynetworks =
        inet_interfaces = 127.0.0.1
        inet_protocols = ipv4
        alias_maps =
        alias_database =
        virtual_mailbox_domains = example.org
        virtual_mailbox_base = {{Root}}/mail
        virtual_mailbox_maps = inline:{ {{string.Join(", ", Accounts.Select(account => $"{{ {account.Address} = {account.Address}/ }}"))}} }
        virtual_uid_maps = static:{{MailUser}}
        virtual_gid_maps = static:{{MailUser}}
        virtual_minimum_uid = {{MailUser}}
        smtpd_peername_lookup = no
        smtpd_error_sleep_time = 0
        smtpd_tls_security_level = encrypt
        smtpd_tls_auth_only = yes
        smtpd_tls_cert_file = {{Certificate}}
        smtpd_tls_key_file = {{Root}}/key.pem
        smtpd_sasl_auth_enable = yes
        smtpd_sasl_type = dovecot
        smtpd_sasl_path = inet:127.0.0.1:{{ports.Logins}}
        smtpd_sender_login_maps = inline:{ { garden@example.org = garden@example.org } }
        smtpd_sender_restrictions = reject_sender_login_mismatch
        smtpd_relay_restrictions = permit_sasl_authenticated, reject
        smtpd_recipient_restrictions = permit_sasl_authenticated, reject

        """;

    private static string PostfixServices(MailboxPorts ports, int greylistPort) => $$"""
        127.0.0.1:{{ports.Submission}} inet n - n - - smtpd
        127.0.0.1:{{ports.SmallSubmission}} inet n - n - - smtpd -o message_size_limit=20000
        127.0.0.1:{{ports.GreySubmission}} inet n - n - - smtpd -o smtpd_recipient_restrictions=check_policy_service,inet:127.0.0.1:{{greylistPort}},permit_sasl_authenticated,reject
        pickup unix n - n 60 1 pickup
        cleanup unix n - n - 0 cleanup
        qmgr unix n - n 300 1 qmgr
        tlsmgr unix - - n 1000? 1 tlsmgr
        rewrite unix - - n - - trivial-rewrite
        bounce unix - - n - 0 bounce
        defer unix - - n - 0 bounce
        error unix - - n - - error
        virtual unix - n n - - virtual
        anvil unix - - n - 1 anvil
        proxymap unix - - n - - proxymap
        postlog unix-dgram n - n - 1 postlogd

        """;
}
