using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tongues;

/// <summary>What reading a language file gave.</summary>
/// <param name="Tongue">Null when there is any fault.</param>
/// <param name="Missing">Phrases that the file does not translate; they stay English.</param>
public sealed record TongueReading(Tongue? Tongue, ImmutableArray<FileFault> Faults, ImmutableArray<string> Missing);

/// <summary>Reads a language file. All faults come at once, each with its place and what to write instead.</summary>
public sealed partial class TongueFile
{
    private static readonly Dictionary<string, bool> YesOrNo = new(StringComparer.Ordinal) { ["yes"] = true, ["no"] = false };
    private static readonly Dictionary<string, bool> Clocks = new(StringComparer.Ordinal) { ["12"] = false, ["24"] = true };
    private static readonly Dictionary<string, PluralCategory> Categories = new(StringComparer.Ordinal)
    {
        ["one"] = PluralCategory.One, ["two"] = PluralCategory.Two, ["few"] = PluralCategory.Few, ["many"] = PluralCategory.Many, ["other"] = PluralCategory.Other,
    };

    private readonly Phrases _known;
    private readonly List<FileFault> _faults = [];

    private TongueFile(Phrases known) => _known = known;

    /// <param name="known">All that may be translated.</param>
    public static TongueReading Read(string text, string fileName, Phrases known)
    {
        var file = new TongueFile(known);
        Tongue? tongue = null;
        switch (YamlPage.Read(text, fileName, file._faults, StringComparer.Ordinal))
        {
            case YamlNode.Map map:
                tongue = file.TongueOf(new(map, file._faults));
                break;
            case null when file._faults.Count > 0:
                break;
            default:
                file._faults.Add(new(fileName, 1, 1, "this is no language", "begin with `language: ` and its code, such as `language: de`"));
                break;
        }
        if (tongue is null || file._faults.Count > 0)
            return new(null, [.. file._faults.OrderBy(fault => fault.Line).ThenBy(fault => fault.Column)], []);
        return new(tongue, [],
        [
            .. known.Words.Where(phrase => !tongue.Phrases!.ContainsKey(phrase)),
            .. known.Counted.Where(phrase => !tongue.Counts!.ContainsKey(phrase)),
        ]);
    }

    private Tongue TongueOf(YamlEntries top)
    {
        string code = top.TakeString("language", "such as `language: de`") ?? "";
        if (!Code().IsMatch(code) || code is "en")
            top.Fault(top.Spot, code.Length == 0 ? "the language has no code" : $"`{code}` can't be the code of this language", "write `language: ` and a code such as de, fr or pt-BR");
        var english = Tongue.English;
        var tongue = new Tongue
        {
            Code = code,
            Name = top.TakeString("name", "the language's own word for itself") ?? code,
            Months = Names(top, "months", english.Months),
            Weekdays = Names(top, "weekdays", english.Weekdays),
            ShortWeekdays = Names(top, "short weekdays", english.ShortWeekdays),
            DatePattern = Pattern(top, "date", english.DatePattern),
            WeekdayPattern = Pattern(top, "date with weekday", english.WeekdayPattern),
            ShortPattern = Pattern(top, "weekday and day", english.ShortPattern),
            DayPattern = Pattern(top, "day before another", english.DayPattern),
            DecimalMark = MarkOf(top),
            TwentyFourHours = top.TakeWord("hours", Clocks),
            KeepsCapitals = top.TakeWord("keeps capitals", YesOrNo) ?? false,
            Phrases = PhrasesOf(top),
            Counts = CountsOf(top, code),
        };
        top.Close();
        return tongue;
    }

    private static ImmutableArray<string> Names(YamlEntries top, string key, ImmutableArray<string> english)
    {
        if (!top.Has(key))
            return english;
        var names = top.TakeTexts(key);
        if (names.Length == english.Length && names.All(name => name.Value.Trim().Length > 0))
            return [.. names.Select(name => name.Value.Trim())];
        top.Fault(top.Spot, $"`{key}` wants {english.Length} names", $"a list from {english[0]} to {english[^1]}");
        return english;
    }

    private static string Pattern(YamlEntries top, string key, string english)
    {
        if (top.TakeText(key, $"such as `\"{english}\"`") is not { } text)
            return english;
        var (has, wants) = (HolesOf(text.Value), HolesOf(english));
        if (!has.SetEquals(wants))
            top.Fault(text.Spot, $"`{key}` wants the holes {string.Join(", ", wants)}, each of them", $"such as `\"{english}\"`");
        return text.Value;
    }

    private static char MarkOf(YamlEntries top)
    {
        if (top.TakeText("decimal mark", "`\",\"` or `\".\"`") is not { } text)
            return '.';
        if (text.Value is not ("," or "." or "٫"))
            top.Fault(text.Spot, $"`{text.Value}` is no decimal mark", "`\",\"` or `\".\"`");
        return text.Value is [var mark] ? mark : '.';
    }

