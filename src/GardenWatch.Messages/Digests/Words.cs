using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>How messages say hours, counts and cautions: each sentence is written once, here.</summary>
internal sealed class Words(Speech speech, LocalDate today, Instant asOf)
{
    // Answers are read in English, whatever the message speaks. No constants: the compiler would make one text of a sentence
    // that holds nothing else, and its holes would be gone.
    public static readonly string Done = "done\u00A01";
    private static readonly string Later = "later\u00A02 3\u00A0days", Skip = "skip\u00A03";

    public string LabelFirst => Speech.Say("A product’s label, local rules and licensed practice come before anything said here.");

    public string ByReply =>
        Speech.Say($"Reply with “{Done}”, “{Later}” or “{Skip}”. Anything else you write is kept as a note.");

    public string ByCommand =>
        Speech.Say($"Answer with the command “gardenwatch {Done}”, “{Later}” or “{Skip}”; replies to this mail are not read.");

    public Speech Speech { get; } = speech;

    public LocalDate Today { get; } = today;

    /// <summary>Not within the hour.</summary>
    public bool IsToCome(Instant instant) => instant - asOf > Duration.FromHours(1);

    /// <summary>"by 7:30 pm", "by tomorrow, 6 am".</summary>
    public string By(Instant instant) => Speech.Say($"by {OnDay(instant)}");

    /// <summary>The best hours, and one later stretch of the same day: "until 7:30 am or 5:30 to 8:30 pm".</summary>
    public string DuringDay(Window best, IReadOnlyList<Window> windows)
    {
        var later = windows.Where(window => window.From > best.From && DateOf(window.From) == DateOf(best.From)).ToList();
        return later is [var other] ? Speech.Say($"{During(best)} or {Speech.Hours(other.From, other.Until)}") : During(best);
    }

    /// <summary>"5:30 to 7:45 pm", "until 8 pm" once it has begun, "any hour", "Wednesday, 5:30 to 8:30 pm".</summary>
    public string During(Window window)
    {
        var from = DateOf(window.From);
        var until = DateOf(window.Until);
        string day = from == Today ? "" : Speech.DayFrom(Today, from) + ", ";
        if (window.From <= asOf)
            return window.Until - asOf >= Duration.FromHours(20) ? AnyHour : Speech.Say($"until {OnDay(window.Until)}");
        if (window.Until - window.From >= Duration.FromHours(20))
            return day + AnyHour;
        return from == until
            ? day + Speech.Hours(window.From, window.Until)
            : day + Speech.Say($"{Speech.Hour(window.From)} to {Speech.DayFrom(Today, until)}, {Speech.Hour(window.Until)}");
    }

    public string AnyHour => Speech.Say("any hour");

    /// <summary>"likely 6 to 15 May".</summary>
    public string Likely(DateInterval dates) => Speech.Say($"likely {Joined(Speech.Dates(dates.Start, dates.End))}");

    /// <summary>When the way back is due: "Off again on Wednesday after 8:30 am."</summary>
    public string Undone(JobKind kind, Instant at)
    {
        var date = DateOf(at);
        string day = Speech.DayFrom(Today, date);
        string when = (date - Today).Days is 0 or 1 ? day : Speech.Say($"on {day}");
        return Speech.Say($"{WayBack(kind)} {when} after {Speech.Hour(at)}.");
    }

    /// <summary>"Off again": what is done when a job is undone.</summary>
    public string WayBack(JobKind kind) => kind switch
    {
        JobKind.Cover or JobKind.Shade or JobKind.Net or JobKind.Shelter => Speech.Say("Off again"),
        JobKind.Vent => Speech.Say("Closed again"),
        JobKind.Uncover => Speech.Say("Back on"),
        _ => Speech.Say("Undone"),
    };

    /// <summary>"Half an inch deep, an inch apart; 10 minutes."</summary>
    public string? HowTo(string? how, int? minutes)
    {
        string said = Plain.OneLine(how, Plain.SentenceLength).TrimEnd('.', ' ');
        return (said, minutes) switch
        {
            ("", null) => null,
            ("", int m) => Speech.Say($"About {Minutes(m)}."),
            (_, null) => Sentence(said),
            (_, int m) => $"{FirstUpper(said)}; {Minutes(m)}.",
        };
    }

    /// <summary>"40 minutes", "2.5 hours".</summary>
    public string Minutes(int minutes) =>
        minutes < 90 ? Speech.Counted(minutes, "minute") : Speech.Counted(Math.Round(minutes / 30.0) / 2, "hour");

    /// <summary>How sure it is and what that rests on.</summary>
    public string Sure(Chance chance) => chance.Source switch
    {
        ChanceSource.Members => Speech.Say($"Chance {Odds(chance.Value)}, by the forecast’s runs."),
        ChanceSource.Forecast => Speech.Say($"Chance {Odds(chance.Value)}, by the forecast."),
        _ => Speech.Say($"Chance {Odds(chance.Value)}, by this place’s past years."),
    };

