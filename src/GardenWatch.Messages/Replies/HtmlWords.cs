using System.Text;
using MimeKit.Text;

namespace GardenWatch.Messages.Replies;

/// <summary>The text of a mail that came as HTML only: what is in a block quote is marked with <c>&gt;</c>, as in a mail of plain text.</summary>
internal static class HtmlWords
{
    private const int MostTokens = 100_000;
    private const int MostLetters = 200_000;
    private const int DeepestQuote = 5;

    public static string Of(string html)
    {
        using var reader = new StringReader(html);
        var tokens = new HtmlTokenizer(reader) { DecodeCharacterReferences = true };
        var page = new Page();
        for (int count = 0; count < MostTokens && page.Length < MostLetters && tokens.ReadNextToken(out var token); count++)
        {
            if (token is HtmlTagToken tag)
                page.Tag(tag);
            else if (token.Kind == HtmlTokenKind.Data && token is HtmlDataToken data)
                page.Words(data.Data);
        }
        return page.ToString();
    }

    private sealed class Page
    {
        private readonly StringBuilder _text = new();
        private readonly StringBuilder _line = new();
        private string? _unseen;
        private int _unseenDepth;
        private int _quotes;

        public int Length => _text.Length + _line.Length;

        public void Tag(HtmlTagToken tag)
        {
            string name = tag.Name.ToLowerInvariant();
            if (_unseen is not null)
            {
                // Like within like: the outer one's end counts.
                if (name == _unseen && !tag.IsEmptyElement)
                    _unseenDepth += tag.IsEndTag ? -1 : 1;
                if (_unseenDepth <= 0)
                    _unseen = null;
                return;
            }
            if (!tag.IsEndTag && !tag.IsEmptyElement && (name is "style" or "script" or "title" or "template" || (name is "div" or "span" or "p" && IsSignature(tag))))
            {
                (_unseen, _unseenDepth) = (name, 1);
                EndLine();
                return;
            }
            switch (name)
            {
                case "blockquote":
                    EndLine();
                    _quotes = Math.Clamp(_quotes + (tag.IsEndTag ? -1 : 1), 0, DeepestQuote);
                    break;
                case "br":
                    EndLine(always: true);
                    break;
                case "p" or "div" or "tr" or "li" or "table" or "ul" or "ol" or "h1" or "h2" or "h3" or "h4" or "h5" or "h6" or "pre" or "body":
                    EndLine();
                    if (name == "p" && tag.IsEndTag)
                        EndLine(always: true);
                    break;
                case "hr":
                    EndLine();
                    _line.Append('_', 30);
                    EndLine();
                    break;
                case "td" or "th":
                    _line.Append(' ');
                    break;
            }
        }

        public void Words(string data)
        {
            if (_unseen is not null)
                return;
            foreach (char c in data)
            {
                bool blank = char.IsWhiteSpace(c);
                if (!blank || (_line.Length > 0 && _line[^1] != ' '))
                    _line.Append(blank ? ' ' : c);
            }
        }

        public override string ToString()
        {
            EndLine();
            return _text.ToString();
        }

        /// <summary>Mail programs mark it so, each with a name of its own before the word.</summary>
        private static bool IsSignature(HtmlTagToken tag) => tag.Attributes.Any(attribute =>
            attribute.Name is "class" or "id" && attribute.Value is { } value && value.Contains("signature", StringComparison.OrdinalIgnoreCase));

        private void EndLine(bool always = false)
        {
            string line = _line.ToString().Trim();
            _line.Clear();
            if (line.Length == 0 && !always)
                return;
            if (_quotes > 0)
                _text.Append('>', _quotes).Append(' ');
            _text.Append(line).Append('\n');
        }
    }
}
