using System.Net.Security;
using System.Net.Sockets;
using System.Security.Authentication;
using System.Text;
using NodaTime;

namespace GardenWatch.Peers.Smtp;

/// <summary>One client's visit: RFC 5321 with STARTTLS (3207), AUTH (4954), SIZE (1870) and 8BITMIME (6152).</summary>
internal sealed class SmtpConversation(ScriptedSmtpServer server, TcpClient client, SmtpFault fault)
{
    private Stream _stream = client.GetStream();
    private bool _overTls;
    private string? _user;
    private string? _from;
    private readonly List<string> _to = [];

    public async Task Run(CancellationToken stop)
    {
        using (client)
        {
            try
            {
                await Talk(stop).ConfigureAwait(false);
            }
            catch (Exception left) when (left is IOException or SocketException or AuthenticationException
                or OperationCanceledException or ObjectDisposedException)
            {
                // The client went, or the test is over.
            }
            finally
            {
                await _stream.DisposeAsync().ConfigureAwait(false);
            }
        }
    }

    private async Task Talk(CancellationToken stop)
    {
        if (fault == SmtpFault.CutAtOnce)
        {
            Cut();
            return;
        }
        if (server.Settings.TlsFromTheStart)
            await GoOverToTls(stop).ConfigureAwait(false);
        if (fault == SmtpFault.StallAtOnce)
            await server.Released.WaitAsync(stop).ConfigureAwait(false);
        string greeting = Own("GREETING") ?? fault switch
        {
            SmtpFault.BusyGreeting => "421 4.3.2 too busy, come back later",
            SmtpFault.BarredGreeting => "554 5.7.1 no mail from your address",
            _ => "220 localhost ESMTP",
        };
        await Say(greeting, stop).ConfigureAwait(false);
        if (!greeting.StartsWith("220", StringComparison.Ordinal))
            return;
        while (await ReadLine(stop).ConfigureAwait(false) is { } line)
        {
            if (!await Answer(line, stop).ConfigureAwait(false))
                return;
        }
    }

    /// <returns>False when the conversation is over.</returns>
    private async Task<bool> Answer(string line, CancellationToken stop)
    {
        string verb = line.Split(' ', ':')[0].ToUpperInvariant();
        switch (verb)
        {
            case "EHLO":
                await Say(Offers(), stop).ConfigureAwait(false);
                return true;
            case "HELO":
                await Say("250 localhost", stop).ConfigureAwait(false);
                return true;
            case "STARTTLS" when !_overTls && fault != SmtpFault.NoStartTls:
                await Say("220 2.0.0 go ahead", stop).ConfigureAwait(false);
                await GoOverToTls(stop).ConfigureAwait(false);
                return true;
            case "AUTH":
                await LogIn(line, stop).ConfigureAwait(false);
                return true;
            case "MAIL":
                await Mail(line, stop).ConfigureAwait(false);
                return true;
            case "RCPT":
                await Rcpt(line, stop).ConfigureAwait(false);
                return true;
            case "DATA":
                return await Data(stop).ConfigureAwait(false);
            case "RSET":
                Forget();
                await Say("250 2.0.0 ok", stop).ConfigureAwait(false);
                return true;
            case "NOOP":
                await Say("250 2.0.0 ok", stop).ConfigureAwait(false);
                return true;
            case "QUIT":
                await Say("221 2.0.0 bye", stop).ConfigureAwait(false);
                return false;
            default:
                await Say("500 5.5.2 unknown command", stop).ConfigureAwait(false);
                return true;
        }
    }

    private string Offers()
    {
        var offers = new List<string> { "localhost", "8BITMIME", $"SIZE {server.Settings.MostBytes}", "ENHANCEDSTATUSCODES" };
        if (!_overTls && fault != SmtpFault.NoStartTls)
            offers.Add("STARTTLS");
        offers.Add("AUTH PLAIN LOGIN");
        return string.Join("\r\n", offers.Select((offer, i) => (i == offers.Count - 1 ? "250 " : "250-") + offer));
    }

