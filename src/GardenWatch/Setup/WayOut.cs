using System.Text;
using GardenWatch.Messages;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Setup;

/// <summary>By which messages shall leave, as a new gardener tells it; the settings do not know it yet.</summary>
public abstract record WayOut
{
    private WayOut() { }

    /// <summary>What only its own file may hold; null when there is none.</summary>
    public abstract string? Secret { get; }

    /// <summary>How that file is usually called, and what the unit in deploy/ knows the mail's by.</summary>
    public abstract string SecretName { get; }

    /// <summary>The lines of the settings file.</summary>
    /// <param name="secretFile">The file's name; null when there is no secret.</param>
    public abstract string Section(string? secretFile);

    /// <param name="User">Null for a server that asks for no password.</param>
    public sealed record ByMail(MailServerSaid Server, string? User, string? Password, string From) : WayOut
    {
        public override string? Secret => Password;

        public override string SecretName => "mail-password";

        public override string Section(string? secretFile) => $"""
            # The way out for messages.
            mail:
              host: {Server.Host}
              port: {Server.Port ?? (Server.Security == "none" ? 25 : 587)}
              # starttls (587) begins in clear and must turn to encryption, tls (465) is encrypted from the first byte, none is for this machine.
              security: {Server.Security}

            """
            + (User is null ? "" : $"  user: {YamlValue.Of(User)}\n")
            + (secretFile is null ? "" : $"  # A file beside this one that holds the password alone, so that this one can be shown and backed up.\n  password file: {secretFile}\n")
            + $"  # An address that the server lets you send from.\n  from: {YamlValue.Of(From)}\n";

        protected override bool PrintMembers(StringBuilder builder) => Masked.Print(builder, ("server", Server.Host), ("user", User ?? "none"), ("password", Masked.Of(Password)));
    }

    public sealed record ByPush(Uri Address, string? Token) : WayOut
    {
        public override string? Secret => Token;

        public override string SecretName => "push-token";

        public override string Section(string? secretFile) => $"""
            # The way out for messages: a push. Who knows the topic can read along.
            push:
              address: {YamlValue.Of(Address.AbsoluteUri)}

            """
            + (secretFile is null ? "" : $"  # A file beside this one that holds the server's access token alone.\n  token file: {secretFile}\n");

        protected override bool PrintMembers(StringBuilder builder) => Masked.Print(builder, ("address", Address.Host), ("token", Masked.Of(Token)));
    }
}
