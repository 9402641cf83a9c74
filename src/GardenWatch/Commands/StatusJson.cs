using System.Text.Encodings.Web;
using System.Text.Json;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Store;

namespace GardenWatch.Commands;

/// <summary>The standing for other programs, version 1; instants in UTC, dates local. Fields may be added, never changed.</summary>
public static class StatusJson
{
    public const int Version = 1;

    public static void Write(Stream output, HouseStanding standing)
    {
        ArgumentNullException.ThrowIfNull(standing);
        using var json = new Utf8JsonWriter(output, new JsonWriterOptions { Indented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping });
        json.WriteStartObject();
        json.WriteNumber("version", Version);
        json.Instant("asOf", standing.Now);
        json.WriteBoolean("ok", standing.Faults.IsEmpty);
        json.WriteBoolean("runs", standing.Runs);
        json.Strings("faults", standing.Faults);
        json.WriteStartArray("gardens");
        foreach (var garden in standing.Gardens)
        {
            json.WriteStartObject();
            json.WriteString("id", garden.Plan.GardenId);
            json.WriteString("name", garden.Plan.Name);
            json.WriteString("timeZone", garden.Place?.Calendar.Zone.Id);
            json.Instant("forecastFetchedAt", garden.ForecastFetchedAt);
            json.Number("forecastAgeHours", (standing.Now - garden.ForecastFetchedAt)?.TotalHours, decimals: 2);
            json.Instant("forecastNotBefore", garden.ForecastWait?.NotBefore);
            json.Instant("membersFetchedAt", garden.MembersFetchedAt);
            json.WriteNumber("pastYears", garden.PastYears);
            json.Date("lastDigest", garden.LastDigest is { } last ? StoreText.ToDate(last.Key.Occasion) : null);
            json.Instant("nextDigestAt", garden.NextDigestAt);
            WriteReadings(json, garden);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartObject("outbox");
        json.WriteNumber("waiting", standing.Outbox.Waiting);
        json.Instant("waitingSince", standing.Outbox.WaitingSince);
        json.Instant("lastAccepted", standing.Outbox.LastAccepted);
        json.WriteString("trouble", standing.Outbox.Trouble);
        json.WriteStartArray("recent");
        foreach (var row in standing.Recent)
        {
            json.WriteStartObject();
            json.WriteString("garden", row.Key.Garden);
            json.WriteString("addressee", row.Key.Addressee);
            json.WriteString("kind", row.Key.Kind);
            json.WriteString("occasion", row.Key.Occasion);
            json.WriteString("messageId", row.MessageId);
            json.WriteString("state", Word(row.State));
            json.WriteNumber("tries", row.Tries);
            json.Instant("createdAt", row.CreatedAt);
            json.Instant("nextTryAt", row.NextTryAt);
            json.Instant("endedAt", row.EndedAt);
            json.WriteString("lastReply", row.LastReply);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
        json.Date("lastBackup", standing.LastBackup);
        json.WriteNumber("recordsSetAside", standing.SetAside);
        json.WriteEndObject();
    }

    private static void WriteReadings(Utf8JsonWriter json, GardenStanding garden)
    {
        json.WriteStartObject("readings");
        json.Number("rainFactor", garden.Corrections.RainFactor, decimals: 3);
        json.WriteStartArray("beds");
        foreach (var bed in (Bed?[])[null, .. garden.Plan.Beds])
        {
            json.WriteStartObject();
            json.WriteString("bed", bed?.Id);
            json.Number("soilOffsetK", garden.Corrections.SoilOf(bed?.Id)?.Kelvins, decimals: 2);
            json.Number("frostPocketK", garden.Corrections.FrostPocketOf(bed).Kelvins, decimals: 2);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteStartArray("recent");
        foreach (var entry in garden.Readings)
        {
            json.WriteStartObject();
            json.WriteString("id", entry.Id);
            json.WriteString("measure", EntryWords.Of(entry.Measure ?? default));
            json.Date("date", entry.Date);
            json.WriteString("bed", entry.BedId);
            json.Number("value", entry.Value, decimals: 2);
            json.Number("modelled", entry.Modelled, decimals: 2);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static string Word(OutboxState state) => state switch
    {
        OutboxState.InDoubt => "inDoubt",
        OutboxState.SetAside => "setAside",
        _ => state.ToString().ToLowerInvariant(),
    };
}
