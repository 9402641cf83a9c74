namespace GardenWatch.Messages.Mail;

/// <summary>
/// What a server's no means to a gardener and what to change. Codes after RFC 5321, 4954 and 3463 and the registry of enhanced status
/// codes; many providers use them loosely, so their usual words are looked at as well. The first row that fits counts.
/// </summary>
internal static class ReplyMeaning
{
    private sealed record Row(Func<ServerReply, bool> Fits, string Happened, string Remedy);

    /// <summary>"The server refused the login (535 5.7.8 ...). Many providers want ..."</summary>
    public static string Sentence(ServerReply reply)
    {
        var row = Rows.First(row => row.Fits(reply));
        return $"{row.Happened}{reply.Quoted}. {row.Remedy}".TrimEnd();
    }

    private const string OftenWhole = "The user is often the whole address.";

    private static readonly Row[] Rows =
    [
        new(r => r.Code is 530 or 538 or 554 && r.Says("starttls", "encryption", "secure connection", " tls"),
            "The server takes no mail in clear",
            "Set security: starttls with port 587, or security: tls with port 465."),
        new(r => IsLogin(r) && r.Says("basic authentication", "smtpclientauthentication", "smtp authentication is disabled", "authenticated smtp", "modern auth", "oauth", "disabled for the"),
            "This account may not send by a program with a password",
            "Look in the account's settings on the provider's website whether sending by SMTP can be switched on. Where the provider has ended that, use an account of another provider for the garden's mail."),
        new(r => IsLogin(r) && !SpeaksOfAppPassword(r) && (r.Is("5.7.14") || r.Says("web browser", "web login", "webmail", "verify your", "unusual", "suspicious", "locked", "suspended", "blocked")),
            "The provider holds this login back",
            "Sign in once on the provider's website with the same account and confirm what it asks; then run send-test again. If it is held back again, make an app password in the account's security settings."),
        new(r => r.IsPuttingOff && r.To is ReplyTo.Login || r.Code == 454 && !r.Says("tls") || IsLogin(r) && r.Says("too many", "rate limit", "temporar"),
            "The server takes no login at the moment",
            "Nothing to change if it passes by itself: too many logins in a short time often bring this about. If it stays, look for another program that tries an old password on this account."),
        new(r => r.Code == 534 || r.To is ReplyTo.Login && SpeaksOfAppPassword(r),
            "The server wants an app password",
            $"Make one in the account's security settings on the provider's website (two-step sign-in often has to be switched on first) and write it into the password file: it is not the one you log in with. {OftenWhole}"),
        new(r => r.To is ReplyTo.Login && r.Code != 530 || r.Code == 535,
            "The server refused the login",
            $"Many providers want an app password here, made in the account's security settings, not the one you log in with. Look for a slip or a space in the password file, too. {OftenWhole}"),
        new(r => r.Is("x.7.23", "x.7.24", "x.7.25", "x.7.26", "x.7.27", "x.7.29", "x.7.509") || r.Says("spf", "dmarc", "dkim", "ptr record", "reverse dns"),
            "The other side could not tell that mail with this sender may come from this server",
            "Use the outgoing server of the provider who keeps the address in mail from, and that account's login. With a domain of your own, its name records must name that server."),
        new(r => r.Code == 530 || r.Is("5.5.1") && r.Says("auth") || r.Says("authentication required", "authentication is required", "must authenticate", "log in first", "login first", "relay", "not authenticated"),
            "The server passes mail on only after a login, and only its own customers' mail",
            "Add user and password file under mail. If they are there, host is not the outgoing server of this account: your provider's help pages name it, with port and security."),
        new(r => !r.IsPuttingOff && (r.Is("5.7.60", "5.1.7", "5.1.8") || r.Says("not owned", "send as", "send on behalf", "sender address", "from address", "sender not", "not allowed to send", "sender verify", "envelope from", "invalid sender") || r.To is ReplyTo.Sender && !IsTooMuch(r) && !IsTooLarge(r) && !IsUnwanted(r)),
            "The server refused the sender",
            "Set mail from to the address of the account you log in with, or have the provider allow the other one as a second address of that account."),
        new(r => IsTooLarge(r),
            "The mail was too large for the other side",
            "A digest with pictures stays under 100 kilobytes, so its limit is set very low: raise it, or send from another account."),
        new(r => r.Is("x.2.2") || r.Says("mailbox full", "mailbox is full", "over quota", "overquota", "quota exceeded", "out of storage", "insufficient disk"),
            "The addressee's mailbox is full",
            "Make room in it; then the next try gets through."),
        new(r => r.IsPuttingOff && r.Says("greylist", "graylist", "grey list", "gray list", "come back later", "try again in"),
            "The server asks a sender it does not know yet to come again later",
            "Nothing to change: the next tries get through."),
        new(r => IsTooMuch(r),
            "The server's limit for sending is reached",
            "A digest a day does not reach it alone: look whether another program sends from this account. Many limits end after an hour, others after a day."),
        new(r => !r.IsPuttingOff && (r.Is("5.1.2", "5.4.4") || r.Says("domain not found", "host not found", "no mx", "domain does not exist", "bad destination")),
            "The part of the address behind the @ is not known",
            "Look for a slip in the address under digest to."),
        new(r => IsUnwanted(r) && r.To is ReplyTo.Connection,
            "The server takes no mail from this connection",
            "Many refuse mail that comes straight from a home. Set host to your provider's outgoing server, port 587 with security: starttls, and add user and password file."),
        new(r => !r.IsPuttingOff && r.To is ReplyTo.Addressee && !IsUnwanted(r),
            "The server refused the addressee",
            "Look for a slip in the address under digest to; some servers pass mail on only after a login."),
        new(r => r.IsPuttingOff && r.To is ReplyTo.Addressee,
            "The server does not take mail for this addressee at the moment",
            "Nothing to change if it passes by itself."),
        new(r => !r.IsPuttingOff && IsUnwanted(r),
            "The server took the mail for unwanted and refused it",
            "Put the address in mail from into the addressee's address book, and let mail from be the account's own address. If it stays so, ask the provider who refuses."),
        new(r => r.IsPuttingOff,
            "The server put the mail off",
            "Nothing to change if it passes by itself."),
        new(_ => true,
            "The server refused the mail",
            "Its own words say why; often it takes mail only from the account's own address."),
    ];

