using System.Globalization;
using GardenWatch.Agronomy.Soil;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Readings;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>One set of answers on its way into the journal: each gives entries and a sentence, or a question.</summary>
internal sealed class Taking(GardenStore store, Mornings mornings, Plan plan, GardenPlace place, IncomingAnswers incoming, string batch, Instant now)
{
    private const int LongestWaitDays = 366;
    private const int LongestNote = 4000;
    private const double MostRainMm = 400, ColdestC = -50, WarmestC = 50;
    // So soon after one another the same picking told twice is one.
    private static readonly Duration ToldTwice = Duration.FromMinutes(15);

    private readonly List<JournalEntry> _entries = [];
    private readonly Dictionary<string, string> _sentences = new(StringComparer.Ordinal);
    private readonly IReadOnlyList<JournalEntry> _stored = store.Journal.AsOf(plan.GardenId, now);
    private readonly Speech _speech = SpeechOf(plan, place, incoming.Origin);
    private readonly LocalDate _today = place.Calendar.DateOf(now);
    private readonly Lazy<KnownWeather> _known = new(() => mornings.KnownOf(place, now));
    private readonly Lazy<Agenda> _agenda = new(() => mornings.AgendaOf(plan, place, now));
    private MessageJobs? _numbers;

    public IReadOnlyList<JournalEntry> Entries => _entries;

    public List<string> Understood { get; } = [];

    public List<string> Asked { get; } = [];

    /// <summary>A mail is answered in the garden's language; terminal and page speak English.</summary>
    internal static Speech SpeechOf(Plan plan, GardenPlace place, AnswerOrigin origin) =>
        new(plan.Units, place.Calendar.Zone, origin == AnswerOrigin.Mail ? plan.Tongue : null);

    /// <summary>What was said of an entry when it was taken.</summary>
    public string SentenceOf(JournalEntry entry) => _sentences.GetValueOrDefault(entry.Id!, "");

    /// <summary>"Done already, by sam@example.org, Tuesday: Cover the tomatoes (low bed)."</summary>
    public string Already(JournalEntry entry)
    {
        string by = entry.Person is not { } person ? ""
            : string.Equals(person, incoming.Person, StringComparison.OrdinalIgnoreCase) ? _speech.Say(", by you")
            : _speech.Say($", by {person}");
        string day = _speech.DayFrom(_today, entry.Date), thing = JournalWords.Thing(entry, _speech);
        return entry.Kind switch
        {
            EntryKind.Done => _speech.Say($"Done already{by}, {day}: {thing}."),
            EntryKind.Skip => _speech.Say($"Skipped already{by}, {day}: {thing}."),
            EntryKind.Later => _speech.Say($"Put off already{by}, {day}: {thing}."),
            _ => _speech.Say($"Noted already{by}, {day}: {thing}."),
        };
    }

    public void Take(Answer answer)
    {
        if (answer.On is { } on && on > _today)
        {
            Asked.Add(_speech.Say($"{_speech.Day(on)} is still to come, so nothing was recorded for it."));
            return;
        }
        switch (answer)
        {
            case Answer.Done(var jobs, _):
                foreach (string job in jobs)
                    Answered(EntryKind.Done, job, answer.On ?? _today, null);
                break;
            case Answer.Skip(var jobs, _):
                foreach (string job in jobs)
                    Answered(EntryKind.Skip, job, answer.On ?? _today, null);
                break;
            case Answer.Later(var jobs, var until):
                PutOff([.. jobs], until ?? _today.PlusDays(1));
                break;
            case Answer.Note note:
                Noted(note);
                break;
            case Answer.Reading reading:
                Read(reading);
                break;
            case Answer.Reset(var kind, var bed):
                Reset(kind, bed);
                break;
            case Answer.Picked picked:
                Picked(picked);
                break;
            case Answer.Undo:
                Undo();
                break;
            case Answer.Stop or Answer.Start when incoming.Origin != AnswerOrigin.Mail && !IsTold(incoming.Person):
                Asked.Add($"The plan of {plan.Name} names nobody with the address {incoming.Person}; it tells {string.Join(", ", plan.Digest.To.Select(to => to.Address))}.");
                break;
            case Answer.Stop:
                Understood.Add(incoming.Origin == AnswerOrigin.Mail
                    ? _speech.Say($"You get no more messages of {plan.Name}. To have them again, answer with the one word: start")
                    : _speech.Say($"{incoming.Person ?? ""} gets no more messages of {plan.Name}, until “start” is said."));
                break;
            case Answer.Start:
                Understood.Add(incoming.Origin == AnswerOrigin.Mail
                    ? _speech.Say($"You get the messages of {plan.Name} again, as the plan has it.")
                    : _speech.Say($"{incoming.Person ?? ""} gets the messages of {plan.Name} again, as the plan has it."));
                break;
            case Answer.Unclear(_, var question):
                Asked.Add(question);
                break;
        }
    }

