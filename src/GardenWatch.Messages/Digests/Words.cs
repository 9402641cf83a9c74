using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Digests;

/// <summary>How messages say hours, counts and cautions: each sentence is written once, here.</summary>
internal sealed class Words(Speech speech, LocalDate today, Instant asOf)
{
    private static readonly string[] Numerals =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

    public const string LabelFirst = "A product’s label, local rules and licensed practice come before anything said here.";
    public const string ByReply = "Reply with “done\u00A01”, “later\u00A02 3\u00A0days” or “skip\u00A03”. Anything else you write is kept as a note.";
    public const string ByCommand = "Answer with the command “gardenwatch done\u00A01”, “later\u00A02 3\u00A0days” or “skip\u00A03”; replies to this mail are not read.";

    public Speech Speech { get; } = speech;

    public LocalDate Today { get; } = today;

    /// <summary>"by 7:30 pm", "by tomorrow, 6 am".</summary>
    public string By(Instant instant) => "by " + OnDay(instant);

    /// <summary>The best hours, and one later stretch of the same day: "until 7:30 am or 5:30 to 8:30 pm".</summary>
    public string DuringDay(Window best, IReadOnlyList<Window> windows)
    {
        var later = windows.Where(window => window.From > best.From && DateOf(window.From) == DateOf(best.From)).ToList();
        return later is [var other] ? $"{During(best)} or {Speech.Hours(other.From, other.Until)}" : During(best);
    }

    /// <summary>"5:30 to 7:45 pm", "until 8 pm" once it has begun, "any hour", "Wednesday, 5:30 to 8:30 pm".</summary>
    public string During(Window window)
    {
        var from = DateOf(window.From);
        var until = DateOf(window.Until);
        string day = from == Today ? "" : Speech.DayFrom(Today, from) + ", ";
        if (window.From <= asOf)
            return window.Until - asOf >= Duration.FromHours(20) ? "any hour" : "until " + OnDay(window.Until);
        if (window.Until - window.From >= Duration.FromHours(20))
            return day + "any hour";
        return from == until
            ? day + Speech.Hours(window.From, window.Until)
            : $"{day}{Speech.Hour(window.From)} to {Speech.DayFrom(Today, until)}, {Speech.Hour(window.Until)}";
    }

    /// <summary>"likely 6 to 15 May".</summary>
    public static string Likely(DateInterval dates) => "likely " + Joined(Speech.Dates(dates.Start, dates.End));

    /// <summary>When the way back is due: "Off again on Wednesday after 8:30 am."</summary>
    public string Undone(JobKind kind, Instant at)
    {
        var date = DateOf(at);
        string day = Speech.DayFrom(Today, date);
        string when = (date - Today).Days is 0 or 1 ? day : "on " + day;
        return $"{WayBack(kind)} {when} after {Speech.Hour(at)}.";
    }

    /// <summary>"Off again": what is done when a job is undone.</summary>
    public static string WayBack(JobKind kind) => kind switch
    {
        JobKind.Cover or JobKind.Shade or JobKind.Net or JobKind.Shelter => "Off again",
        JobKind.Vent => "Closed again",
        JobKind.Uncover => "Back on",
        _ => "Undone",
    };

    /// <summary>"Half an inch deep, an inch apart; 10 minutes."</summary>
    public static string? HowTo(string? how, int? minutes)
    {
        string said = Plain.OneLine(how, Plain.SentenceLength).TrimEnd('.', ' ');
        return (said, minutes) switch
        {
            ("", null) => null,
            ("", int m) => $"About {Minutes(m)}.",
            (_, null) => Sentence(said),
            (_, int m) => $"{FirstUpper(said)}; {Minutes(m)}.",
        };
    }

    /// <summary>"40 minutes", "2.5 hours".</summary>
    public static string Minutes(int minutes) =>
        minutes < 90 ? Speech.Counted(minutes, "minute") : Speech.Counted(Math.Round(minutes / 30.0) / 2, "hour");

