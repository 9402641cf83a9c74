using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tongues;

/// <summary>
/// A sentence with its values apart, as the compiler takes an interpolated string to pieces. In English it is put together
/// as it stands; in any other language its literal text is the template that is looked up.
/// </summary>
[InterpolatedStringHandler]
public readonly ref struct Said
{
    private readonly StringBuilder _text;
    private readonly List<string>? _holes;

    public Said(int literalLength, int formattedCount, Speech speech)
        : this(literalLength, formattedCount, speech.Tongue)
    {
    }

    public Said(int literalLength, int formattedCount, Tongue tongue)
    {
        _text = new(literalLength + 12 * formattedCount);
        _holes = tongue.IsEnglish ? null : new(formattedCount);
    }

    public void AppendLiteral(string words) => _text.Append(words);

    public void AppendFormatted(string? value)
    {
        if (_holes is null)
        {
            _text.Append(value);
            return;
        }
        _text.Append('{').Append(_holes.Count.ToString(CultureInfo.InvariantCulture)).Append('}');
        _holes.Add(value ?? "");
    }

    public void AppendFormatted(int value) => AppendFormatted(value.ToString(CultureInfo.InvariantCulture));

    internal string Spoken(Tongue tongue) => _holes is null ? _text.ToString() : tongue.Filled(_text.ToString(), [.. _holes]);
}