    private bool IsTold(string? person) => plan.Digest.To.Select(to => to.Address).Concat(plan.Away.Select(away => away.Sitter)).Contains(person, StringComparer.OrdinalIgnoreCase);

    /// <summary>A picture goes with the first entry that came along, and else is one by itself.</summary>
    public void Take(IncomingPicture picture, PictureOutcome outcome)
    {
        switch (outcome)
        {
            case PictureOutcome.Refused(var reason):
                Asked.Add($"“{picture.Name}” {reason}.");
                break;
            case PictureOutcome.Kept(var file):
                if (_entries.Count == 0)
                    Add(New(EntryKind.Note, _today) with { Pictures = file }, _speech.Say("Kept: a picture."));
                else
                    _entries[0] = _entries[0] with { Pictures = _entries[0].Pictures is { } others ? $"{others} {file}" : file };
                break;
        }
    }

    private void Answered(EntryKind kind, string word, LocalDate on, LocalDate? until)
    {
        if (JobOf(word) is not var (id, job, name))
            return;
        var journal = InForce();
        if ((journal.Of(job, EntryKind.Done) ?? (kind == EntryKind.Skip ? journal.Of(job, EntryKind.Skip) : null)) is { } before)
        {
            Understood.Add(Already(before));
            return;
        }
        if (kind == EntryKind.Later && journal.Of(job, EntryKind.Later) is { } put && put.Until == until)
        {
            Understood.Add(Already(put));
            return;
        }
        var asked = _agenda.Value.Jobs.FirstOrDefault(each => each.Id == id);
        var entry = New(kind, on) with
        {
            JobId = id,
            SubjectId = job.SubjectId,
            Until = until,
            BedId = asked?.BedId ?? NameInPlan.OfId(plan, job.SubjectId)?.BedId,
            SowingId = asked?.SowingId,
            About = name,
        };
        Add(entry, JournalWords.Said(entry, _speech, _today));
    }

    private void PutOff(string[] jobs, LocalDate until)
    {
        if (until <= _today || until > _today.PlusDays(LongestWaitDays))
        {
            Asked.Add(until <= _today
                ? _speech.Say($"{_speech.Day(until)} is not after today, so nothing was put off; name a day to come.")
                : _speech.Say($"{_speech.Day(until)} {until.Year} is more than a year off; skip it, or name a nearer day."));
            return;
        }
        foreach (string job in jobs)
            Answered(EntryKind.Later, job, _today, until);
    }

    private void Noted(Answer.Note note)
    {
        string text = note.Text.Trim();
        if (text.Length == 0)
        {
            Asked.Add(_speech.Say("The note has no words, so nothing was kept."));
            return;
        }
        if (text.Length > LongestNote)
        {
            text = text[..LongestNote];
            Asked.Add(_speech.Say($"The note is longer than {LongestNote} letters; what goes beyond was not kept."));
        }
        var entry = New(EntryKind.Note, note.On ?? _today) with { Text = text };
        if (note.About is { } about)
        {
            if (Placed(entry, about, out string? question) is { } placed)
                entry = placed;
            else // Words are not to be written twice, so they are kept all the same.
                Asked.Add(_speech.Say($"{question} The note is kept without a place."));
        }
        if (InForce().Entries.FirstOrDefault(each => each.Kind == EntryKind.Note && each.Text == text && each.Date == entry.Date && each.About == entry.About) is { } before)
            Understood.Add(Already(before));
        else
            Add(entry, JournalWords.Said(entry, _speech, _today));
    }

