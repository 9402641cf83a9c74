using Microsoft.Data.Sqlite;

namespace GardenWatch.Acceptance.Trials;

/// <summary>Looks into a copy of the database: opening the file itself would recover what the program is to recover.</summary>
internal sealed class StoredRecords(string data)
{
    public string Database => Path.Combine(data, "gardenwatch.db");

    /// <summary>State of each message, by its Message-ID.</summary>
    public IReadOnlyDictionary<string, string> States() =>
        Read("SELECT message_id, state FROM outbox").ToDictionary(row => row[0], row => row[1]);

    public long Count(string table) => long.Parse(Read($"SELECT count(*) FROM {table}")[0][0], null);

    public bool IsSound() => Read("PRAGMA integrity_check") is [["ok"]];

    public List<string[]> Read(string sql)
    {
        string copy = Directory.CreateTempSubdirectory("gardenwatch-look-").FullName;
        try
        {
            string file = Path.Combine(copy, "copy.db");
            foreach (string part in (string[])["", "-wal"])
                if (File.Exists(Database + part))
                    File.Copy(Database + part, file + part);
            using var connection = new SqliteConnection(new SqliteConnectionStringBuilder { DataSource = file, Pooling = false }.ToString());
            connection.Open();
            using var command = connection.CreateCommand();
            // The tests' own statements, never anybody's words.
#pragma warning disable CA2100
            command.CommandText = sql;
#pragma warning restore CA2100
            using var reader = command.ExecuteReader();
            var rows = new List<string[]>();
            while (reader.Read())
                rows.Add([.. Enumerable.Range(0, reader.FieldCount).Select(i => reader.IsDBNull(i) ? "" : reader.GetValue(i).ToString()!)]);
            return rows;
        }
        finally
        {
            Directory.Delete(copy, recursive: true);
        }
    }
}
