using System.Text.RegularExpressions;
using YamlDotNet.Core;

namespace GardenWatch.Planning.Plans;

/// <summary>YAML's own complaints, in a gardener's words and at the place to mend.</summary>
internal static partial class YamlTrouble
{
    public static FileFault Of(YamlException exception, string text, string file)
    {
        string[] lines = text.Split('\n');
        int line = Math.Clamp((int)exception.Start.Line, 1, lines.Length);
        int column = Math.Max((int)exception.Start.Column, 1);
        string message = exception.Message;
        string written = lines[line - 1].TrimEnd('\r');

        if (message.Contains("tab", StringComparison.Ordinal) && TabNear(lines, line) is { } tab)
            return new(file, tab.Line, tab.Column, "there is a tab at the beginning of the line", "indent with spaces");
        if (message.Contains("invalid mapping", StringComparison.Ordinal))
            return Colon(file, line, column, written, lines);
        if (message.Contains("quoted scalar", StringComparison.Ordinal) && message.Contains("expected", StringComparison.Ordinal) && !message.Contains("end of stream", StringComparison.Ordinal))
            return new(file, line, column, "a backslash in double quotes has a meaning of its own", "use single quotes here");
        if (message.Contains("quoted scalar", StringComparison.Ordinal))
            return new(file, line, column, "the quote that begins here is never closed", "add the closing quote, or double an apostrophe inside single quotes");
        if (message.Contains("',' or", StringComparison.Ordinal))
        {
            return written.Contains('{', StringComparison.Ordinal) && message.Contains("sequence", StringComparison.Ordinal)
                ? new(file, line, column, "inside [ ] a phrase with { } is not read as one text", "put the phrase in quotes, or give each phrase its own line beginning with `- `")
                : NeverClosed(text, file, new(file, line, column));
        }
        if (message.Contains("cannot start", StringComparison.Ordinal))
            return new(file, line, column, $"a text can't begin with `{LetterAt(written, column)}`", "put it in quotes");
        if (message.Contains("'-' indicator", StringComparison.Ordinal) || message.Contains("expected key", StringComparison.Ordinal))
            return Misplaced(file, line, column, written);
        if (message.Contains("node content", StringComparison.Ordinal))
            return new(file, line, column, $"`{LetterAt(written, column)}` is not expected here", "take it out, or put the text in quotes");
        return NeverClosed(text, file, new(file, line, column));
    }

    /// <summary>An exclamation mark that begins a value names a type, which a plan never needs.</summary>
    public static FileFault OddTag(string text, string file)
    {
        for (int i = 0; i < text.Length; i++)
            if (text[i] == '!' && (i == 0 || char.IsWhiteSpace(text[i - 1]) || text[i - 1] is '{' or '[' or ','))
                return Fault(text, file, i, "a text can't begin with `!`", "put it in quotes");
        return Fault(text, file, 0, "there is an odd `!` in this file", "put the text in quotes");
    }

    /// <summary>The first bracket without its partner, outside quotes and comments; else what is wrong is not known closer than <paramref name="otherwise"/>.</summary>
    public static FileFault NeverClosed(string text, string file, Spot? otherwise = null)
    {
        var open = new Stack<(char Bracket, int Index)>();
        char quote = '\0';
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            char before = i == 0 ? '\n' : text[i - 1];
            bool atStart = char.IsWhiteSpace(before) || before is '{' or '[' or ',' or ':';
            if (quote != '\0')
                quote = c == quote ? '\0' : quote;
            else if (c is '"' or '\'' && atStart)
                quote = c;
            else if (c == '#' && char.IsWhiteSpace(before))
                i = text.IndexOf('\n', i) is var end && end < 0 ? text.Length : end;
            else if (c is '{' or '[' && (atStart || open.Count > 0))
                open.Push((c, i));
            else if (c is '}' or ']' && open.TryPop(out var partner) && (partner.Bracket == '{') != (c == '}'))
                return Fault(text, file, i, $"`{c}` closes a `{partner.Bracket}`", "make the two brackets a pair");
        }
        if (open.TryPop(out var last))
            return Fault(text, file, last.Index, $"the `{last.Bracket}` that begins here is never closed", $"add the `{(last.Bracket == '{' ? '}' : ']')}`");
        return new(file, otherwise?.Line ?? 1, otherwise?.Column ?? 1, "from here the file can't be read", "look at brackets, quotes and indentation of this line and the one before");
    }

    private static FileFault Fault(string text, string file, int index, string problem, string instead)
    {
        var (line, column) = YamlPage.PlaceOf(text, index);
        return new(file, line, column, problem, instead);
    }

    private static FileFault Colon(string file, int line, int column, string written, string[] lines)
    {
        var pair = KeyAndValue().Match(written);
        if (pair.Success && pair.Groups["value"].Value.Contains(": ", StringComparison.Ordinal))
            return new(file, line, column, "there is a second colon in the value", $"put the value in quotes: `{pair.Groups["key"].Value}: \"{pair.Groups["value"].Value}\"`");
        string above = line >= 2 ? lines[line - 2].TrimEnd('\r').Trim() : "";
        return new(file, line, Indent(written), $"this line is indented deeper than the one above (`{Cut(above)}`)", "begin both in the same column");
    }

    private static FileFault Misplaced(string file, int line, int column, string written)
    {
        string bare = written.Trim();
        if (DashWithoutSpace().IsMatch(bare))
            return new(file, line, Indent(written), $"the dash of a list needs a space after it: `{Cut(bare)}`", $"`- {Cut(bare[1..])}`");
        if (column <= written.Length && written[column - 1] is '}' or ']')
            return new(file, line, column, $"there is a `{written[column - 1]}` too many", "take it out");
        if (!bare.Contains(':', StringComparison.Ordinal) && bare.Length > 0)
            return new(file, line, Indent(written), $"`{Cut(bare)}` has no colon and belongs to nothing", "write `key: value`, or begin a remark with `#`");
        return new(file, line, Indent(written), $"`{Cut(bare)}` is indented differently from the lines it belongs to", "begin lines of one list or one entry in the same column");
    }

    private static (int Line, int Column)? TabNear(string[] lines, int line)
    {
        for (int i = line; i <= Math.Min(line + 1, lines.Length); i++)
        {
            string written = lines[i - 1];
            int blank = written.Length - written.TrimStart().Length;
            int tab = written.IndexOf('\t', StringComparison.Ordinal);
            if (tab >= 0 && tab < blank)
                return (i, tab + 1);
        }
        return null;
    }

    private static char LetterAt(string written, int column) => column <= written.Length ? written[column - 1] : ' ';

    private static int Indent(string written) => written.Length - written.TrimStart().Length + 1;

    private static string Cut(string text) => text.Length > 40 ? text[..40] + "…" : text;

    [GeneratedRegex(@"^\s*(?:- +)?(?<key>[^:]+): +(?<value>[^'""{\[].*)$", RegexOptions.CultureInvariant)]
    private static partial Regex KeyAndValue();

    [GeneratedRegex(@"^-[^\s-]", RegexOptions.CultureInvariant)]
    private static partial Regex DashWithoutSpace();
}