    private void Read(Answer.Reading reading)
    {
        if (WhyNot(reading) is { } wrong)
        {
            Asked.Add(wrong);
            return;
        }
        var entry = New(EntryKind.Reading, reading.On ?? _today) with { Measure = reading.Kind, Value = reading.Value, DepthMetres = reading.DepthMetres };
        // One gauge serves the whole garden.
        if (reading is { Bed: { } bed, Kind: not ReadingKind.Rain })
        {
            if (Placed(entry, bed, out string? question) is not { BedId: { } bedId })
            {
                question ??= _speech.Say($"“{bed}” stands in no bed.");
                Asked.Add(_speech.Say($"{question} The reading was not recorded."));
                return;
            }
            entry = entry with { BedId = bedId, SubjectId = bedId, About = plan.BedOf(bedId).Name };
            if (reading.DepthMetres > SoilTemperature.Deepest(plan.BedOf(bedId).ContainerLitres is not null))
            {
                Asked.Add(_speech.Say($"{plan.BedOf(bedId).Name} is not so deep as {_speech.Length(reading.DepthMetres.Value)}; the reading was not recorded."));
                return;
            }
        }
        if (InForce().Entries.FirstOrDefault(each => each.Kind == EntryKind.Reading && each.Measure == entry.Measure && each.Value == entry.Value
            && each.Date == entry.Date && each.BedId == entry.BedId && each.DepthMetres == entry.DepthMetres) is { } before)
        {
            Understood.Add(Already(before));
            return;
        }
        var modelled = ModelledReading.Of(plan, place.Calendar, _known.Value, reading.Kind, reading.DepthMetres, entry.BedId, entry.Date, now);
        entry = entry with { Modelled = modelled.Value, ClearAndCalm = modelled.ClearAndCalm };
        Add(entry, JournalWords.Said(entry, _speech, _today));
    }

    private string? WhyNot(Answer.Reading reading) => reading switch
    {
        { Kind: ReadingKind.Rain, Value: < 0 or > MostRainMm } => _speech.Say($"{_speech.Water(reading.Value)} of rain in a day can’t be; the reading was not recorded."),
        { Kind: not ReadingKind.Rain, Value: < ColdestC or > WarmestC } => _speech.Say($"{_speech.Temperature(reading.Value)} is outside of what a garden sees; look at the number and its unit. The reading was not recorded."),
        { DepthMetres: < 0 or > 1 } => _speech.Say($"The soil is reckoned to {_speech.Length(1)} at most; the reading was not recorded."),
        _ when double.IsNaN(reading.Value) => _speech.Say("The reading has no number, so it was not recorded."),
        _ => null,
    };

    private void Reset(ReadingKind kind, string? bed)
    {
        var entry = New(EntryKind.Reset, _today) with { Measure = kind };
        if (bed is not null)
        {
            if (Placed(entry, bed, out string? question) is not { BedId: { } bedId })
            {
                Asked.Add(question ?? _speech.Say($"“{bed}” stands in no bed."));
                return;
            }
            entry = entry with { BedId = bedId, SubjectId = bedId, About = plan.BedOf(bedId).Name };
        }
        Add(entry, JournalWords.Said(entry, _speech, _today));
    }

    private void Picked(Answer.Picked picked)
    {
        var entry = New(EntryKind.Picked, picked.On ?? _today) with { Grams = picked.Grams, Pieces = picked.Pieces };
        if (picked is { Grams: <= 0 } or { Pieces: <= 0 })
        {
            Asked.Add(_speech.Say("Nothing was picked by that number, so nothing was recorded."));
            return;
        }
        if (Placed(entry, picked.What, out string? question) is not { } placed)
        {
            Asked.Add(_speech.Say($"{question} The picking was not recorded."));
            return;
        }
        if (InForce().Entries.LastOrDefault(each => each.Kind == EntryKind.Picked && each.SubjectId == placed.SubjectId && each.Date == placed.Date
            && each.Grams == placed.Grams && each.Pieces == placed.Pieces && each.Person == placed.Person && now - each.RecordedAt < ToldTwice) is { } before)
        {
            Understood.Add(Already(before));
            return;
        }
        Add(placed, JournalWords.Said(placed, _speech, _today));
    }

    private void Undo()
    {
        var last = InForce().LastRecorded(incoming.Person);
        if (last.IsEmpty)
        {
            Asked.Add(incoming.Person is { } person ? _speech.Say($"Nothing is recorded from {person} that could be taken back.") : _speech.Say("Nothing is recorded that could be taken back."));
            return;
        }
        foreach (var entry in last)
            Add(New(EntryKind.Undo, _today) with { Undoes = entry.Id, SubjectId = entry.SubjectId, BedId = entry.BedId, About = entry.About },
                _speech.Say($"Taken back: {JournalWords.Brief(entry, _speech)}."));
    }

