using System.Collections.Immutable;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Explanations;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Commands;

/// <summary>An explanation for other programs: SI with its unit beside it, instants in UTC, dates local, absent knowledge null.</summary>
public static class ExplanationJson
{
    public static string Of(Explanation explanation)
    {
        using var output = new MemoryStream();
        using (var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping }))
            Write(json, explanation);
        return Encoding.UTF8.GetString(output.GetBuffer(), 0, (int)output.Length);
    }

    private static void Write(Utf8JsonWriter json, Explanation explanation)
    {
        json.WriteStartObject();
        json.WriteNumber("version", AgendaJson.Version);
        json.WriteStartObject("garden");
        json.WriteString("id", explanation.Job.GardenId);
        json.WriteString("name", explanation.GardenName);
        json.WriteEndObject();
        json.Date("date", explanation.Today);
        json.WriteString("timeZone", explanation.Speech.Zone.Id);
        json.Instant("asOf", explanation.AsOf);
        json.WriteStartObject("weather");
        json.Instant("fetchedAt", explanation.Weather.FetchedAt);
        json.Number("ageHours", explanation.Weather.Age?.TotalHours, decimals: 2);
        json.WriteString("state", Word(explanation.Weather.State));
        json.WriteEndObject();
        json.WriteStartObject("job");
        json.WriteString("id", explanation.Open?.Id);
        json.WriteString("subject", explanation.Job.SubjectId);
        json.WriteString("kind", explanation.Job.Kind.Word());
        json.WriteString("name", explanation.Job.Name);
        json.WriteString("bed", explanation.Job.BedName);
        json.WriteString("standing", explanation.Open is { } open ? Word(open.Standing) : null);
        json.WriteString("heldBack", explanation.HeldBack);
        json.WriteEndObject();
        json.WriteString("summary", string.Join(' ', ExplanationWords.Summary(explanation)));
        json.Instant("judgedAt", explanation.JudgedAt);
        json.WriteStartArray("grounds");
        foreach (string ground in explanation.Grounds)
            json.WriteStringValue(ground);
        json.WriteEndArray();
        Conditions(json, explanation);
        Numbers(json, explanation.Numbers);
        json.WriteStartObject("rule");
        json.Number("leastChance", explanation.Rule.LeastShare, decimals: 3);
        json.WriteString("why", explanation.Rule.Why);
        json.WriteEndObject();
        if (explanation.Open?.Chance is { } chance)
        {
            json.WriteStartObject("chance");
            json.Number("value", chance.Value, decimals: 3);
            json.WriteString("source", Word(chance.Source));
            json.WriteEndObject();
        }
        else
            json.WriteNull("chance");
        Days(json, "days", explanation.Days);
        if (explanation.Trial is { } trial)
        {
            json.WriteStartObject("trial");
            json.WriteStartArray("changed");
            foreach (var (name, value) in trial.Changed.OrderBy(number => number.Key, StringComparer.Ordinal))
            {
                json.WriteStartObject();
                json.WriteString("name", name);
                Quantity(json, value);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            Days(json, "daysWithout", trial.Days);
            json.WriteEndObject();
        }
        else
            json.WriteNull("trial");
        json.WriteEndObject();
    }

    private static void Conditions(Utf8JsonWriter json, Explanation explanation)
    {
        json.WriteStartArray("conditions");
        foreach (var condition in explanation.Conditions)
        {
            json.WriteStartObject();
            json.WriteString("role", Word(condition.Role));
            json.WriteString("condition", condition.Phrase);
            if (condition.Allows is { } allows)
                json.WriteBoolean("allows", allows);
            else
                json.WriteNull("allows");
            json.Number("value", condition.Value, decimals: 4);
            json.WriteString("unit", condition.Dimension?.Unit());
            json.Number("margin", condition.Margin, decimals: 4);
            json.Instant("nextChange", condition.NextChange);
            json.WriteString("sentence", condition.Sentence);
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Numbers(Utf8JsonWriter json, ImmutableArray<NumberLayers> numbers)
    {
        json.WriteStartArray("numbers");
        foreach (var number in numbers)
        {
            json.WriteStartObject();
            json.WriteString("name", number.Name);
            Quantity(json, number.InForce);
            json.Number("unchanged", number.Unchanged.Value, decimals: 4);
            // From the most general to the nearest; the last is in force.
            json.WriteStartArray("sources");
            foreach (var layer in number.Layers)
            {
                json.WriteStartObject();
                json.Number("value", layer.Value.Value, decimals: 4);
                json.WriteString("origin", Word(layer.Source.Origin));
                json.WriteString("file", layer.Source.File);
                json.Number("line", layer.Source.Line, decimals: 0);
                json.WriteString("published", layer.Source.Published);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Days(Utf8JsonWriter json, string name, ImmutableArray<ExplainedDay> days)
    {
        json.WriteStartArray(name);
        foreach (var day in days)
        {
            json.WriteStartObject();
            json.Date("date", day.Date);
            json.WriteBoolean("past", day.IsPast);
            json.WriteString("mark", Word(day.Whole));
            json.WriteStartArray("windows");
            foreach (var window in day.Windows)
            {
                json.WriteStartObject();
                json.Instant("from", window.From);
                json.Instant("until", window.Until);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteStartArray("conditions");
            foreach (var condition in day.Conditions)
            {
                json.WriteStartObject();
                json.WriteString("mark", Word(condition.Mark));
                json.Number("value", condition.Value, decimals: 4);
                json.Number("margin", condition.Margin, decimals: 4);
                json.Instant("bestHour", condition.BestHour);
                json.WriteEndObject();
            }
            json.WriteEndArray();
            json.WriteEndObject();
        }
        json.WriteEndArray();
    }

    private static void Quantity(Utf8JsonWriter json, Quantity quantity)
    {
        json.Number("value", quantity.Value, decimals: 4);
        json.WriteString("unit", quantity.Dimension.Unit());
    }

    private static string Word<T>(T value) where T : struct, Enum
    {
        string name = value.ToString();
        return char.ToLowerInvariant(name[0]) + name[1..];
    }
}
