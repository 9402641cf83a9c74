namespace GardenWatch.Planning.Conditions;

/// <summary>A place in a phrase. Words are compared without case; any white space parts them.</summary>
internal ref struct PhraseCursor(ReadOnlySpan<char> text)
{
    private readonly ReadOnlySpan<char> _text = text;

    public int At { get; set; }

    /// <summary>The place of the next thing that is not white space.</summary>
    public readonly int Next
    {
        get
        {
            int at = At;
            while (at < _text.Length && char.IsWhiteSpace(_text[at]))
                at++;
            return at;
        }
    }

    public readonly bool AtEnd => Next == _text.Length;

    /// <summary>Length of the word, number or sign that begins at a place.</summary>
    public readonly int LengthAt(int start)
    {
        if (start >= _text.Length)
            return 0;
        int end = start + 1;
        if (IsWordly(_text[start]))
        {
            while (end < _text.Length && IsWordly(_text[end]))
                end++;
        }
        else if (_text[start] is '<' or '>' && end < _text.Length && _text[end] == '=')
        {
            end++;
        }
        return end - start;
    }

    public readonly ReadOnlySpan<char> Word
    {
        get
        {
            int next = Next;
            return _text.Slice(next, LengthAt(next));
        }
    }

    /// <summary>Where a run of words would end if it stood at a place; -1 if it does not.</summary>
    public readonly int EndOf(ReadOnlySpan<char> words, int start)
    {
        int at = start;
        while (at < _text.Length && char.IsWhiteSpace(_text[at]))
            at++;
        for (int i = 0; i < words.Length; i++)
        {
            if (words[i] == ' ')
            {
                if (at >= _text.Length || !char.IsWhiteSpace(_text[at]))
                    return -1;
                while (at < _text.Length && char.IsWhiteSpace(_text[at]))
                    at++;
                continue;
            }
            if (at >= _text.Length || char.ToLowerInvariant(_text[at]) != words[i])
                return -1;
            at++;
        }
        bool ends = !IsWordly(words[^1])
            ? words is not ("<" or ">") || at >= _text.Length || _text[at] != '='
            : at >= _text.Length || !IsWordly(_text[at]);
        return ends ? at : -1;
    }

    public bool Take(ReadOnlySpan<char> words)
    {
        int end = EndOf(words, At);
        if (end < 0)
            return false;
        At = end;
        return true;
    }

    /// <summary>Takes a whole number without sign; false where none stands or it is too long to be one.</summary>
    public bool TakeNumber(out int number)
    {
        number = 0;
        var word = Word;
        if (word.Length is 0 or > 6)
            return false;
        foreach (char c in word)
        {
            if (!char.IsAsciiDigit(c))
                return false;
            number = number * 10 + (c - '0');
        }
        At = Next + word.Length;
        return true;
    }

    private static bool IsWordly(char c) => char.IsLetterOrDigit(c) || c is '\'' or '_';
}
