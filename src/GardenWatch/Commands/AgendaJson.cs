using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Commands;

/// <summary>
/// The agenda for other programs, version 1: units in the names, SI; instants in UTC, dates local; absent knowledge is
/// null. Fields may be added, never changed.
/// </summary>
public static class AgendaJson
{
    public const int Version = 1;

    public static void Write(Stream output, Agenda agenda, IReadOnlyDictionary<string, int> numbers)
    {
        // Names are written as they are read; the answer is a file or a terminal, never a page.
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteNumber("version", Version);
        json.WriteStartObject("garden");
        json.WriteString("id", agenda.GardenId);
        json.WriteString("name", agenda.GardenName);
        json.WriteEndObject();
        json.Date("date", agenda.Date);
        json.WriteString("timeZone", agenda.Zone.Id);
        json.Instant("asOf", agenda.AsOf);
        json.WriteStartObject("weather");
        json.Instant("fetchedAt", agenda.Weather.FetchedAt);
        json.Number("ageHours", agenda.Weather.Age?.TotalHours, decimals: 2);
        json.WriteString("state", agenda.Weather.State.ToString().ToLowerInvariant());
        json.WriteEndObject();

        json.WriteStartArray("jobs");
        for (int index = 0; index < agenda.Jobs.Length; index++)
            Job(json, agenda.Jobs[index], rank: index + 1, numbers);
        json.WriteEndArray();

        json.WriteStartArray("week");
        foreach (var day in agenda.Week)
        {
            json.WriteStartObject();
            json.Date("date", day.Date);
            json.Number("lowC", day.LowC);
            json.Number("highC", day.HighC);
            json.Number("leafLowC", day.LeafLowC);
            json.Number("rainMm", day.RainMm);
            json.Number("rainChance", day.RainChance, decimals: 2);
            json.Number("frostChance", day.FrostChance, decimals: 2);
            json.WriteEndObject();
        }
        json.WriteEndArray();

        json.WriteStartArray("sowings");
        foreach (var sowing in agenda.Sowings)
            Sowing(json, sowing);
        json.WriteEndArray();

        json.WriteStartArray("beds");
        foreach (var bed in agenda.Beds)
        {
            json.WriteStartObject();
            json.WriteString("id", bed.Id);
            json.WriteString("name", bed.Name);
            json.Number("soilC", bed.SoilC);
            json.Number("soilDepthCm", bed.SoilDepthCm);
            json.Number("rainPastWeekMm", bed.RainPastWeekMm);
            json.Number("waterDeficitMm", bed.WaterDeficitMm);
            json.Number("waterToGiveL", bed.WaterToGiveLitres);
            json.WriteEndObject();
        }
        json.WriteEndArray();

        json.Strings("notes", agenda.Notes);
        json.WriteEndObject();
    }

    private static void Job(Utf8JsonWriter json, Job job, int rank, IReadOnlyDictionary<string, int> numbers)
    {
        json.WriteStartObject();
        json.WriteString("id", job.Id);
        if (numbers.TryGetValue(job.Id, out int number))
            json.WriteNumber("number", number);
        else
            json.WriteNull("number");
        json.WriteNumber("rank", rank);
        json.WriteString("name", job.Name);
        json.WriteString("kind", job.Kind.Word());
        json.WriteString("crop", job.Crop);
        json.WriteString("bed", job.BedName);
        json.WriteString("sowing", job.SowingId);
        json.WriteString("standing", job.Standing.ToString().ToLowerInvariant());
        json.Number("minutes", job.Minutes, decimals: 0);
        json.WriteStartArray("windows");
        foreach (var window in job.Windows)
            Window(json, window);
        json.WriteEndArray();
        json.WritePropertyName("best");
        if (job.Best is { } best)
            Window(json, best);
        else
            json.WriteNullValue();
        json.Instant("actBy", job.ActBy);
        json.Instant("undoAt", job.UndoAt);
        json.WritePropertyName("chance");
        if (job.Chance is { } chance)
        {
            json.WriteStartObject();
            json.Number("value", chance.Value, decimals: 2);
            json.WriteString("source", chance.Source switch
            {
                ChanceSource.Members => "members",
                ChanceSource.PastYears => "pastYears",
                _ => "forecast",
            });
            json.WriteEndObject();
        }
        else
        {
            json.WriteNullValue();
        }
        json.WriteStartArray("reasons");
        foreach (var reason in job.Reasons)
        {
            json.WriteStartObject();
            json.WriteString("code", reason.Code);
            json.WriteStartObject("values");
            foreach (var (name, value) in reason.Values)
                json.Number(name, value, decimals: 2);
            json.WriteEndObject();
            json.WriteString("text", reason.Text);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.Strings("cautions", job.Cautions);
        json.WriteStartArray("needs");
        foreach (var need in job.Needs)
        {
            json.WriteStartObject();
            json.WriteString("condition", need.Condition);
            if (need.Holds is { } holds)
                json.WriteBoolean("holds", holds);
            else
                json.WriteNull("holds");
            json.Number("value", need.Value, decimals: 2);
            json.WriteString("unit", need.Unit);
            json.Number("margin", need.Margin, decimals: 2);
            json.WriteNull("chance");
            Dates(json, "likely", need.Likely);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void Sowing(Utf8JsonWriter json, SowingOutlook sowing)
    {
        json.WriteStartObject();
        json.WriteString("id", sowing.Id);
        json.WriteString("crop", sowing.Crop);
        json.WriteString("variety", sowing.Variety);
        json.WriteString("bed", sowing.BedName);
        json.WriteString("stage", sowing.Stage);
        json.WriteStartObject("warmth");
        json.Number("gatheredCd", sowing.GatheredCd);
        json.Number("neededCd", sowing.NeededCd);
        json.WriteEndObject();
        json.WriteStartObject("next");
        json.WriteString("stage", sowing.NextStage);
        json.Date("from", sowing.Next?.Start);
        json.Date("until", sowing.Next?.End);
        json.WriteEndObject();
        Dates(json, "harvest", sowing.Harvest);
        json.WriteEndObject();
    }

    private static void Window(Utf8JsonWriter json, Window window)
    {
        json.WriteStartObject();
        json.Instant("from", window.From);
        json.Instant("until", window.Until);
        json.WriteEndObject();
    }

    private static void Dates(Utf8JsonWriter json, string name, DateInterval? dates)
    {
        json.WriteStartObject(name);
        json.Date("from", dates?.Start);
        json.Date("until", dates?.End);
        json.WriteEndObject();
    }

    internal static void Strings(this Utf8JsonWriter json, string name, IEnumerable<string> values)
    {
        json.WriteStartArray(name);
        foreach (string value in values)
            json.WriteStringValue(value);
        json.WriteEndArray();
    }

    internal static void Instant(this Utf8JsonWriter json, string name, Instant? instant) =>
        json.WriteString(name, instant is { } at ? InstantPattern.General.Format(at) : null);

    internal static void Date(this Utf8JsonWriter json, string name, LocalDate? date) =>
        json.WriteString(name, date is { } day ? LocalDatePattern.Iso.Format(day) : null);

    internal static void Number(this Utf8JsonWriter json, string name, double? value, int decimals = 1)
    {
        if (value is { } number && double.IsFinite(number))
            json.WriteNumber(name, Math.Round((decimal)number, decimals));
        else
            json.WriteNull(name);
    }
}
