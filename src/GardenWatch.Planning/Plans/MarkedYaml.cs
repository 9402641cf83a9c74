using YamlDotNet.Core;
using YamlDotNet.Core.Events;

namespace GardenWatch.Planning.Plans;

/// <summary>A part of a file's YAML with the letters it takes up, so that it can be changed in place.</summary>
/// <param name="start">Of its first letter in the text.</param>
/// <param name="end">After its last letter; a list or map in lines of its own ends with its last part.</param>
/// <param name="line">Counted from 1.</param>
internal abstract class MarkedNode(int start, int end, int line)
{
    public int Start { get; } = start;

    public int End { get; } = end;

    public int Line { get; } = line;

    /// <summary>Named by an anchor: what is changed here may change elsewhere, too.</summary>
    public bool IsShared { get; init; }

    /// <summary>Whether two mean the same, wherever they stand and however they are written.</summary>
    public static bool Same(MarkedNode one, MarkedNode other) => (Meant(one), Meant(other)) switch
    {
        (MarkedText a, MarkedText b) => a.Value == b.Value && (a.IsQuoted == b.IsQuoted || a.Value is not ("" or "~" or "null")),
        (MarkedList a, MarkedList b) => a.Items.Count == b.Items.Count && a.Items.Zip(b.Items).All(pair => Same(pair.First, pair.Second)),
        (MarkedMap a, MarkedMap b) => a.Entries.Count == b.Entries.Count
            && a.Entries.Zip(b.Entries).All(pair => Same(pair.First.Key, pair.Second.Key) && Same(pair.First.Value, pair.Second.Value)),
        _ => false,
    };

    private static MarkedNode Meant(MarkedNode node) => node is MarkedAlias alias ? Meant(alias.Target) : node;
}

internal sealed class MarkedText(int start, int end, int line, string value, char quote, bool isBlock = false) : MarkedNode(start, end, line)
{
    public string Value { get; } = value;

    /// <summary>The quotation mark it is written in; <c>\0</c> for none.</summary>
    public char Quote { get; } = quote;

    public bool IsQuoted => Quote != '\0';

    /// <summary>In lines of its own, after <c>|</c> or <c>&gt;</c>.</summary>
    public bool IsBlock { get; } = isBlock;

    /// <summary>Nothing is written, or only that there is nothing.</summary>
    public bool IsEmpty => !IsQuoted && Value is "" or "~" or "null";
}

/// <param name="isFlow">In brackets; else with a dash before each.</param>
internal sealed class MarkedList(int start, int end, int line, bool isFlow, List<MarkedNode> items) : MarkedNode(start, end, line)
{
    public bool IsFlow { get; } = isFlow;

    public List<MarkedNode> Items { get; } = items;
}

/// <param name="isFlow">In braces; else a line for each.</param>
internal sealed class MarkedMap(int start, int end, int line, bool isFlow, List<(MarkedText Key, MarkedNode Value)> entries) : MarkedNode(start, end, line)
{
    public bool IsFlow { get; } = isFlow;

    public List<(MarkedText Key, MarkedNode Value)> Entries { get; } = entries;

    public MarkedNode? this[string key] => Entries.FirstOrDefault(entry => entry.Key.Value.Trim().Equals(key, StringComparison.OrdinalIgnoreCase)).Value;
}

/// <summary>Stands for what was written elsewhere.</summary>
internal sealed class MarkedAlias(int start, int end, int line, MarkedNode target) : MarkedNode(start, end, line)
{
    public MarkedNode Target { get; } = target;
}

/// <summary>Reads a text that is known to be a sound plan.</summary>
internal sealed class MarkedYaml
{
    /// <summary>The parser's mark at the end of what stands in brackets is before the closing one.</summary>
    private const int Bracket = 1;

    private readonly Dictionary<string, MarkedNode> _anchors = new(StringComparer.Ordinal);
    private readonly int _skipped;

    private MarkedYaml(int skipped) => _skipped = skipped;

    /// <summary>Null when the text is no map, or none that can be read.</summary>
    public static MarkedMap? Read(string text)
    {
        string plain = text.TrimStart('\uFEFF');
        try
        {
            var parser = new Parser(new StringReader(YamlPage.Shielded(plain)));
            parser.Consume<StreamStart>();
            if (parser.Accept<StreamEnd>(out _))
                return null;
            parser.Consume<DocumentStart>();
            return new MarkedYaml(text.Length - plain.Length).Node(parser) as MarkedMap;
        }
        catch (Exception exception) when (exception is YamlException or ArgumentException or InvalidOperationException)
        {
            return null;
        }
    }

    private MarkedNode Node(Parser parser)
    {
        var begun = parser.Current!;
        int start = Index(begun.Start), line = (int)begun.Start.Line;
        parser.MoveNext();
        switch (begun)
        {
            case AnchorAlias alias when _anchors.TryGetValue(alias.Value.Value, out var known):
                return new MarkedAlias(start, Index(alias.End), line, known);
            case Scalar scalar:
                char quote = scalar.Style switch { ScalarStyle.SingleQuoted => '\'', ScalarStyle.DoubleQuoted => '"', _ => '\0' };
                return Named(scalar.Anchor, new MarkedText(start, Index(scalar.End), line, YamlPage.Unshielded(scalar.Value), quote, scalar.Style is ScalarStyle.Literal or ScalarStyle.Folded)
                {
                    IsShared = !scalar.Anchor.IsEmpty,
                });
            case SequenceStart sequence:
                var items = new List<MarkedNode>();
                while (parser.Current is not SequenceEnd)
                    items.Add(Node(parser));
                int endOfList = sequence.Style == SequenceStyle.Flow ? Index(parser.Current.Start) + Bracket : items.Count > 0 ? items[^1].End : start;
                parser.MoveNext();
                return Named(sequence.Anchor, new MarkedList(start, endOfList, line, sequence.Style == SequenceStyle.Flow, items) { IsShared = !sequence.Anchor.IsEmpty });
            case MappingStart mapping:
                var entries = new List<(MarkedText, MarkedNode)>();
                while (parser.Current is not MappingEnd)
                    entries.Add((Node(parser) as MarkedText ?? throw new InvalidOperationException("A key is no text."), Node(parser)));
                int endOfMap = mapping.Style == MappingStyle.Flow ? Index(parser.Current.Start) + Bracket : entries.Count > 0 ? entries[^1].Item2.End : start;
                parser.MoveNext();
                return Named(mapping.Anchor, new MarkedMap(start, endOfMap, line, mapping.Style == MappingStyle.Flow, entries) { IsShared = !mapping.Anchor.IsEmpty });
            default:
                throw new InvalidOperationException("No such node.");
        }
    }

    private MarkedNode Named(AnchorName anchor, MarkedNode node)
    {
        if (!anchor.IsEmpty)
            _anchors[anchor.Value] = node;
        return node;
    }

    private int Index(Mark mark) => (int)mark.Index + _skipped;
}