    private static bool IsLogin(ServerReply r) => r.To is ReplyTo.Login || r.Code is 534 or 535;

    private static bool SpeaksOfAppPassword(ServerReply r) =>
        r.Says("app password", "app-password", "application-specific", "application specific", "app-specific", "app specific", "authorization code", "device password");

    private static bool IsTooLarge(ServerReply r) =>
        r.Is("x.3.4") || r.Says("too large", "too big", "size limit", "maximum size", "message size", "exceeds fixed", "maximum message") || r.Code == 552 && !r.Is("x.2.2") && !r.Says("quota", "full");

    private static bool IsTooMuch(ServerReply r) =>
        r.Is("x.4.5", "4.7.28", "x.5.3", "4.7.0", "4.3.2") && r.Code != 530 && r.IsPuttingOff
        || r.Is("5.4.5", "5.7.27")
        || r.Says("rate limit", "too many", "limit exceeded", "exceeded the", "sending limit", "daily limit", "quota for sending", "throttl", "too fast", "too busy", "resources");

    private static bool IsUnwanted(ServerReply r) =>
        r.Says("spam", "blocked", "block list", "blocklist", "blacklist", "black list", "listed", "reputation", "unsolicited", "junk", "policy", "content", "dynamic ip", "residential", "no mail from", "virus")
        || r.Code == 554 && r.To is ReplyTo.Connection;
}