    private async Task LogIn(string line, CancellationToken stop)
    {
        var words = line.Split(' ');
        string user, password;
        if (words.Length > 1 && words[1].Equals("PLAIN", StringComparison.OrdinalIgnoreCase))
        {
            string initial = words.Length > 2 ? words[2] : await Ask("", stop).ConfigureAwait(false);
            var parts = Decoded(initial).Split('\0');
            (user, password) = parts.Length == 3 ? (parts[1], parts[2]) : ("", "");
        }
        else if (words.Length > 1 && words[1].Equals("LOGIN", StringComparison.OrdinalIgnoreCase))
        {
            user = Decoded(words.Length > 2 ? words[2] : await Ask("VXNlcm5hbWU6", stop).ConfigureAwait(false));
            password = Decoded(await Ask("UGFzc3dvcmQ6", stop).ConfigureAwait(false));
        }
        else
        {
            await Say("504 5.5.4 unknown mechanism", stop).ConfigureAwait(false);
            return;
        }
        bool known = fault != SmtpFault.LoginRefused && (server.Settings.Login is not { } login || login == (user, password));
        if (known)
            _user = user;
        string? own = Own("AUTH");
        if (own is not null)
            _user = null;
        await Say(own ?? (known ? "235 2.7.0 welcome" : $"535 5.7.8 bad login for {user}"), stop).ConfigureAwait(false);
    }

    private async Task Mail(string line, CancellationToken stop)
    {
        string reply = Own("MAIL") ?? fault switch
        {
            _ when server.Settings.DemandsTls && !_overTls => "530 5.7.0 Must issue a STARTTLS command first",
            SmtpFault.MailPutOff => "451 4.3.0 try again later",
            SmtpFault.MailRefused => "550 5.7.1 sender not allowed",
            _ when server.Settings.Login is not null && _user is null => "530 5.7.0 log in first",
            _ => "250 2.1.0 ok",
        };
        if (reply[0] == '2')
            _from = AddressIn(line);
        await Say(reply, stop).ConfigureAwait(false);
    }

    private async Task Rcpt(string line, CancellationToken stop)
    {
        string reply = Own("RCPT") ?? fault switch
        {
            SmtpFault.RcptPutOff => "450 4.2.1 mailbox busy",
            SmtpFault.RcptRefused => $"550 5.1.1 <{AddressIn(line)}> unknown here",
            _ when _from is null => "503 5.5.1 MAIL first",
            _ => "250 2.1.5 ok",
        };
        if (reply[0] == '2')
            _to.Add(AddressIn(line));
        await Say(reply, stop).ConfigureAwait(false);
    }

    private async Task<bool> Data(CancellationToken stop)
    {
        if (fault == SmtpFault.DropBeforeData)
        {
            Cut();
            return false;
        }
        string? refusal = Own("DATA") ?? fault switch
        {
            SmtpFault.DataPutOff => "451 4.3.0 try again later",
            SmtpFault.DataRefused => "554 5.3.4 no valid recipients",
            _ when _to.Count == 0 => "503 5.5.1 RCPT first",
            _ => null,
        };
        if (refusal is not null)
        {
            await Say(refusal, stop).ConfigureAwait(false);
            return true;
        }
        await Say("354 go on", stop).ConfigureAwait(false);
        if (await ReadBody(stop).ConfigureAwait(false) is not { } body)
            return false;
        return await AfterDot(body, stop).ConfigureAwait(false);
    }

    private async Task<bool> AfterDot(byte[] body, CancellationToken stop)
    {
        string? refusal = Own("DOT") ?? fault switch
        {
            SmtpFault.DotPutOff => "451 4.7.1 greylisted, try again later",
            SmtpFault.DotRefused => "554 5.7.1 content refused",
            _ when body.Length > server.Settings.MostBytes => "552 5.3.4 too big",
            _ => null,
        };
        if (refusal is null)
        {
            var at = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
            server.Keep(new(_from ?? "", [.. _to], [.. body], at, _overTls, _user));
        }
        Forget();
        if (fault == SmtpFault.DropAfterDot)
        {
            Cut();
            return false;
        }
        if (fault == SmtpFault.HangAfterDot)
            await server.Released.WaitAsync(stop).ConfigureAwait(false);
        await Say(refusal ?? $"250 2.0.0 kept as {server.Kept.Count}", stop).ConfigureAwait(false);
        if (fault == SmtpFault.DropBeforeQuit)
            Cut();
        return fault != SmtpFault.DropBeforeQuit;
    }

