using NodaTime;

namespace GardenWatch.Store;

/// <summary>The last usable text of each plan file.</summary>
public sealed class PlanTextTable(StoreConnection connection)
{
    private const string Upsert =
        """
        INSERT INTO plan_text (path, text, taken_at) VALUES ($path, $text, $at)
        ON CONFLICT (path) DO UPDATE SET text = $text, taken_at = $at WHERE text <> $text
        """;

    private const string Select = "SELECT text FROM plan_text WHERE path = $path";

    public WriteOutcome Keep(string path, string text, Instant at) =>
        connection.Write(Upsert, ("$path", path), ("$text", text), ("$at", StoreText.Of(at)));

    /// <summary>Whether no plan was ever in force with these records.</summary>
    public bool IsEmpty => connection.Read("SELECT 1 FROM plan_text LIMIT 1", row => row.GetInt64(0)).Count == 0;

    public string? Find(string path) => connection.Read(Select, row => row.GetString(0), ("$path", path)).FirstOrDefault();
}
