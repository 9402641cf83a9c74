using System.Text;
using MimeKit;

namespace GardenWatch.Messages.Mail;

/// <summary>
/// Words of people in a header: folded at 78, and as encoded words (RFC 2047) where they are not plain. The mail library's own come out longer
/// than the 75 that are allowed when a name has no spaces or few Latin letters.
/// </summary>
internal static class HeaderText
{
    private const int MostOfLine = 76;
    private const int MostOfWord = 75;
    private const string Begins = "=?utf-8?";

    public static void Set(Header header, string text) => SetRaw(header, Unstructured(header.Field, text));

    public static void Set(Header header, MailboxAddress mailbox) => SetRaw(header, Mailbox(header.Field, mailbox));

    /// <summary>What stands after the colon, folded.</summary>
    private static string Unstructured(string field, string text) =>
        IsPlain(text) && text.Split(' ').All(word => word.Length <= MostOfLine - 1) ? Folded(field, text) : Encoded(field, text);

    /// <summary>"Quarry Lane" &lt;garden@example.org&gt;</summary>
    private static string Mailbox(string field, MailboxAddress mailbox)
    {
        string address = $"<{mailbox.GetAddress(idnEncode: true)}>";
        string name = mailbox.Name ?? "";
        if (name.Length == 0)
            return " " + address[1..^1];
        string quoted = $"\"{name.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
        string phrase = IsPlain(name) && field.Length + 2 + quoted.Length <= MostOfLine ? " " + quoted : Encoded(field, name);
        int lineSoFar = phrase.LastIndexOf('\n') is var at and >= 0 ? phrase.Length - at : field.Length + 1 + phrase.Length;
        return phrase + (lineSoFar + 1 + address.Length <= MostOfLine ? " " : "\r\n ") + address;
    }

    private static bool IsPlain(string text) =>
        text.All(c => c is >= ' ' and <= '~') && !text.Contains("=?", StringComparison.Ordinal) && text.Trim() == text;

    private static string Folded(string field, string text)
    {
        var folded = new StringBuilder();
        int column = field.Length + 1;
        foreach (string word in text.Split(' '))
        {
            // A line of nothing but spaces would end the header for some readers, so runs of them stay on one.
            bool folds = column + 1 + word.Length > MostOfLine && word.Length > 0;
            folded.Append(folds ? "\r\n " : " ").Append(word);
            column = (folds ? 1 : column + 1) + word.Length;
        }
        return folded.ToString();
    }

    /// <summary>One encoded word to a line, none of which splits a character.</summary>
    private static string Encoded(string field, string text)
    {
        bool quoted = Encoding.UTF8.GetBytes(text).Sum(b => IsSafe(b) ? 1 : 3) <= (Encoding.UTF8.GetByteCount(text) + 2) / 3 * 4;
        var lines = new StringBuilder();
        var word = new List<byte>();
        int room = MostOfLine - field.Length - 2;
        foreach (var rune in text.EnumerateRunes())
        {
            byte[] bytes = Encoding.UTF8.GetBytes(rune.ToString());
            if (word.Count > 0 && Written([.. word, .. bytes], quoted).Length > Math.Min(room, MostOfWord))
            {
                Take();
                room = MostOfWord;
            }
            word.AddRange(bytes);
        }
        Take();
        return lines.ToString();

        void Take()
        {
            lines.Append(lines.Length > 0 ? "\r\n " : " ").Append(Written([.. word], quoted));
            word.Clear();
        }
    }

    private static string Written(byte[] bytes, bool quoted) => quoted
        ? $"{Begins}q?{string.Concat(bytes.Select(b => b == ' ' ? "_" : IsSafe(b) ? ((char)b).ToString() : $"={b:X2}"))}?="
        : $"{Begins}b?{Convert.ToBase64String(bytes)}?=";

    /// <summary>RFC 2047, 5 (3): what may stand plain in a name before an address, which is the strictest place.</summary>
    private static bool IsSafe(byte b) => b == ' ' || char.IsAsciiLetterOrDigit((char)b) || b is (byte)'!' or (byte)'*' or (byte)'+' or (byte)'-' or (byte)'/';

    /// <summary>UTF-8 for an address whose left part is not of Latin letters, which only servers that know RFC 6531 take; all else is seven bits.</summary>
    private static void SetRaw(Header header, string folded) => header.SetRawValue(Encoding.UTF8.GetBytes(folded + "\r\n"));
}
