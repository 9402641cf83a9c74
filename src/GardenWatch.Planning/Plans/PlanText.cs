using System.Text;
using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Plans;

/// <summary>This spot is written in a way that only its writer can change.</summary>
internal sealed class ByHandException(int line, string why) : Exception(why)
{
    public int Line { get; } = line;
}

/// <summary>
/// A plan's text under change: what is not touched stays byte for byte as it was. Each step changes the text and, beside it,
/// what the text means, so that in the end the two can be held against each other.
/// </summary>
internal sealed partial class PlanText
{
    private readonly string _text;
    private readonly MarkedMap _top;
    private readonly List<(int Start, int End, string Written)> _splices = [];
    /// <summary>The whole file ends the same way, however much is added there.</summary>
    private readonly StringBuilder _atEnd = new();

    public PlanText(string text)
    {
        _text = text;
        _top = MarkedYaml.Read(text) ?? throw new ByHandException(1, "the file is no list of keys and values");
        if (_top.IsShared)
            throw Shared(_top);
    }

    public MarkedMap Top => _top;

    /// <summary>The text as changed. Refuses when it does not mean what was to be written.</summary>
    public string Changed()
    {
        var changed = new StringBuilder(_text);
        // From the back, so that places before stay what they are; of two at one place the later comes behind.
        foreach (var (start, end, written) in _splices.Select((splice, i) => (splice, i)).OrderByDescending(each => each.splice.Start).ThenByDescending(each => each.i).Select(each => each.splice))
            changed.Remove(start, end - start).Insert(start, written);
        if (_atEnd.Length > 0)
        {
            bool ended = _text.Length == 0 || _text[^1] is '\n' or '\r';
            string lines = _atEnd.ToString();
            changed.Append(ended ? lines : EndOfLine + lines[..^EndOfLine.Length]);
        }
        string text = changed.ToString();
        int line = _splices.Count > 0 ? LineOf(_splices[0].Start) : LineOf(_text.Length);
        return MarkedYaml.Read(text) is { } read && MarkedNode.Same(read, _top) ? text : throw new ByHandException(line, "it is written in a way that can’t be changed from here without spoiling something else");
    }

    /// <summary>The how-manieth of the entries of a list that are maps; where one entry stands for a list, that one.</summary>
    public static MarkedMap Entry(MarkedMap map, string key, int index)
    {
        var maps = map[key] switch
        {
            MarkedList list => Reached(list).Items.Where(item => item is not MarkedText { IsEmpty: true }).ToList(),
            { } one => [one],
            null => [],
        };
        return index < maps.Count ? Map(maps[index]) : throw new ByHandException(map.Line, $"`{key}` has no such entry");
    }

    public static MarkedMap Map(MarkedNode node) => Reached(node) as MarkedMap ?? throw new ByHandException(node.Line, "this is no entry with keys");

    /// <summary>Not by way of an anchor or alias.</summary>
    public static T Reached<T>(T node) where T : MarkedNode => node.IsShared || node is MarkedAlias ? throw Shared(node) : node;

    /// <summary>Puts a text in the place of another, quoted as that was where it can be.</summary>
    public MarkedText Replaced(MarkedText old, string value, bool inFlow)
    {
        Reached(old);
        if (old.IsBlock)
            throw new ByHandException(old.Line, "it is written in lines of its own, after `|` or `>`");
        // An empty value begins right after its colon.
        string lead = old.Start == old.End && old.Start > 0 && _text[old.Start - 1] == ':' ? " " : "";
        char quote = Written(value, old.Quote, inFlow, out string written);
        _splices.Add((old.Start, old.End, lead + written));
        return new(old.Start, old.End, old.Line, value, quote);
    }

    /// <summary>The value of a key, put in another's place or added at the end of the entry.</summary>
    public void Set(MarkedMap map, string key, string value)
    {
        int at = map.Entries.FindIndex(entry => entry.Key.Value.Trim().Equals(key, StringComparison.OrdinalIgnoreCase));
        if (at >= 0)
        {
            if (map.Entries[at].Value is not MarkedText old)
                throw map.Entries[at].Value is MarkedAlias alias ? Shared(alias) : new ByHandException(map.Entries[at].Value.Line, $"`{key}` is more than one text there");
            map.Entries[at] = (map.Entries[at].Key, Replaced(old, value, IsWithinFlow(map)));
            return;
        }
        if (map.Entries.Count == 0)
            throw new ByHandException(map.Line, "the entry is empty");
        bool flow = map.IsFlow;
        char quote = Written(value, '\0', flow, out string written);
        if (flow)
            _splices.Add((map.Entries[^1].Value.End, map.Entries[^1].Value.End, $", {key}: {written}"));
        else
        {
            int end = LineEndAfter(map);
            _splices.Add((end, end, $"{EndOfLine}{Indent(map.Entries[0].Key.Start)}{key}: {written}"));
        }
        map.Entries.Add((Text(key), Text(value, quote)));
    }

