using System.Text;
using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Tests.Tongues;

/// <summary>Reads the templates off the program's source: what stands in calls of Say, Word, Filled, Many and Counted.</summary>
internal static partial class SourcePhrases
{
    // Whatever these hold is for who looks after the service, and stays English.
    private static readonly string[] EnglishOnly = ["Explanations", "Plans"];

    public static SortedSet<string> Of(IEnumerable<string> files)
    {
        var lines = new SortedSet<string>(StringComparer.Ordinal);
        foreach (string file in files.Where(file => !EnglishOnly.Any(folder => file.Split('/', '\\').Contains(folder))))
            Read(File.ReadAllText(file), lines);
        return lines;
    }

    private static void Read(string text, SortedSet<string> lines)
    {
        var constants = Constant().Matches(text).ToDictionary(match => match.Groups["name"].Value, match => Unescaped(match.Groups["value"].Value));
        foreach (Match call in Call().Matches(text))
        {
            int at = call.Index + call.Length;
            var arguments = Arguments(text, at);
            switch (call.Groups["name"].Value)
            {
                case "Say" or "Word" or "Filled" when Literal(arguments[0]) is { } said:
                    lines.Add(Word(said));
                    break;
                case "Say" when constants.TryGetValue(arguments[0].Trim(), out string? named):
                    lines.Add(Word(named));
                    break;
                case "Many" when arguments.Count >= 3 && Literal(arguments[2]) is { } many:
                    lines.Add("#" + Word(many));
                    break;
                case "Counted" when arguments.Count == 2 && Literal(arguments[1]) is { } noun:
                    lines.Add("#" + Word("{0}\u00A0" + noun + "s"));
                    break;
            }
        }
    }

    private static string Word(string phrase) => "|" + phrase.Replace('\u00A0', '~') + "|";

    /// <summary>The arguments' text, split at commas that stand in no bracket and no string.</summary>
    private static List<string> Arguments(string text, int at)
    {
        var arguments = new List<string>();
        int depth = 0, from = at;
        for (int i = at; i < text.Length; i++)
        {
            if (text[i] == '"')
                i = EndOfString(text, i);
            else if (text[i] is '(' or '[' or '{')
                depth++;
            else if (depth == 0 && text[i] is ',' or ')' && depth == 0)
            {
                arguments.Add(text[from..i]);
                from = i + 1;
                if (text[i] == ')')
                    return arguments;
            }
            else if (text[i] is ')' or ']' or '}')
                depth--;
        }
        return arguments;
    }

    /// <summary>The closing quote of the string that opens at <paramref name="open"/>, holes and their own strings passed over.</summary>
    private static int EndOfString(string text, int open)
    {
        bool holes = open > 0 && text[open - 1] == '$';
        for (int i = open + 1; i < text.Length; i++)
        {
            if (text[i] == '\\')
                i++;
            else if (text[i] == '"')
                return i;
            else if (holes && text[i] == '{')
                i = EndOfHole(text, i);
        }
        return text.Length - 1;
    }

    private static int EndOfHole(string text, int open)
    {
        int depth = 0;
        for (int i = open; i < text.Length; i++)
        {
            if (text[i] == '"')
                i = EndOfString(text, i);
            else if (text[i] == '\'')
                i = text.IndexOf('\'', text[i + 1] == '\\' ? i + 3 : i + 2);
            else if (text[i] == '{')
                depth++;
            else if (text[i] == '}' && --depth == 0)
                return i;
        }
        return text.Length - 1;
    }

    /// <summary>The template of an argument that is one string; null for any other.</summary>
    private static string? Literal(string argument)
    {
        string said = argument.Trim();
        bool holes = said.StartsWith("$\"", StringComparison.Ordinal);
        int open = holes ? 1 : 0;
        if (said.Length < open + 2 || said[open] != '"' || EndOfString(said, open) != said.Length - 1)
            return null;
        if (!holes)
            return Unescaped(said[1..^1]);
        var template = new StringBuilder();
        int hole = 0;
        for (int i = open + 1; i < said.Length - 1; i++)
        {
            if (said[i] == '{')
            {
                template.Append('{').Append(hole++).Append('}');
                i = EndOfHole(said, i);
            }
            else
            {
                template.Append(said[i]);
            }
        }
        return Unescaped(template.ToString());
    }

    private static string Unescaped(string text) => text.Replace("\\u00A0", "\u00A0", StringComparison.Ordinal).Replace("\\\"", "\"", StringComparison.Ordinal);

    [GeneratedRegex(@"(?<![\w""])(?<!English\.)(?<name>Say|Word|Filled|Many|Counted)\(", RegexOptions.CultureInvariant)]
    private static partial Regex Call();

    [GeneratedRegex(@"const string (?<name>\w+) = ""(?<value>[^""]*)""", RegexOptions.CultureInvariant)]
    private static partial Regex Constant();
}
