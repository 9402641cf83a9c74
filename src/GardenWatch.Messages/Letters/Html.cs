using System.Text;

namespace GardenWatch.Messages.Letters;

/// <summary>
/// Writes well-formed HTML. Every text and attribute value is encoded; there is no way round it but
/// <see cref="Fixed"/>, which takes only what the program itself spells out.
/// </summary>
internal sealed class Html
{
    private readonly StringBuilder _text = new();
    private readonly Stack<string> _open = new();

    public Html Open(string tag, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        Start(tag, attributes);
        _text.Append('>');
        _open.Push(tag);
        return this;
    }

    public Html Close()
    {
        _text.Append("</").Append(_open.Pop()).Append('>');
        return this;
    }

    /// <summary>An element that holds nothing.</summary>
    public Html Void(string tag, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        Start(tag, attributes);
        _text.Append(" />");
        return this;
    }

    /// <summary>An element that holds one text.</summary>
    public Html Leaf(string tag, string text, params ReadOnlySpan<(string Name, string Value)> attributes) =>
        Open(tag, attributes).Text(text).Close();

    public Html Text(string text)
    {
        Encode(text);
        return this;
    }

    /// <summary>The program's own style sheet and document type.</summary>
    public Html Fixed(string markup)
    {
        _text.Append(markup);
        return this;
    }

    public Html NewLine()
    {
        _text.Append('\n');
        return this;
    }

    public override string ToString() => _open.Count == 0
        ? _text.ToString()
        : throw new InvalidOperationException($"<{_open.Peek()}> is still open.");

    private void Start(string tag, ReadOnlySpan<(string Name, string Value)> attributes)
    {
        _text.Append('<').Append(tag);
        foreach (var (name, value) in attributes)
        {
            _text.Append(' ').Append(name).Append("=\"");
            Encode(value);
            _text.Append('"');
        }
    }

    private void Encode(string text)
    {
        foreach (char c in text)
        {
            _ = c switch
            {
                '&' => _text.Append("&amp;"),
                '<' => _text.Append("&lt;"),
                '>' => _text.Append("&gt;"),
                '"' => _text.Append("&quot;"),
                '\'' => _text.Append("&#39;"),
                '\u00A0' => _text.Append("&#160;"),
                _ => _text.Append(c),
            };
        }
    }
}