    /// <summary>A mail address by itself becomes an entry with that and more.</summary>
    public void ReplaceByEntry(IList<MarkedNode> among, int at, params (string Key, string Value)[] fields)
    {
        var old = Reached(among[at]);
        var (written, meant) = FlowMap([.. fields.Select(field => (field.Key, (object)field.Value))]);
        _splices.Add((old.Start, old.End, written));
        among[at] = meant;
    }

    /// <summary>One more entry at the end of a list of the plan, written as its neighbours are.</summary>
    /// <param name="fields">Texts, or lists of texts.</param>
    /// <param name="inLines">A line for each key, where the list is not in brackets.</param>
    public void Append(string listKey, IReadOnlyList<(string Key, object Value)> fields, bool inLines)
    {
        int at = _top.Entries.FindIndex(entry => entry.Key.Value.Trim().Equals(listKey, StringComparison.OrdinalIgnoreCase));
        if (at < 0)
        {
            if (_top.IsFlow)
                throw new ByHandException(_top.Line, "the whole file is one entry in braces");
            var (lines, meant) = Item(fields, "  ", inLines);
            _atEnd.Append(listKey).Append(':').Append(EndOfLine).Append(lines).Append(EndOfLine);
            _top.Entries.Add((Text(listKey), List(meant)));
            return;
        }
        switch (_top.Entries[at].Value)
        {
            case MarkedList { IsFlow: true } list:
                Reached(list);
                var (written, entry) = FlowMap(fields);
                if (list.Items.Count > 0)
                    _splices.Add((list.Items[^1].End, list.Items[^1].End, $", {written}"));
                else
                    _splices.Add((list.Start + 1, list.Start + 1, written));
                list.Items.Add(entry);
                break;
            case MarkedList list:
                Reached(list);
                if (list.Items.Count == 0 || _text[list.Start] != '-')
                    throw new ByHandException(list.Line, $"the list of `{listKey}` begins oddly");
                var (item, map) = Item(fields, Indent(list.Start), inLines || list.Items[^1] is MarkedMap { IsFlow: false });
                int end = LineEndAfter(list, ownRemarksDeeperThan: ColumnOf(list.Start));
                _splices.Add((end, end, EndOfLine + item));
                list.Items.Add(map);
                break;
            case MarkedText { IsEmpty: true } none when !IsWithinFlow(_top):
                Reached(none);
                if (none.Start != none.End)
                    throw new ByHandException(none.Line, $"`{listKey}` says that there is none");
                var (first, only) = Item(fields, "  ", inLines);
                int after = LineEnd(none.End);
                _splices.Add((after, after, EndOfLine + first));
                _top.Entries[at] = (_top.Entries[at].Key, List(only));
                break;
            case var other:
                throw other is MarkedAlias ? Shared(other) : new ByHandException(other.Line, $"`{listKey}` is one entry there, not a list; begin it with a dash (`- `), and more can follow");
        }
    }

    private static MarkedList List(MarkedNode only) => new(0, 0, 0, false, [only]);

    private static MarkedText Text(string value, char quote = '\0') => new(0, 0, 0, value, quote);

    private static (string Written, MarkedMap Meant) FlowMap(IReadOnlyList<(string Key, object Value)> fields)
    {
        var meant = new List<(MarkedText, MarkedNode)>();
        var written = new List<string>();
        foreach (var (key, value) in fields)
        {
            var (text, node) = value is IReadOnlyList<string> several ? FlowList(several) : OneText((string)value, inFlow: true);
            written.Add($"{key}: {text}");
            meant.Add((Text(key), node));
        }
        return ($"{{ {string.Join(", ", written)} }}", new(0, 0, 0, true, meant));
    }

    private static (string, MarkedNode) FlowList(IReadOnlyList<string> texts)
    {
        var each = texts.Select(text => OneText(text, inFlow: true)).ToList();
        return ($"[{string.Join(", ", each.Select(one => one.Written))}]", new MarkedList(0, 0, 0, true, [.. each.Select(one => one.Meant)]));
    }

    private static (string Written, MarkedNode Meant) OneText(string value, bool inFlow)
    {
        char quote = Written(value, '\0', inFlow, out string written);
        return (written, Text(value, quote));
    }