    /// <summary>The test's own answer, its lines numbered alike: "550-5.7.1 no" and "550 5.7.1 relaying".</summary>
    private string? Own(string to)
    {
        if (!server.Settings.Answers.TryGetValue(to, out string? answer))
            return null;
        string code = answer[..3];
        string[] lines = [.. answer[4..].Split('\n')];
        return string.Join("\r\n", lines.Select((line, i) => $"{code}{(i == lines.Length - 1 ? ' ' : '-')}{line}"));
    }

    private void Forget()
    {
        _from = null;
        _to.Clear();
    }

    private async Task GoOverToTls(CancellationToken stop)
    {
        var tls = new SslStream(_stream);
        await tls.AuthenticateAsServerAsync(new SslServerAuthenticationOptions
        {
            ServerCertificate = fault switch
            {
                SmtpFault.BadCertificate => server.OtherCertificate,
                SmtpFault.ExpiredCertificate => server.ExpiredCertificate,
                _ => server.Certificate,
            },
        }, stop).ConfigureAwait(false);
        _stream = tls;
        _overTls = true;
    }

    private async Task<byte[]?> ReadBody(CancellationToken stop)
    {
        using var body = new MemoryStream();
        while (await ReadRawLine(stop).ConfigureAwait(false) is { } line)
        {
            if (line is [(byte)'.'])
                return body.ToArray();
            body.Write(line is [(byte)'.', ..] ? line.AsSpan(1) : line);
            body.Write("\r\n"u8);
        }
        return null;
    }

    private async Task<string> Ask(string challenge, CancellationToken stop)
    {
        await Say("334 " + challenge, stop).ConfigureAwait(false);
        return await ReadLine(stop).ConfigureAwait(false) ?? "";
    }

    private async Task Say(string reply, CancellationToken stop)
    {
        await _stream.WriteAsync(Encoding.UTF8.GetBytes(reply + "\r\n"), stop).ConfigureAwait(false);
        await _stream.FlushAsync(stop).ConfigureAwait(false);
    }

    private async Task<string?> ReadLine(CancellationToken stop) =>
        await ReadRawLine(stop).ConfigureAwait(false) is { } line ? Encoding.UTF8.GetString(line) : null;

    /// <summary>Byte by byte: nothing of a TLS hello may be swallowed with the line before it.</summary>
    private async Task<byte[]?> ReadRawLine(CancellationToken stop)
    {
        var line = new List<byte>();
        var one = new byte[1];
        while (await _stream.ReadAsync(one, stop).ConfigureAwait(false) == 1)
        {
            if (one[0] != '\n')
            {
                line.Add(one[0]);
                continue;
            }
            if (line is [.., (byte)'\r'])
                line.RemoveAt(line.Count - 1);
            if (!_overTls)
                server.Hear(Encoding.UTF8.GetString([.. line]));
            return [.. line];
        }
        return null;
    }

    /// <summary>A reset, as when a machine dies: what was not yet read is lost as well.</summary>
    private void Cut() => client.Client.Close(0);

    private static string AddressIn(string line)
    {
        int open = line.IndexOf('<', StringComparison.Ordinal), close = line.IndexOf('>', StringComparison.Ordinal);
        return open >= 0 && close > open ? line[(open + 1)..close] : "";
    }

    private static string Decoded(string base64)
    {
        try
        {
            return Encoding.UTF8.GetString(Convert.FromBase64String(base64));
        }
        catch (FormatException)
        {
            return "";
        }
    }
}
