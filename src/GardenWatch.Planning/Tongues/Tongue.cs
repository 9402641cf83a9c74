using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.CompilerServices;
using System.Text;
using NodaTime;

namespace GardenWatch.Planning.Tongues;

/// <summary>
/// A language in which messages speak. English is what the program is written in and needs no file; any other is a file of
/// sentences, each looked up by its English template ("Leaves near {0} {1}{2}: {3}."), and a few habits of writing.
/// </summary>
public sealed record Tongue
{
    private const char Joined = '\u00A0';

    private static readonly ImmutableArray<string> EnglishMonths =
        [.. CultureInfo.InvariantCulture.DateTimeFormat.MonthNames.Take(12)];
    private static readonly ImmutableArray<string> EnglishWeekdays =
        ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];

    public static Tongue English { get; } = new()
    {
        Code = "en",
        Name = "English",
        Months = EnglishMonths,
        Weekdays = EnglishWeekdays,
        ShortWeekdays = [.. EnglishWeekdays.Select(name => name[..3])],
    };

    /// <summary>BCP 47: "en", "de", "pt-BR".</summary>
    public required string Code { get; init; }
    /// <summary>The language's own word for itself.</summary>
    public required string Name { get; init; }
    /// <summary>January to December, as they stand in a date.</summary>
    public required ImmutableArray<string> Months { get; init; }
    /// <summary>Monday to Sunday.</summary>
    public required ImmutableArray<string> Weekdays { get; init; }
    public required ImmutableArray<string> ShortWeekdays { get; init; }
    /// <summary>"{day} {month}"; holes are day, month and weekday.</summary>
    public string DatePattern { get; init; } = "{day} {month}";
    /// <summary>A date with its weekday, short or long.</summary>
    public string WeekdayPattern { get; init; } = "{weekday} {day} {month}";
    /// <summary>A weekday with the day of the month alone: "Tue 21".</summary>
    public string ShortPattern { get; init; } = "{weekday} {day}";
    /// <summary>The day of a month whose name follows with a later day: the "6" of "6 to 15 May".</summary>
    public string DayPattern { get; init; } = "{day}";
    public char DecimalMark { get; init; } = '.';
    /// <summary>Null where the units decide: twelve hours with inches, else twenty-four.</summary>
    public bool? TwentyFourHours { get; init; }
    /// <summary>A sentence's words keep their capitals when they are put into another (as German nouns must).</summary>
    public bool KeepsCapitals { get; init; }
    /// <summary>By English template; null for English itself.</summary>
    public FrozenDictionary<string, string>? Phrases { get; init; }
    /// <summary>By the English plural ("{0} days"), then by the language's plural category.</summary>
    public FrozenDictionary<string, ImmutableDictionary<PluralCategory, string>>? Counts { get; init; }

    public bool IsEnglish => Phrases is null;

    /// <summary>The words for an English text that has no holes, or whose holes have names that are filled later.</summary>
    public string Word(string english) =>
        Phrases is null || !Phrases.TryGetValue(english, out string? own) ? english : own;

    /// <summary>The same of a text that may be left out.</summary>
    public string? WordOrNone(string? english) => english is null ? null : Word(english);

    /// <summary>A sentence whose literal text is the template, each value a hole.</summary>
    public string Say([InterpolatedStringHandlerArgument("")] Said said) => said.Spoken(this);

    /// <summary>Fills the holes {0}, {1} of a template's translation; in any order, each as often as it stands there.</summary>
    internal string Filled(string template, ReadOnlySpan<string> holes) => Fill(Word(template), holes);

    /// <summary>"1 day", "3 days": hole {0} is the number as it is written, the others follow.</summary>
    internal string Counted(double count, string one, string many, ReadOnlySpan<string> holes)
    {
        string template = count == 1 ? one : many;
        if (Counts is not null && Counts.TryGetValue(many, out var forms))
            template = forms.TryGetValue(PluralRule.Of(Code, count), out string? form) ? form : forms[PluralCategory.Other];
        return Fill(template, holes);
    }

    /// <summary>"21 April".</summary>
    public string Date(LocalDate date) => Patterned(DatePattern, date, ShortWeekdays);

    /// <summary>"Tue 21 April".</summary>
    public string Day(LocalDate date) => Patterned(WeekdayPattern, date, ShortWeekdays);

    /// <summary>"Tuesday 21 April".</summary>
    public string WholeDay(LocalDate date) => Patterned(WeekdayPattern, date, Weekdays);

    /// <summary>"Tue 21".</summary>
    public string ShortDay(LocalDate date) => Patterned(ShortPattern, date, ShortWeekdays);

    /// <summary>"6 to 15 May", "29 April to 3 May".</summary>
    public string Dates(LocalDate from, LocalDate to) =>
        from == to ? Date(from)
        : Filled("{0} to {1}", [from.Month == to.Month && from.Year == to.Year ? Patterned(DayPattern, from, ShortWeekdays) : Date(from), Date(to)]);

    /// <summary>"today", "tomorrow", "Thursday", "Thu 30 April": as one says it on a date.</summary>
    public string DayFrom(LocalDate today, LocalDate date) => Period.DaysBetween(today, date) switch
    {
        0 => Word("today"),
        1 => Word("tomorrow"),
        -1 => Word("yesterday"),
        > 1 and < 7 => Weekdays[(int)date.DayOfWeek - 1],
        _ => Day(date),
    };

    /// <summary>"1 day", "3 days".</summary>
    public string Counted(double count, string noun) =>
        Counted(count, "{0}" + Joined + noun, "{0}" + Joined + noun + "s", [Number(count, 1)]);

    /// <summary>"7 in 10"; never a bare per cent, and never certainty.</summary>
    public string Chance(double share) => share switch
    {
        < 0.05 => Word("less than 1 in 10"),
        > 0.95 => Word("more than 9 in 10"),
        _ => Filled("{0} in 10", [Number(Math.Clamp(Math.Round(share * 10, MidpointRounding.AwayFromZero), 1, 9), 0)]),
    };

    /// <summary>What stands around the number of a chance: " in 10".</summary>
    public string ChanceWords => Word("{0} in 10").Replace("{0}", "", StringComparison.Ordinal);

    /// <summary>"cover the tomatoes" of a sentence's beginning; "USDA row" keeps its capitals.</summary>
    public string WithinSentence(string text) =>
        !KeepsCapitals && text.Length > 1 && char.IsUpper(text[0]) && !char.IsUpper(text[1]) ? char.ToLowerInvariant(text[0]) + text[1..] : text;

    /// <summary>Rounded half away from zero, without trailing zeros; minus zero is zero.</summary>
    public string Number(double value, int decimals)
    {
        double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        return Marked((rounded == 0 ? 0 : rounded).ToString("0.##", CultureInfo.InvariantCulture));
    }

    /// <summary>A number written with a point, with the language's own mark.</summary>
    public string Marked(string number) => DecimalMark == '.' ? number : number.Replace('.', DecimalMark);

    private string Patterned(string pattern, LocalDate date, ImmutableArray<string> weekdays) => pattern
        .Replace("{day}", date.Day.ToString(CultureInfo.InvariantCulture), StringComparison.Ordinal)
        .Replace("{month}", Months[date.Month - 1], StringComparison.Ordinal)
        .Replace("{weekday}", weekdays[(int)date.DayOfWeek - 1], StringComparison.Ordinal);

    private static string Fill(string template, ReadOnlySpan<string> holes)
    {
        var said = new StringBuilder(template.Length + 16 * holes.Length);
        for (int at = 0; at < template.Length; at++)
        {
            if (template[at] == '{' && at + 2 < template.Length && template[at + 2] == '}' && template[at + 1] - '0' is var hole && hole >= 0 && hole < holes.Length)
            {
                said.Append(holes[hole]);
                at += 2;
            }
            else
            {
                said.Append(template[at]);
            }
        }
        return said.ToString();
    }
}
