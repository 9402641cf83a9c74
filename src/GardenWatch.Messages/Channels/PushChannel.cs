using System.Globalization;
using System.Net.Http.Headers;
using System.Text;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Messages.Channels;

/// <summary>A push server that takes a POST with the text as its body and the rest in headers.</summary>
public sealed record PushOptions(Uri Address)
{
    public string? Token { get; init; }
    /// <summary>What a tap on the message opens.</summary>
    public Uri? Link { get; init; }
    /// <summary>Lets the token go over another machine's wire in clear.</summary>
    public bool Insecure { get; init; }

    public IEnumerable<string> Faults()
    {
        if (Token is not null && Address.Scheme == Uri.UriSchemeHttp && !Insecure && !ClearLine.StaysHere(Address.Host))
            yield return $"push: the token would go to {Address.Host} in clear; write an https address. (insecure: yes allows it on a network that is all yours.)";
        if (Token is not null && Token.Any(c => c <= ' ' || c > '~'))
            yield return "push: the token holds blanks or other than plain letters, figures and signs; look into the token file.";
    }
}

/// <summary>The digest as a few lines on a telephone; a warning in high priority.</summary>
/// <remarks>Rendered as header lines, an empty line, and the text: what is stored shows what will be sent.</remarks>
public sealed class PushChannel(PushOptions options, HttpHandover http) : IChannel
{
    public const int MostBytes = 1024;
    public const int MostJobs = 5;

    private static readonly string[] Headers = ["Title", "Priority", "Tags", "Click"];

    public string Word => ChannelWords.Push;

    public byte[] Render(ChannelNote note)
    {
        var told = note.Jobs.Where(job => job.Standing == Standing.Now).ToList();
        for (int lines = Math.Min(MostJobs, told.Count); ; lines--)
        {
            byte[] bytes = Encoding.UTF8.GetBytes(Written(note, told, lines));
            if (bytes.Length < MostBytes || lines == 0)
                return bytes;
        }
    }

    public async Task<SendOutcome> Send(ReadOnlyMemory<byte> rendered, string messageId, CancellationToken cancellationToken)
    {
        string text = Encoding.UTF8.GetString(rendered.Span);
        int body = text.IndexOf("\n\n", StringComparison.Ordinal);
        if (body < 0)
            return new SendOutcome.Refused("What is stored of this push message is damaged.");
        using var request = new HttpRequestMessage(HttpMethod.Post, options.Address);
        request.Content = new WatchedContent(Encoding.UTF8.GetBytes(text[(body + 2)..]), "text/plain");
        foreach (string line in text[..body].Split('\n'))
        {
            int colon = line.IndexOf(':', StringComparison.Ordinal);
            if (colon > 0 && Headers.Contains(line[..colon]))
                request.Headers.Add(line[..colon], InHeader(line[(colon + 2)..]));
        }
        request.Headers.Add("Idempotency-Key", messageId);
        if (options.Token is { } token)
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return await http.Send(request, "push server", "token file", cancellationToken).ConfigureAwait(false);
    }

    private string Written(ChannelNote note, List<NotedJob> jobs, int lines)
    {
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"Title: {Short(note.Subject, 90)}\nPriority: {(note.Urgent ? "high" : "default")}\n");
        text.Append(CultureInfo.InvariantCulture, $"Tags: {(note.Urgent ? "warning" : "seedling")}\n");
        // Without its link a message still says what is to be done; too long a one would cost the job lines.
        if (options.Link is { AbsoluteUri.Length: <= 300 } link)
            text.Append(CultureInfo.InvariantCulture, $"Click: {link.AbsoluteUri}\n");
        text.Append('\n').Append(Short(note.Headline, 120));
        foreach (var job in jobs.Take(lines))
        {
            string bed = job.Bed is null ? "" : $" ({job.Bed})";
            string when = job.When is null ? "" : $", {Spaced(job.When)}";
            text.Append(CultureInfo.InvariantCulture, $"\n{job.Number} {Words.FirstUpper(job.Name)}{bed}{when}");
        }
        if (jobs.Count > lines && lines > 0)
            text.Append('\n').Append(note.Tongue.Say($"and {jobs.Count - lines} more"));
        return text.ToString();
    }

    /// <summary>By bytes as well: a visible character may be many.</summary>
    private static string Short(string text, int most)
    {
        string plain = Plain.OneLine(Spaced(text), most);
        while (Encoding.UTF8.GetByteCount(plain) > 2 * most)
            plain = Plain.Cut(plain, Math.Max(1, Plain.Width(plain) / 2));
        return plain;
    }

    private static string Spaced(string text) => text.Replace('\u00A0', ' ').Replace('\u202F', ' ');

    /// <summary>Headers are ASCII (RFC 9110, 5.5); other letters are written as RFC 2047 has them, which push servers read.</summary>
    private static string InHeader(string text) => text.All(c => c is >= ' ' and <= '~')
        ? text
        : $"=?UTF-8?B?{Convert.ToBase64String(Encoding.UTF8.GetBytes(text))}?=";
}