    /// <summary>An item with its dash, without the last line's end.</summary>
    private (string Lines, MarkedMap Meant) Item(IReadOnlyList<(string Key, object Value)> fields, string indent, bool inLines)
    {
        if (!inLines)
        {
            var (flow, entry) = FlowMap(fields);
            return ($"{indent}- {flow}", entry);
        }
        var lines = new List<string>();
        var meant = new List<(MarkedText, MarkedNode)>();
        foreach (var (key, value) in fields)
        {
            string before = indent + (lines.Count == 0 ? "- " : "  ");
            if (value is IReadOnlyList<string> several)
            {
                var each = several.Select(text => OneText(text, inFlow: false)).ToList();
                lines.Add($"{before}{key}:");
                lines.AddRange(each.Select(one => $"{indent}    - {one.Written}"));
                meant.Add((Text(key), new MarkedList(0, 0, 0, false, [.. each.Select(one => one.Meant)])));
                continue;
            }
            var (written, node) = OneText((string)value, inFlow: false);
            lines.Add($"{before}{key}: {written}");
            meant.Add((Text(key), node));
        }
        return (string.Join(EndOfLine, lines), new(0, 0, 0, false, meant));
    }

    /// <summary>As YAML writes it; gives the quotation mark that was used.</summary>
    /// <param name="wish">The mark to use where it will do.</param>
    private static char Written(string value, char wish, bool inFlow, out string written)
    {
        bool plain = Plain().IsMatch(value) && !(inFlow && value.Contains(',', StringComparison.Ordinal)) && value.ToLowerInvariant() is not ("null" or "true" or "false" or "yes" or "no" or "on" or "off");
        char quote = wish == '\0' && plain ? '\0' : wish == '\'' || value.AsSpan().ContainsAny('"', '\\') ? '\'' : '"';
        written = quote switch
        {
            '\'' => $"'{value.Replace("'", "''", StringComparison.Ordinal)}'",
            '"' => $"\"{value}\"",
            _ => value,
        };
        return quote;
    }

    /// <summary>As the file's first line ends.</summary>
    private string EndOfLine => _text.IndexOf('\n', StringComparison.Ordinal) is var first && first > 0 && _text[first - 1] == '\r' ? "\r\n" : "\n";

    private bool IsWithinFlow(MarkedMap map) => map.IsFlow || map != _top && _top.IsFlow;

    private int LineEnd(int index)
    {
        int end = _text.AsSpan(index).IndexOfAny('\n', '\r');
        return end < 0 ? _text.Length : index + end;
    }

    /// <summary>The end of the last line of a node in lines of its own, with the remark behind it.</summary>
    /// <param name="ownRemarksDeeperThan">Remarks in the lines below that stand deeper belong to it as well.</param>
    private int LineEndAfter(MarkedNode node, int ownRemarksDeeperThan = int.MaxValue)
    {
        int last = node.End;
        // A text after `|` ends with its line, so step back into that.
        while (last > 0 && last <= _text.Length && char.IsWhiteSpace(_text[last - 1]))
            last--;
        int end = LineEnd(last);
        while (end < _text.Length)
        {
            int next = end + (_text.AsSpan(end).StartsWith("\r\n") ? 2 : 1), nextEnd = LineEnd(Math.Min(next, _text.Length));
            var line = _text.AsSpan(Math.Min(next, _text.Length), nextEnd - Math.Min(next, _text.Length));
            int spaces = line.Length - line.TrimStart(' ').Length;
            if (ownRemarksDeeperThan == int.MaxValue || spaces <= ownRemarksDeeperThan || spaces >= line.Length || line[spaces] != '#')
                break;
            end = nextEnd;
        }
        return end;
    }

    /// <summary>Counted from 0.</summary>
    private int ColumnOf(int index) => index - StartOfLine(index);

    private int StartOfLine(int index)
    {
        int before = _text.AsSpan(0, index).LastIndexOfAny('\n', '\r');
        return before < 0 && _text.Length > 0 && _text[0] == '\uFEFF' ? 1 : before + 1;
    }

    private string Indent(int index) => new(' ', ColumnOf(index));

    private int LineOf(int index) => YamlPage.PlaceOf(_text, index).Line;

    private static ByHandException Shared(MarkedNode node) => new(node.Line, "it is shared by an anchor (`&` or `*`), so a change here would change other places, too");

    /// <summary>What YAML takes as it stands, in braces or not, and what nobody would misread.</summary>
    [GeneratedRegex(@"^[\p{L}\p{N}](?:[\p{L}\p{N}\p{M} .,/°'’_+%()@-]*[\p{L}\p{N}\p{M}.°%)])?\z", RegexOptions.CultureInvariant)]
    private static partial Regex Plain();
}
