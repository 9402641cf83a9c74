using System.Collections.Immutable;
using System.Text;
using System.Text.RegularExpressions;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace GardenWatch.Planning.Plans;

/// <summary>
/// Reads YAML events into nodes with places. Own nodes rather than the library's: duplicate keys are told with both
/// lines, all of them at once, and depth, size and aliases are bounded before anything is built.
/// </summary>
internal sealed partial class YamlPage
{
    private const int LargestBytes = 256 * 1024;
    private const int Deepest = 20;
    private const int MostAliases = 10;
    private const int LongestText = 2000;

    private readonly string _file;
    private readonly List<FileFault> _faults;
    private readonly Dictionary<string, YamlNode> _anchors = new(StringComparer.Ordinal);
    private int _aliases;

    private readonly StringComparer _keys;

    private YamlPage(string file, List<FileFault> faults, StringComparer keys) => (_file, _faults, _keys) = (file, faults, keys);

    /// <summary>The top node; null when the file is empty or can't be read, the latter with a fault.</summary>
    /// <param name="keys">Which keys are the same; null for those that differ in capitals only.</param>
    public static YamlNode? Read(string text, string file, List<FileFault> faults, StringComparer? keys = null)
    {
        if (text.Length > LargestBytes || Encoding.UTF8.GetByteCount(text) > LargestBytes)
        {
            faults.Add(new(file, 1, 1, $"the file is larger than {LargestBytes / 1024} KB", "a plan is a page or two; look whether this is the right file"));
            return null;
        }
        string plain = text.TrimStart('\uFEFF');
        int odd = plain.AsSpan().IndexOfAnyInRange('\0', '\u0008');
        if (odd < 0)
            odd = plain.IndexOf('\uFFFD', StringComparison.Ordinal);
        if (odd >= 0)
        {
            var (line, column) = PlaceOf(plain, odd);
            faults.Add(new(file, line, column, "there is a letter here that is no text", "save the file as plain text in UTF-8"));
            return null;
        }
        try
        {
            return new YamlPage(file, faults, keys ?? StringComparer.OrdinalIgnoreCase).Document(new Parser(new StringReader(Shielded(plain))));
        }
        catch (YamlException exception)
        {
            faults.Add(YamlTrouble.Of(exception, plain, file));
        }
        catch (TooMuchException exception)
        {
            faults.Add(new(file, exception.Spot.Line, exception.Spot.Column, exception.Message, exception.Instead));
        }
        catch (ArgumentException)
        {
            faults.Add(YamlTrouble.OddTag(plain, file));
        }
        catch (InvalidOperationException)
        {
            // The parser gives up this way on a bracket that is never closed.
            faults.Add(YamlTrouble.NeverClosed(plain, file));
        }
        return null;
    }

    private YamlNode? Document(Parser parser)
    {
        parser.Consume<StreamStart>();
        if (parser.Accept<StreamEnd>(out _))
            return null;
        parser.Consume<DocumentStart>();
        var top = Node(parser, 0);
        parser.Consume<DocumentEnd>();
        if (parser.Current is DocumentStart another)
            throw new TooMuchException(At(another.Start), "a second document begins here", "one plan per file; take the line `---` out");
        return top;
    }

    private YamlNode Node(Parser parser, int depth)
    {
        var spot = At(parser.Current!.Start);
        if (depth > Deepest)
            throw new TooMuchException(spot, $"lists and maps are nested more than {Deepest} deep here", null);
        switch (parser.Current)
        {
            case AnchorAlias alias:
                parser.MoveNext();
                if (++_aliases > MostAliases)
                    throw new TooMuchException(spot, $"more than {MostAliases} aliases (`*name`) are used", "write the repeated parts out");
                return _anchors.TryGetValue(alias.Value.Value, out var known)
                    ? known
                    : throw new TooMuchException(spot, $"`*{alias.Value.Value}` stands for nothing that was named before", $"if it is a text, put it in quotes: `\"*{alias.Value.Value}\"`");
            case Scalar scalar:
                parser.MoveNext();
                if (scalar.Value.Length > LongestText)
                    throw new TooMuchException(spot, $"a text of more than {LongestText} letters begins here", "shorten it, or look for a quote that is closed too late");
                bool quoted = scalar.Style is ScalarStyle.SingleQuoted or ScalarStyle.DoubleQuoted;
                string value = Unshielded(scalar.Value);
                bool oneLine = scalar.Start.Line == scalar.End.Line;
                return Named(scalar.Anchor, new YamlNode.Text(spot, value, quoted ? 1 : 0, oneLine));
            case SequenceStart sequence:
                parser.MoveNext();
                var items = ImmutableArray.CreateBuilder<YamlNode>();
                while (parser.Current is not SequenceEnd)
                    items.Add(Node(parser, depth + 1));
                parser.MoveNext();
                return Named(sequence.Anchor, new YamlNode.List(spot, items.ToImmutable()));
            case MappingStart mapping:
                parser.MoveNext();
                var entries = Entries(parser, depth);
                parser.MoveNext();
                return Named(mapping.Anchor, new YamlNode.Map(spot, entries));
            default:
                throw new TooMuchException(spot, "this can't be read", null);
        }
    }

    private ImmutableArray<(YamlNode.Text, YamlNode)> Entries(Parser parser, int depth)
    {
        var entries = ImmutableArray.CreateBuilder<(YamlNode.Text, YamlNode)>();
        var seen = new Dictionary<string, Spot>(_keys);
        while (parser.Current is not MappingEnd)
        {
            var key = Node(parser, depth + 1);
            var value = Node(parser, depth + 1);
            if (key is not YamlNode.Text text)
                _faults.Add(new(_file, key.Spot.Line, key.Spot.Column, "a key must be a word or two", null));
            else if (seen.TryGetValue(text.Value, out var first))
                _faults.Add(new(_file, key.Spot.Line, key.Spot.Column, $"`{text.Value}` was said already in line {first.Line}, column {first.Column}", "keep one of the two"));
            else
            {
                seen.Add(text.Value, text.Spot);
                entries.Add((text with { Value = text.Value.Trim() }, value));
            }
        }
        return entries.ToImmutable();
    }

    private YamlNode Named(AnchorName anchor, YamlNode node)
    {
        if (!anchor.IsEmpty)
            _anchors[anchor.Value] = node;
        return node;
    }

    private Spot At(Mark mark) => new(_file, (int)mark.Line, (int)mark.Column);

    internal static (int Line, int Column) PlaceOf(string text, int index)
    {
        var before = text.AsSpan(0, index);
        return (before.Count('\n') + 1, index - before.LastIndexOf('\n'));
    }

    /// <summary>As the parser gets it; as long as the text.</summary>
    internal static string Shielded(string text) => NamedNumber().Replace(text, "{${name}:\u00A0${number}}");

    internal static string Unshielded(string value) => value.Replace(":\u00A0", ": ", StringComparison.Ordinal);

    /// <summary>
    /// A named number of a condition phrase, "at least {enough: 6 mm}". To YAML its ": " would begin a map, so the space
    /// is changed for one that YAML does not know, and back again; columns stay what they are.
    /// </summary>
    [GeneratedRegex(@"(?<=[\p{L}\p{N}%°] )\{(?<name>[^{}:'""\n]+): (?<number>[^{}'""\n]+)\}", RegexOptions.CultureInvariant)]
    private static partial Regex NamedNumber();

    private sealed class TooMuchException(Spot spot, string problem, string? instead) : Exception(problem)
    {
        public Spot Spot { get; } = spot;

        public string? Instead { get; } = instead;
    }
}
