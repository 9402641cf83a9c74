using System.Text;
using System.Text.Json;
using System.Text.Unicode;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>
/// First look at a body, before anything is read out of it. The service answers 200 before it has read its data, so a
/// "good" answer may be, or may end in, the text of a fault; its front may answer with a web page.
/// </summary>
internal static class AnswerText
{
    private static ReadOnlySpan<byte> StreamedFault => "Unexpected error while streaming data"u8;

    /// <summary>Null when the body is one whole JSON object without an error in it.</summary>
    public static string? FaultOf(ReadOnlySpan<byte> body)
    {
        var text = body.Trim(" \t\r\n"u8);
        if (text.IsEmpty)
            return "it sent an empty answer";
        if (text.IndexOf(StreamedFault) is var at and >= 0)
            return $"it broke off in the middle of its answer ({Quoted(text[at..])})";
        if (text[0] == (byte)'<')
            return "it sent a web page in place of weather";
        if (text[0] == (byte)'[')
            return "it answered for several places, and one was asked";
        if (text[0] != (byte)'{' || !Utf8.IsValid(text))
            return $"it sent text in place of weather ({Quoted(text)})";
        try
        {
            return ErrorIn(text) is { } error ? $"it reported an error ({error})" : null;
        }
        catch (JsonException)
        {
            return "its answer is cut off or damaged";
        }
        catch (InvalidOperationException)
        {
            // Half of a surrogate pair, escaped: well-formed JSON that is no text.
            return "its answer is damaged";
        }
    }

    /// <summary>The reason in an error answer; null when the body is none.</summary>
    public static string? ReasonOf(ReadOnlySpan<byte> body)
    {
        var text = body.Trim(" \t\r\n"u8);
        if (text.IsEmpty || text[0] != (byte)'{' || !Utf8.IsValid(text))
            return null;
        try
        {
            return ErrorIn(text);
        }
        catch (Exception e) when (e is JsonException or InvalidOperationException)
        {
            return null;
        }
    }

    /// <summary>Another's words as they may stand in a message: short, on one line, without control signs.</summary>
    public static string Quoted(ReadOnlySpan<byte> text)
    {
        string plain = Encoding.UTF8.GetString(text[..Math.Min(text.Length, 400)]);
        return Quoted(plain);
    }

    public static string Quoted(string text)
    {
        var kept = new StringBuilder();
        foreach (char c in text)
        {
            if (kept.Length == 160)
                return kept.Append('…').ToString();
            kept.Append(char.IsControl(c) || char.IsSurrogate(c) || c == '\uFFFD' ? ' ' : c);
        }
        return kept.ToString().Trim();
    }

    /// <summary>Reads to the very end, so that a cut or a tail of text throws; the two keys come in either order.</summary>
    private static string? ErrorIn(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json);
        bool error = false;
        string reason = "no reason given";
        while (reader.Read())
        {
            if (reader.CurrentDepth != 1 || reader.TokenType != JsonTokenType.PropertyName)
                continue;
            if (reader.ValueTextEquals("error"u8))
            {
                reader.Read();
                error |= reader.TokenType is not (JsonTokenType.False or JsonTokenType.Null);
            }
            else if (reader.ValueTextEquals("reason"u8))
            {
                reader.Read();
                if (reader.TokenType == JsonTokenType.String)
                    reason = Quoted(reader.GetString()!);
            }
        }
        return error ? reason : null;
    }
}