    /// <summary>The entry with its place in the plan; null, with what to ask, when the name is not clear.</summary>
    private JournalEntry? Placed(JournalEntry entry, string name, out string? question)
    {
        question = null;
        if (IsNumber(name, out _) || JobId.TryParse(name, out _))
        {
            if (JobOf(name, out question) is not var (id, job, called))
                return null;
            var subject = NameInPlan.OfId(plan, job.SubjectId);
            return entry with { JobId = id, SubjectId = job.SubjectId, BedId = subject?.BedId, About = entry.Kind == EntryKind.Picked ? subject?.Name ?? called : called };
        }
        switch (NameInPlan.Read(plan, name))
        {
            case NameInPlan.Found found:
                return entry with { SubjectId = found.SubjectId, BedId = found.BedId, About = found.Name };
            case NameInPlan.Several(var names):
                question = _speech.Say($"“{name}” can be {string.Join(_speech.Say(" or "), names)}; say which.");
                return null;
            default:
                question = NameInPlan.Read(plan, name) is NameInPlan.Unknown { Nearest: { } near }
                    ? _speech.Say($"The plan has no “{name}”; did you mean {near}?")
                    : _speech.Say($"The plan has no “{name}”.");
                return null;
        }
    }

    private (string Id, JobId Job, string Name)? JobOf(string word)
    {
        if (JobOf(word, out string? question) is { } found)
            return found;
        Asked.Add(question!);
        return null;
    }

    /// <summary>The job of a number, in the message that is answered, or of a whole id; null with the reason.</summary>
    private (string Id, JobId Job, string Name)? JobOf(string word, out string? question)
    {
        question = null;
        string? id = null, name = null;
        if (IsNumber(word, out int number))
        {
            var numbers = Numbers;
            if (!numbers.Jobs.TryGetValue(number, out var numbered))
            {
                question = numbers.Jobs.IsEmpty
                    ? _speech.Say($"There is no job {number}: {numbers.Called} has none.")
                    : _speech.Say($"There is no job {number} in {numbers.Called}; it has {string.Join(", ", numbers.Jobs.Keys)}.");
                return null;
            }
            (id, name) = numbered;
        }
        id ??= word;
        if (!JobId.TryParse(id, out var job))
        {
            question = _speech.Say($"“{word}” is no job: write its number in the message.");
            return null;
        }
        if (job.Value.GardenId != plan.GardenId)
        {
            question = _speech.Say($"Job {word} is of another garden (`{job.Value.GardenId}`), not of {plan.Name}; nothing was recorded for it.");
            return null;
        }
        var asked = _agenda.Value.Jobs.FirstOrDefault(each => each.Id == id);
        var subject = NameInPlan.OfId(plan, job.Value.SubjectId);
        if (name is null && asked is null && subject is null)
        {
            question = _speech.Say($"The plan has nothing by the name of `{job.Value.SubjectId}`, so nothing was recorded for {word}.");
            return null;
        }
        return (id, job.Value, name is { Length: > 0 } ? name : asked is not null ? asked.NameWithBed : $"{job.Value.Kind.Word()}: {subject?.Name ?? job.Value.SubjectId}");
    }

    private MessageJobs Numbers => _numbers ??= incoming.Message is { } id && store.Outbox.FindRow(id) is { } row
        ? MessageJobs.Of(row, _speech)
        : MessageJobs.Last(store, plan, incoming.Person, _agenda.Value, _speech, now);

    private static bool IsNumber(string word, out int number) => int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out number);

    /// <summary>What counts, with what was taken so far of these answers.</summary>
    private Journal InForce() => Journal.AsOf([.. _stored, .. _entries], now);

    private JournalEntry New(EntryKind kind, LocalDate on) => new(kind, on, now, null, null, null, null)
    {
        Id = JournalEntry.IdOf(batch, _entries.Count + 1),
        Person = incoming.Person,
        Origin = incoming.Origin,
    };

    private void Add(JournalEntry entry, string sentence)
    {
        _entries.Add(entry);
        _sentences[entry.Id!] = sentence;
        Understood.Add(sentence);
    }
}