    /// <summary>How sure it is and what that rests on.</summary>
    public static string Sure(Chance chance) => chance.Source switch
    {
        ChanceSource.Members => $"Chance {Odds(chance.Value)}, by the forecast’s runs.",
        ChanceSource.Forecast => $"Chance {Odds(chance.Value)}, by the forecast.",
        _ => $"Chance {Odds(chance.Value)}, by this place’s past years.",
    };

    /// <summary>"7 in 10", held together at a line's end.</summary>
    public static string Odds(double share) => Joined(Speech.Chance(share));

    public static string InsteadOf(bool protects, string otherwise) =>
        (protects ? "If you can’t: " : "Otherwise: ") + FirstLower(Sentence(Plain.OneLine(otherwise, Plain.SentenceLength)));

    /// <summary>"50 minutes", "41 hours", "3 days".</summary>
    public static string Age(Duration age) => age.TotalMinutes < 90
        ? Speech.Counted(Math.Max(1, Math.Round(age.TotalMinutes)), "minute")
        : age.TotalHours < 72 ? Speech.Counted(Math.Round(age.TotalHours), "hour")
        : Speech.Counted(Math.Floor(age.TotalDays), "day");

    /// <summary>"The forecast is 41 hours old", "No forecast is known"; null while it is fresh.</summary>
    public static string? Doubt(Agenda agenda) => agenda.Weather.State switch
    {
        WeatherState.Fresh => null,
        WeatherState.Stale => OldForecast(agenda) is { } age ? $"The forecast is {age} old" : "The forecast is old",
        _ => "No forecast is known",
    };

    /// <summary>As a subject has room for it: "forecast 41 hours old", "no forecast".</summary>
    public static string? DoubtInBrief(Agenda agenda) => agenda.Weather.State switch
    {
        WeatherState.Fresh => null,
        WeatherState.Stale => OldForecast(agenda) is { } age ? $"forecast {age} old" : "old forecast",
        _ => "no forecast",
    };

    private static string? OldForecast(Agenda agenda) =>
        (agenda.Weather.Age ?? agenda.AsOf - agenda.Weather.FetchedAt) is { } age ? Age(age) : null;

    /// <summary>"5:10 am", "yesterday, 5:10 am", "Sun 19 April, 5:10 am".</summary>
    public string OnDay(Instant instant)
    {
        var date = DateOf(instant);
        return date == Today ? Speech.Hour(instant) : $"{Speech.DayFrom(Today, date)}, {Speech.Hour(instant)}";
    }

    /// <summary>"tonight", "tomorrow night", "Thursday night": the night that begins on the date.</summary>
    public string Night(LocalDate date) => date == Today ? "tonight" : Speech.DayFrom(Today, date) + " night";

    /// <summary>"on Thursday", "tomorrow", "today".</summary>
    public string On(LocalDate date) => (date - Today).Days is >= -1 and <= 1
        ? Speech.DayFrom(Today, date)
        : "on " + Speech.DayFrom(Today, date);

    /// <summary>"one" to "twelve", then figures.</summary>
    public static string Count(int count) => count < Numerals.Length ? Numerals[count] : count.ToString(System.Globalization.CultureInfo.InvariantCulture);

    public static string Jobs(int count, string which = "") =>
        $"{Count(count)} {which}job{(count == 1 ? "" : "s")}";

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

    /// <summary>"cover the tomatoes"; "USDA row" keeps its capitals.</summary>
    public static string FirstLower(string text) =>
        text.Length > 1 && char.IsUpper(text[0]) && !char.IsUpper(text[1]) ? char.ToLowerInvariant(text[0]) + text[1..] : text;

    public static string Joined(string words) => words.Replace(' ', '\u00A0');

    private LocalDate DateOf(Instant instant) => instant.InZone(Speech.Zone).Date;
}