    /// <summary>"7 in 10", held together at a line's end.</summary>
    public string Odds(double share) => Joined(Speech.Chance(share));

    /// <summary>"7 in 10" stands in it already.</summary>
    public bool TellsOdds(string said) => said.Replace('\u00A0', ' ').Contains(Speech.Tongue.ChanceWords, StringComparison.Ordinal);

    public string InsteadOf(bool protects, string otherwise) =>
        (protects ? Speech.Say("If you can’t: ") : Speech.Say("Otherwise: ")) + FirstLower(Sentence(Plain.OneLine(otherwise, Plain.SentenceLength)));

    /// <summary>"50 minutes", "41 hours", "3 days".</summary>
    public string Age(Duration age) => age.TotalMinutes < 90
        ? Speech.Counted(Math.Max(1, Math.Round(age.TotalMinutes)), "minute")
        : age.TotalHours < 72 ? Speech.Counted(Math.Round(age.TotalHours), "hour")
        : Speech.Counted(Math.Floor(age.TotalDays), "day");

    /// <summary>"The forecast is 41 hours old", "No forecast is known"; null while it is fresh.</summary>
    public string? Doubt(Agenda agenda) => agenda.Weather.State switch
    {
        WeatherState.Fresh => null,
        WeatherState.Stale => OldForecast(agenda) is { } age ? Speech.Say($"The forecast is {age} old") : Speech.Say("The forecast is old"),
        _ => Speech.Say("No forecast is known"),
    };

    /// <summary>As a subject has room for it: "forecast 41 hours old", "no forecast".</summary>
    public string? DoubtInBrief(Agenda agenda) => agenda.Weather.State switch
    {
        WeatherState.Fresh => null,
        WeatherState.Stale => OldForecast(agenda) is { } age ? Speech.Say($"forecast {age} old") : Speech.Say("old forecast"),
        _ => Speech.Say("no forecast"),
    };

    private string? OldForecast(Agenda agenda) =>
        (agenda.Weather.Age ?? agenda.AsOf - agenda.Weather.FetchedAt) is { } age ? Age(age) : null;

    /// <summary>"5:10 am", "yesterday, 5:10 am", "Sun 19 April, 5:10 am".</summary>
    public string OnDay(Instant instant)
    {
        var date = DateOf(instant);
        return date == Today ? Speech.Hour(instant) : $"{Speech.DayFrom(Today, date)}, {Speech.Hour(instant)}";
    }

    /// <summary>"tonight", "tomorrow night", "Thursday night": the night that begins on the date.</summary>
    public string Night(LocalDate date) => date == Today ? Speech.Say("tonight") : Speech.Say($"{Speech.DayFrom(Today, date)} night");

    /// <summary>"on Thursday", "tomorrow", "today".</summary>
    public string On(LocalDate date) => (date - Today).Days is >= -1 and <= 1
        ? Speech.DayFrom(Today, date)
        : Speech.Say($"on {Speech.DayFrom(Today, date)}");

    /// <summary>"one" to "twelve", then figures.</summary>
    public string Count(int count) => count switch
    {
        0 => Speech.Say("no"),
        1 => Speech.Say("one"),
        2 => Speech.Say("two"),
        3 => Speech.Say("three"),
        4 => Speech.Say("four"),
        5 => Speech.Say("five"),
        6 => Speech.Say("six"),
        7 => Speech.Say("seven"),
        8 => Speech.Say("eight"),
        9 => Speech.Say("nine"),
        10 => Speech.Say("ten"),
        11 => Speech.Say("eleven"),
        12 => Speech.Say("twelve"),
        _ => Speech.Tongue.Number(count, 0),
    };

    /// <summary>Begins with a capital and ends with a stop.</summary>
    public static string Sentence(string text)
    {
        string said = FirstUpper(text.Trim());
        return said.Length == 0 || said[^1] is '.' or '!' or '?' or '…' or '”' or '"' ? said : said + ".";
    }

    public static string Sentences(IEnumerable<string> texts) =>
        string.Join(' ', texts.Select(text => Sentence(Plain.OneLine(text, Plain.SentenceLength))).Where(text => text.Length > 0).Distinct());

    public static string FirstUpper(string text) =>
        text.Length > 0 && char.IsLower(text[0]) ? char.ToUpperInvariant(text[0]) + text[1..] : text;

    public string FirstLower(string text) => Speech.Tongue.WithinSentence(text);

    public static string Joined(string words) => words.Replace(' ', '\u00A0');

    private LocalDate DateOf(Instant instant) => instant.InZone(Speech.Zone).Date;
}
