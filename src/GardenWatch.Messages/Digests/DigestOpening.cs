using GardenWatch.Messages.Letters;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Digests;

/// <summary>Subject, headline and lead: the one deed, then the rest of the day.</summary>
internal sealed class DigestOpening
{
    /// <summary>What a phone shows of a subject: the day and the deed stand within it.</summary>
    public const int SubjectSeen = 60;

    private readonly Agenda _agenda;
    private readonly DigestOccasion _occasion;
    private readonly Words _words;
    private readonly Job? _first;
    private readonly Job[] _others;
    private readonly string? _ahead;
    private readonly string? _todaySky;
    private readonly string _nothing;

    public DigestOpening(Agenda agenda, DigestOccasion occasion, Words words, WeatherWords weather, JobLines lines)
    {
        (_agenda, _occasion, _words) = (agenda, occasion, words);
        Job[] open = [.. agenda.Jobs.Where(job => job.Standing == Standing.Now)];
        Job[] now = [.. open.Where(job => !lines.StepsBehind(job)).OrderByDescending(job => job.Protects)];
        _first = now.FirstOrDefault();
        _others = [.. now.Skip(1)];
        bool frostIsSaid = _first is { Protects: true, Threat: null, Kind: JobKind.Cover or JobKind.Protect or JobKind.Vent };
        _ahead = words.DoubtInBrief(agenda) ?? weather.InBrief(agenda.Week, frostIsSaid);
        _todaySky = weather.Sentence(agenda.Week, frostIsSaid);
        bool nothingNew = open.Length > 0;
        Headline = _first is not null ? Headlined(_first, lines)
            : nothingNew ? words.Speech.Say("Nothing new to do today")
            : words.Speech.Say("Nothing to do today");
        _nothing = nothingNew ? words.Speech.Say("nothing new to do") : words.Speech.Say("nothing to do");
        Subject = SubjectOf(lines);
        Lead = LeadOf();
    }

    private Speech Speech => _words.Speech;

    public bool IsQuiet => _first is null;

    public string Headline { get; }

    public string Subject { get; }

    public string Lead { get; }

    private static string Headlined(Job job, JobLines lines) =>
        job.ActBy is null ? JobLines.Deed(job) : $"{JobLines.Deed(job)} {lines.When(job)}";

    /// <summary>"Tue 21 April: cover the tomatoes by 7:30 pm, 3 more jobs, rain on Thursday".</summary>
    private string SubjectOf(JobLines lines)
    {
        string day = Speech.Day(_agenda.Date) + ": ";
        string deed = _nothing;
        if (_first is not null)
        {
            string by = _first.ActBy is null ? "" : " " + lines.When(_first);
            deed = Plain.Cut(_words.FirstLower(JobLines.Deed(_first)), SubjectSeen - 1 - day.Length - by.Length) + by;
        }
        string more = _others.Length == 0 ? "" : Speech.Many(_others.Length, ", {0} more job", ", {0} more jobs");
        string ahead = _ahead is null ? "" : ", " + _ahead;
        return (day + deed + more + ahead).Replace('\u00A0', ' ');
    }

    private string LeadOf()
    {
        var said = new List<string>();
        if (_occasion.DueAt is { } due)
            said.Add(Speech.Say($"This digest is late; it was due at {_words.OnDay(due)}."));
        if (_occasion.NextAt is { } hour)
            said.Add(Speech.Say($"This is the garden’s first digest, sent as soon as it could be; the next ones come at {Speech.Hour(hour)}."));
        if (_occasion.Skipped is { } skipped)
            said.Add(skipped.Length == 1
                ? Speech.Say($"The last one, of {Speech.Day(skipped.Start)}, was skipped: it could not be sent before noon.")
                : Speech.Say($"Those of {Speech.Dates(skipped.Start, skipped.End)} were skipped: they could not be sent before noon."));
        if (_occasion.Sitting is { } absence)
            said.Add(Speech.Say($"You look after the garden until {Speech.Day(absence.To)}: here is only what can’t wait till then."));
        if (WeatherDoubt() is { } doubt)
            said.Add(doubt);
        if (Alive() is { } alive)
            said.Add(alive);
        if (IsQuiet)
            said.Add(_todaySky ?? "");
        else
            said.Add(RestOfTheDay());
        if (!IsQuiet && _ahead is not null && _agenda.Weather.State == WeatherState.Fresh)
            said.Add(_others.Length == 0 && _todaySky is not null ? _todaySky : Words.Sentence(_ahead));
        return string.Join(' ', said.Where(sentence => sentence.Length > 0));
    }

    /// <summary>Who comes back after weeks reads first what lives; nothing is held against them.</summary>
    private string? Alive()
    {
        if (_agenda.SilentForDays is null)
            return null;
        string[] growing = [.. _agenda.Sowings.Where(sowing => sowing.Stage is not ("planned" or "dropped" or "missed" or "skipped" or "finished")).Select(sowing => _words.FirstLower(Speech.Word(sowing.Crop))).Distinct()];
        return growing.Length == 0 ? null : Speech.Say($"Growing, by all that is known: {string.Join(", ", growing)}.");
    }

    /// <summary>"The forecast is 41 hours old, so advice is cautious. What is not said for that reason is named at the end."</summary>
    private string? WeatherDoubt() => _words.Doubt(_agenda) is not { } doubt ? null
        : Speech.Say($"{doubt}, so advice is cautious.") + (_agenda.Notes.Length > 0 ? Speech.Say(" What is not said for that reason is named at the end.") : "");

    /// <summary>"Two more can’t wait. Three more jobs suit today, 40 minutes in all."</summary>
    private string RestOfTheDay()
    {
        int pressing = _others.Count(job => job.Protects);
        Job[] suiting = [.. _others.Where(job => !job.Protects)];
        string first = pressing == 0 ? "" : Words.FirstUpper(Speech.Many(pressing, "{1} more can’t wait.", "{1} more can’t wait.", _words.Count(pressing)));
        if (suiting.Length == 0)
            return first;
        string time = suiting.All(job => job.Minutes is not null)
            ? suiting.Length == 1 ? $", {_words.Minutes(suiting[0].Minutes!.Value)}" : Speech.Say($", {_words.Minutes(suiting.Sum(job => job.Minutes!.Value))} in all")
            : "";
        return (first.Length > 0 ? first + " " : "") + Words.FirstUpper(Speech.Many(
            suiting.Length, "{1} more job suits today{2}.", "{1} more jobs suit today{2}.", _words.Count(suiting.Length), time));
    }
}
