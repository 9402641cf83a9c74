using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;

namespace GardenWatch.Planning.Quantities;

/// <summary>A number at the start of a text, in digits, fractions or words, and what follows it.</summary>
internal abstract record WrittenNumber
{
    private WrittenNumber() { }

    public sealed record Ok(double Value, string Rest) : WrittenNumber;

    /// <summary>It can be read in two ways.</summary>
    public sealed record TwoWays(string One, string Other, string Rest) : WrittenNumber;

    public sealed record None : WrittenNumber;

    public static WrittenNumber Read(string plain) =>
        Numerals.Digits().Match(plain) is { Success: true } digits ? FromDigits(digits, plain)
        : Numerals.Fraction().Match(plain) is { Success: true } fraction ? FromFraction(fraction, 0, plain)
        : FromWords(plain);

    /// <summary>Lower case, plain spaces, minus and primes; vulgar fractions as digits.</summary>
    public static string Plain(string text)
    {
        var plain = new StringBuilder(text.Length);
        foreach (char c in text)
        {
            _ = c switch
            {
                '\u2212' or '\u2010' or '\u2011' => plain.Append('-'),
                '\u2032' or '\u2019' or '\u2018' => plain.Append('\''),
                '\u2033' or '\u201D' or '\u201C' => plain.Append('"'),
                '\u00BA' or '\u02DA' => plain.Append('°'),
                '\u2109' => plain.Append("°f"),
                '\u2103' => plain.Append("°c"),
                '\u2044' => plain.Append('/'),
                '½' => plain.Append(" 1/2"),
                '¼' => plain.Append(" 1/4"),
                '¾' => plain.Append(" 3/4"),
                '⅓' => plain.Append(" 1/3"),
                '⅔' => plain.Append(" 2/3"),
                '⅛' => plain.Append(" 1/8"),
                '⅜' => plain.Append(" 3/8"),
                '⅝' => plain.Append(" 5/8"),
                '⅞' => plain.Append(" 7/8"),
                _ when char.IsWhiteSpace(c) || c is '\u200B' or '\u2060' or '\uFEFF' => plain.Append(' '),
                _ => plain.Append(char.ToLowerInvariant(c)),
            };
        }
        return Numerals.Spaces().Replace(plain.ToString(), " ").Trim();
    }

    private static WrittenNumber FromDigits(Match match, string plain)
    {
        string rest = plain[match.Length..].TrimStart();
        string sign = match.Groups["sign"].Value;
        string digits = match.Groups["number"].Value.Replace(" ", "", StringComparison.Ordinal);
        int marks = digits.Count(c => c is '.' or ',');
        if (marks == 1 && Numerals.ThousandsOrDecimals().IsMatch(digits))
        {
            char mark = digits.Contains(',', StringComparison.Ordinal) ? ',' : '.';
            string[] halves = digits.Split(mark);
            string decimals = halves[1].TrimEnd('0');
            return new TwoWays(sign + halves[0] + (decimals.Length > 0 ? "." + decimals : ""), sign + halves[0] + halves[1], rest);
        }
        string? invariant = marks switch
        {
            0 => digits,
            1 => digits.Replace(',', '.'),
            _ => Thousands(digits),
        };
        if (invariant is null || !double.TryParse(invariant, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value))
            return new None();
        double signed = sign == "-" ? -value : value;
        if (marks == 0 && Numerals.Fraction().Match(rest) is { Success: true } fraction && !fraction.Groups["sign"].Success)
            return FromFraction(fraction, signed, rest);
        if (marks == 0 && Numerals.AndAHalf().Match(rest) is { Success: true } half)
            return new Ok(signed + 0.5, rest[half.Length..].TrimStart());
        return new Ok(signed, rest);
    }

    private static string? Thousands(string digits)
    {
        int last = digits.LastIndexOfAny(['.', ',']);
        char decimalMark = digits[last];
        if (digits.Count(c => c == decimalMark) > 1)
            return digits.Any(c => c is '.' or ',' && c != decimalMark) || !Numerals.GroupsOfThree().IsMatch(digits)
                ? null
                : digits.Replace(decimalMark.ToString(), "", StringComparison.Ordinal);
        string whole = digits[..last];
        return Numerals.GroupsOfThree().IsMatch(whole)
            ? whole.Replace(",", "", StringComparison.Ordinal).Replace(".", "", StringComparison.Ordinal) + "." + digits[(last + 1)..]
            : null;
    }

    private static WrittenNumber FromFraction(Match match, double whole, string plain)
    {
        double under = double.Parse(match.Groups["under"].Value, CultureInfo.InvariantCulture);
        if (under == 0)
            return new None();
        double part = double.Parse(match.Groups["over"].Value, CultureInfo.InvariantCulture) / under;
        bool negative = whole < 0 || match.Groups["sign"].Value == "-";
        return new Ok(negative ? whole - part : whole + part, plain[match.Length..].TrimStart());
    }

    private static WrittenNumber FromWords(string plain)
    {
        if (Numerals.PartOfOne().Match(plain) is { Success: true } part)
            return new Ok(part.Groups["part"].Value switch { "half" => 0.5, "quarter" => 0.25, _ => 0.75 }, plain[part.Length..].TrimStart());
        foreach (var (word, value) in Numerals.Words)
        {
            if (!plain.StartsWith(word + " ", StringComparison.Ordinal))
                continue;
            string rest = plain[(word.Length + 1)..];
            return Numerals.AndAHalf().Match(rest) is { Success: true } half
                ? new Ok(value + 0.5, rest[half.Length..].TrimStart())
                : new Ok(value, rest);
        }
        return new None();
    }
}

internal static partial class Numerals
{
    public static readonly (string Word, double Value)[] Words =
    [
        ("a couple of", 2), ("an", 1), ("a", 1), ("one", 1), ("two", 2), ("three", 3), ("four", 4), ("five", 5), ("six", 6),
        ("seven", 7), ("eight", 8), ("nine", 9), ("ten", 10), ("eleven", 11), ("twelve", 12), ("a dozen", 12),
        ("fourteen", 14), ("fifteen", 15), ("twenty", 20), ("thirty", 30), ("no", 0), ("zero", 0),
    ];

    [GeneratedRegex(@"^(?<sign>[-+]?) ?(?<number>[0-9]{1,3}(?: [0-9]{3})+(?![0-9])|[0-9]{1,15}(?:[.,][0-9]{1,12}){0,4}|[.,][0-9]{1,12})(?!/)(?![0-9])", RegexOptions.CultureInvariant)]
    public static partial Regex Digits();

    [GeneratedRegex(@"^(?<sign>[-+])? ?(?<over>[0-9]{1,3})/(?<under>[0-9]{1,3})(?![0-9/])", RegexOptions.CultureInvariant)]
    public static partial Regex Fraction();

    [GeneratedRegex(@"^[1-9][0-9]{0,2}[.,][0-9]{3}$", RegexOptions.CultureInvariant)]
    public static partial Regex ThousandsOrDecimals();

    [GeneratedRegex(@"^[0-9]{1,3}(?:[.,][0-9]{3})+$", RegexOptions.CultureInvariant)]
    public static partial Regex GroupsOfThree();

    [GeneratedRegex(@"^and a half\b", RegexOptions.CultureInvariant)]
    public static partial Regex AndAHalf();

    [GeneratedRegex(@"^(?:an? )?(?<part>half|quarter|three[- ]quarters)(?: of)?(?: an?)?\b", RegexOptions.CultureInvariant)]
    public static partial Regex PartOfOne();

    [GeneratedRegex(@" {2,}", RegexOptions.CultureInvariant)]
    public static partial Regex Spaces();
}
