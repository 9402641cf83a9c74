using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Plans;

/// <summary>Texts as they are written into a plan or the settings, for the parser to read back the same.</summary>
public static partial class YamlValue
{
    /// <summary>As it is where nothing in it means anything; else in quotation marks. Always on one line.</summary>
    public static string Of(string text)
    {
        string plain = OnOneLine(text);
        return Harmless().IsMatch(plain) && plain is not ("no" or "true" or "false" or "null" or "on" or "off")
            ? plain
            : $"\"{plain.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
    }

    /// <summary>For a remark, which ends with its line.</summary>
    public static string OnOneLine(string text) => string.Concat(text.Where(c => !char.IsControl(c) && c is not ('\u2028' or '\u2029')));

    [GeneratedRegex(@"^[\p{L}0-9/][\p{L}\p{M}0-9 @./'_-]*\z", RegexOptions.CultureInvariant)]
    private static partial Regex Harmless();
}
