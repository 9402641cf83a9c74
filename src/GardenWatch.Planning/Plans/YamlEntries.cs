using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>The entries of one map, taken key by key; what is left at the end is a fault. Faults gather, none stops the reading.</summary>
internal sealed class YamlEntries(YamlNode.Map map, List<FileFault> faults)
{
    private readonly HashSet<string> _known = new(StringComparer.OrdinalIgnoreCase);

    public Spot Spot => map.Spot;

    /// <summary>The files in which the entries stand: more than one where a later file changes some of them.</summary>
    public IEnumerable<string> Files => map.Entries.Select(entry => entry.Value.Spot.File).Distinct();

    public bool Has(string key) => map[key] is { } node && node is not YamlNode.Text { IsEmpty: true };

    /// <summary>The node of a key, null when it is absent or left empty.</summary>
    public YamlNode? Take(string key)
    {
        _known.Add(key);
        return Has(key) ? map[key] : null;
    }

    public YamlNode.Text? TakeText(string key, string example)
    {
        switch (Take(key))
        {
            case null:
                return null;
            case YamlNode.Text text:
                return text;
            case var other:
                Fault(other.Spot, $"`{key}` wants one text", example);
                return null;
        }
    }

    public string? TakeString(string key, string example, int longest = 200)
    {
        var text = TakeText(key, example);
        if (text is null)
            return null;
        string value = text.Value.ReplaceLineEndings(" ").Trim();
        if (value.Length > longest)
            Fault(text.Spot, $"`{key}` is longer than {longest} letters", null);
        else if (value.Any(char.IsControl))
            Fault(text.Spot, $"`{key}` holds letters that can't be printed", "take them out");
        else
            return value;
        return null;
    }

    public Quantity? TakeQuantity(string key, Dimension dimension) =>
        TakeText(key, "such as a number with its unit") is { } text ? Quantity(text, dimension) : null;

