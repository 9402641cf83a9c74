using System.Globalization;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Setup;

/// <summary>Settings as written or by default, read as what they should be; what cannot be read becomes a fault.</summary>
internal sealed class SettingValues(Dictionary<SettingKey, WrittenValue> written, List<SettingsFault> faults)
{
    private static readonly LocalTimePattern Hours = LocalTimePattern.CreateWithInvariantCulture("H:mm");

    public int FaultCount => faults.Count;

    public WrittenValue? Value(SettingKey key) =>
        written.TryGetValue(key, out var value) && value.Text.Length > 0 ? value
        : key.Default is { } usual ? new(usual, "default", 0, 0)
        : null;

    public string? Text(SettingKey key) => Value(key)?.Text;

    public WrittenValue? FirstOf(string section) =>
        SettingKey.All.Where(key => key.Section == section).Select(written.GetValueOrDefault).FirstOrDefault(value => value is not null);

    public Uri? Address(SettingKey key, string? example = null)
    {
        if (Text(key) is not { } text)
            return null;
        if (Uri.TryCreate(text, UriKind.Absolute, out var address) && address.Scheme is "http" or "https")
            return address;
        AddFault(key, $"Write the whole web address, as `{key.Word}: {key.Default ?? example}`.");
        return null;
    }

    public int? Number(SettingKey key, int least, int most)
    {
        if (Text(key) is not { } text)
            return null;
        if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= least && number <= most)
            return number;
        AddFault(key, $"Write a number from {least} to {most}.");
        return null;
    }

    /// <summary>"60 minutes", "1 hour", or "01:00:00".</summary>
    public TimeSpan? Span(SettingKey key)
    {
        string text = Text(key)!;
        if (text.Split(' ', StringSplitOptions.RemoveEmptyEntries) is [var count, var unit]
            && int.TryParse(count, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number < 10_000)
        {
            switch (unit)
            {
                case "minute" or "minutes" or "min": return TimeSpan.FromMinutes(number);
                case "hour" or "hours" or "h": return TimeSpan.FromHours(number);
            }
        }
        if (TimeSpan.TryParseExact(text, "c", CultureInfo.InvariantCulture, out var span) && text.Contains(':', StringComparison.Ordinal))
            return span;
        AddFault(key, $"Write a time, as `{key.Word}: {key.Default}`.");
        return null;
    }

    public LocalTime? Hour(SettingKey key) => Hours.Parse(Text(key)!) is { Success: true } parsed ? parsed.Value : null;

    public bool Choice(SettingKey key)
    {
        switch (Text(key)!.ToLowerInvariant())
        {
            case "yes" or "true": return true;
            case "no" or "false": return false;
            default:
                AddFault(key, "Write yes or no.");
                return false;
        }
    }

    public void Add(SettingsFault fault) => faults.Add(fault);

    public void AddFault(SettingKey key, string remedy) =>
        faults.Add(Value(key)!.Fault($"`{key.Name}` is \"{Value(key)!.Text}\".", remedy));

    /// <summary>Sentences of the form "section: key is …; remedy", put where that key was written, or at another key of the section.</summary>
    public void AddFaults(IEnumerable<string> sentences, SettingKey otherwise)
    {
        foreach (string sentence in sentences)
        {
            var key = SettingKey.All.FirstOrDefault(known => sentence.StartsWith(known.Name + " is ", StringComparison.Ordinal) && written.ContainsKey(known))
                ?? otherwise;
            int remedy = sentence.IndexOf("; ", StringComparison.Ordinal);
            faults.Add(remedy < 0 ? Value(key)!.Fault(sentence, "")
                : Value(key)!.Fault(sentence[..remedy] + ".", char.ToUpperInvariant(sentence[remedy + 2]) + sentence[(remedy + 3)..]));
        }
    }
}