    private FrozenDictionary<string, string> PhrasesOf(YamlEntries top)
    {
        var phrases = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (key, value) in Entries(top, "phrases"))
        {
            string english = Spaced(key.Value);
            if (_known.Holds(english) is not { } phrase)
                Unknown(top, key, _known.Words);
            else if (value is not YamlNode.Text text)
                top.Fault(value.Spot, "a phrase wants one text", "what counts something stands under `counts`");
            else if (text.Value.Trim().Length > 0 && SameHoles(top, text, phrase))
                phrases[phrase] = Framed(text.Value, phrase);
        }
        return phrases.ToFrozenDictionary(StringComparer.Ordinal);
    }

    private FrozenDictionary<string, ImmutableDictionary<PluralCategory, string>> CountsOf(YamlEntries top, string code)
    {
        var counts = new Dictionary<string, ImmutableDictionary<PluralCategory, string>>(StringComparer.Ordinal);
        foreach (var (key, value) in Entries(top, "counts"))
        {
            if (_known.Counts(Spaced(key.Value)) is not { } phrase)
            {
                Unknown(top, key, _known.Counted);
                continue;
            }
            if (value is not YamlNode.Map map)
            {
                if (value is not YamlNode.Text { Value: "" })
                    top.Fault(value.Spot, "what counts wants a text for each plural form", "such as `{ one: \"{0} Tag\", other: \"{0} Tage\" }`");
                continue;
            }
            var forms = ImmutableDictionary.CreateBuilder<PluralCategory, string>();
            foreach (var (category, form) in map.Entries)
            {
                if (!Categories.TryGetValue(category.Value, out var which))
                    top.Fault(category.Spot, $"`{category.Value}` is no plural form", $"one of: {string.Join(", ", Categories.Keys)}");
                else if (form is not YamlNode.Text text)
                    top.Fault(form.Spot, "a plural form wants one text", null);
                // "one day" need not show its number.
                else if (text.Value.Trim().Length > 0 && SameHoles(top, text, phrase, mayLack: which == PluralCategory.One ? "{0}" : null))
                    forms[which] = Framed(text.Value, phrase);
            }
            if (forms.ContainsKey(PluralCategory.Other))
                counts[phrase] = forms.ToImmutable();
            else if (forms.Count > 0)
                top.Fault(value.Spot, "the plural form `other` is missing", "it stands for all numbers that have no form of their own");
        }
        return counts.ToFrozenDictionary(StringComparer.Ordinal);
    }

    private static IEnumerable<(YamlNode.Text Key, YamlNode Value)> Entries(YamlEntries top, string key) =>
        top.Take(key) switch
    {
        YamlNode.Map map => map.Entries,
        null => [],
        var other => Wrong(top, other, key),
    };

    private static IEnumerable<(YamlNode.Text Key, YamlNode Value)> Wrong(YamlEntries top, YamlNode other, string key)
    {
        top.Fault(other.Spot, $"`{key}` wants an entry a line", "each line is `\"English\": \"translation\"`");
        return [];
    }

    private static void Unknown(YamlEntries top, YamlNode.Text key, IEnumerable<string> known) =>
        top.Fault(key.Spot, $"nothing is said in these words: `{key.Value}`",
            Spelling.Nearest(key.Value, known) is { } near ? $"did you mean `{near}`?" : "`gardenwatch check --phrases` lists all phrases");

    private static bool SameHoles(YamlEntries top, YamlNode.Text text, string english, string? mayLack = null)
    {
        var wants = HolesOf(english);
        var has = HolesOf(text.Value);
        if (has.IsSubsetOf(wants) && wants.All(hole => has.Contains(hole) || hole == mayLack))
            return true;
        top.Fault(text.Spot, $"the holes differ: `{english}` has {(wants.Count == 0 ? "none" : string.Join(", ", wants.Order()))}",
            "each of them must stand in the translation, in any order, and no other");
        return false;
    }

    private static HashSet<string> HolesOf(string text) => [.. Hole().Matches(text).Select(match => match.Value)];

    /// <summary>A translator need not see the no-break spaces.</summary>
    private static string Spaced(string text) => text.Replace('\u00A0', ' ');

    /// <summary>Blanks at the ends belong to how phrases are put together: as the English has them; a number is joined to its noun.</summary>
    private static string Framed(string own, string english)
    {
        string inner = own.Trim();
        if (english.StartsWith("{0}\u00A0", StringComparison.Ordinal))
            inner = inner.Replace("{0} ", "{0}\u00A0", StringComparison.Ordinal);
        return english[..^english.TrimStart().Length] + inner + english[english.TrimEnd().Length..];
    }

    [GeneratedRegex(@"^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$", RegexOptions.CultureInvariant)]
    private static partial Regex Code();

    [GeneratedRegex(@"\{[a-z0-9]+\}", RegexOptions.CultureInvariant)]
    private static partial Regex Hole();
}