    public Quantity? Quantity(YamlNode.Text text, params ReadOnlySpan<Dimension> fits)
    {
        switch (QuantityText.Read(text.Value, fits))
        {
            case QuantityReading.Ok(var quantity):
                return quantity;
            case QuantityReading.Fault(var problem, var instead):
                Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    public int? TakeCount(string key, int least, int most)
    {
        if (TakeText(key, $"a number from {least} to {most}") is not { } text)
            return null;
        if (WrittenNumber.Read(WrittenNumber.Plain(text.Value)) is WrittenNumber.Ok { Rest: "" } number
            && number.Value % 1 == 0 && number.Value >= least && number.Value <= most)
            return (int)number.Value;
        Fault(text.Spot, $"`{text.Value}` is not a whole number from {least} to {most}", null);
        return null;
    }

    public int? TakeMinutes(string key)
    {
        if (TakeText(key, "such as `20`") is not { } text)
            return null;
        // Plain minutes are how one says it; a unit is welcome.
        if (WrittenNumber.Read(WrittenNumber.Plain(text.Value)) is WrittenNumber.Ok { Rest: "" } bare && bare.Value is >= 1 and <= 1440)
            return (int)Math.Round(bare.Value);
        return Quantity(text, Dimension.Hours) is { } hours ? (int)Math.Round(hours.Value * 60) : null;
    }

    public T? TakeWord<T>(string key, IReadOnlyDictionary<string, T> words) where T : struct =>
        TakeText(key, $"one of: {string.Join(", ", words.Keys)}") is { } text ? Word(key, text, words) : null;

    private T? Word<T>(string key, YamlNode.Text text, IReadOnlyDictionary<string, T> words) where T : struct
    {
        string written = text.Value.Trim().ToLowerInvariant();
        if (words.TryGetValue(written, out var value))
            return value;
        Fault(text.Spot, $"`{text.Value}` is no {key}",
            Spelling.Nearest(written, words.Keys) is { } near ? $"did you mean {near}?" : $"one of: {string.Join(", ", words.Keys)}");
        return null;
    }

    /// <summary>A list, or one thing that stands for a list of one.</summary>
    public ImmutableArray<YamlNode> TakeAll(string key) => Take(key) switch
    {
        null => [],
        YamlNode.List list => list.Items,
        var one => [one],
    };

    /// <summary>A list of maps; anything else in it is a fault.</summary>
    public IEnumerable<YamlEntries> TakeMaps(string key, string example)
    {
        foreach (var node in TakeAll(key))
        {
            if (node is YamlNode.Map one)
                yield return new(one, faults);
            else if (node is not YamlNode.Text { IsEmpty: true })
                Fault(node.Spot, $"each of `{key}` is an entry of its own", example);
        }
    }

    public YamlEntries? TakeMap(string key, string example)
    {
        switch (Take(key))
        {
            case null:
                return null;
            case YamlNode.Map inner:
                return new(inner, faults);
            case var other:
                Fault(other.Spot, $"`{key}` wants entries in braces", example);
                return null;
        }
    }

    public ImmutableArray<YamlNode.Text> TakeTexts(string key)
    {
        var texts = ImmutableArray.CreateBuilder<YamlNode.Text>();
        foreach (var node in TakeAll(key))
        {
            if (node is YamlNode.Text text)
                texts.Add(text);
            else
                Fault(node.Spot, $"`{key}` wants plain texts", null);
        }
        return texts.ToImmutable();
    }

    public ImmutableArray<Condition> TakeConditions(string key, Func<string, ConditionReading> readCondition) =>
        [.. TakeAll(key).Select(node => ConditionOf(node, readCondition)).OfType<Condition>()];

    private Condition? ConditionOf(YamlNode node, Func<string, ConditionReading> readCondition)
    {
        switch (node)
        {
            case YamlNode.Text text:
                switch (readCondition(text.Value))
                {
                    case ConditionReading.Ok(var condition):
                        return condition;
                    case ConditionReading.Fault(var column, var problem, var instead):
                        Fault(text.At(column), problem, instead);
                        break;
                }
                return null;
            case YamlNode.List list:
                return new Condition.AllOf([.. list.Items.Select(item => ConditionOf(item, readCondition)).OfType<Condition>()]);
            case YamlNode.Map inner:
                var entries = new YamlEntries(inner, faults);
                var all = entries.TakeConditions("all", readCondition);
                var any = entries.TakeConditions("any", readCondition);
                var none = entries.TakeConditions("none", readCondition);
                var parts = ImmutableArray.CreateBuilder<Condition>();
                parts.AddRange(all);
                if (!any.IsEmpty)
                    parts.Add(new Condition.AnyOf(any));
                if (!none.IsEmpty)
                    parts.Add(new Condition.NoneOf(none));
                entries.Close("a group of conditions is `all`, `any` or `none`; a phrase with a colon needs quotes");
                return parts.Count == 1 ? parts[0] : new Condition.AllOf(parts.ToImmutable());
            default:
                return null;
        }
    }

    /// <summary>The entries of a map within this one.</summary>
    public YamlEntries Inside(YamlNode.Map inner) => new(inner, faults);

    public void Fault(Spot spot, string problem, string? instead) =>
        faults.Add(new(spot.File, spot.Line, spot.Column, problem, instead));

    /// <summary>Every key, whatever its name.</summary>
    public IEnumerable<(YamlNode.Text Key, YamlNode Value)> TakeRest()
    {
        foreach (var entry in map.Entries.Where(entry => !_known.Contains(entry.Key.Value)))
        {
            _known.Add(entry.Key.Value);
            yield return entry;
        }
    }

    /// <summary>What nobody asked for is a fault, with the key that was probably meant.</summary>
    public void Close(string? hint = null)
    {
        foreach (var (key, value) in map.Entries)
        {
            if (_known.Contains(key.Value))
                continue;
            string written = key.Value;
            if (written.Length > 60)
                written = written[..60] + "…";
            if (written.StartsWith('-'))
                Fault(key.Spot, $"the dash of a list needs a space after it: `{written}`", $"`- {written[1..]}`");
            else if (written.Length > 0 && char.IsDigit(written[0]) && value is YamlNode.Text { IsEmpty: true })
                Fault(key.Spot, $"inside braces the comma before `{written}` parts two entries", "put a value with a comma in quotes, or write a point");
            else
                Fault(key.Spot, $"`{written}` is not known here",
                    Spelling.Nearest(written, _known) is { } near ? $"did you mean `{near}`?" : hint ?? $"known are: {string.Join(", ", _known)}");
        }
    }
}
