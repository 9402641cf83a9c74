using Microsoft.Data.Sqlite;

namespace GardenWatch.Store;

/// <summary>
/// The one connection of a process. Rounds, sends and the health page share it, one at a time: transactions are few
/// and short. A read that meets damage throws; the round that asked is the place to say so (<see cref="StoreFaults"/>).
/// </summary>
public sealed class StoreConnection : IDisposable
{
    private readonly SqliteConnection connection;
    private readonly StoreFolder folder;
    private readonly Lock gate = new();

    public StoreConnection(StoreFolder folder)
    {
        ArgumentNullException.ThrowIfNull(folder);
        this.folder = folder;
        connection = Connect(folder.Database);
    }

    /// <summary>A file beside the database: a backup that is looked at.</summary>
    internal StoreConnection(string file)
    {
        folder = new StoreFolder(Path.GetDirectoryName(Path.GetFullPath(file))!);
        connection = Connect(file);
    }

    private static SqliteConnection Connect(string file)
    {
        // No pool: a pooled connection would keep the file open after Dispose, and restore moves it away.
        var text = new SqliteConnectionStringBuilder { DataSource = file, Pooling = false, DefaultTimeout = 5 };
        var opened = new SqliteConnection(text.ToString());
        opened.Open();
        return opened;
    }

    public List<T> Read<T>(string sql, Func<SqliteDataReader, T> row, params (string Name, object? Value)[] values)
    {
        ArgumentNullException.ThrowIfNull(row);
        lock (gate)
        {
            using var command = Statement(sql, null, values);
            using var reader = command.ExecuteReader();
            var rows = new List<T>();
            while (reader.Read())
                rows.Add(row(reader));
            return rows;
        }
    }

    public WriteOutcome Write(string sql, params (string Name, object? Value)[] values) =>
        Write(transaction => transaction.Run(sql, values));

    /// <summary>BEGIN IMMEDIATE, so that two writers queue instead of failing half way. Unchanged when no row was touched.</summary>
    public WriteOutcome Write(Func<Transaction, int> work)
    {
        ArgumentNullException.ThrowIfNull(work);
        lock (gate)
        {
            try
            {
                using var begun = connection.BeginTransaction(deferred: false);
                int touched = work(new Transaction(this, begun));
                begun.Commit();
                return touched > 0 ? new WriteOutcome.Written() : new WriteOutcome.Unchanged();
            }
            catch (SqliteException exception) when (StoreFaults.Of(exception, folder) is { } fault)
            {
                return new WriteOutcome.Failed(fault, StoreFaults.Sentence(fault, folder));
            }
        }
    }

    /// <summary>For what cannot stand in a transaction: pragmas, VACUUM INTO.</summary>
    public void Run(string sql, params (string Name, object? Value)[] values)
    {
        lock (gate)
        {
            using var command = Statement(sql, null, values);
            command.ExecuteNonQuery();
        }
    }

    public void Dispose() => connection.Dispose();

    private SqliteCommand Statement(string sql, SqliteTransaction? transaction, (string Name, object? Value)[] values)
    {
        var command = connection.CreateCommand();
        command.Transaction = transaction;
        // The statements are constants of the table classes; what people write comes in as parameters only.
#pragma warning disable CA2100
        command.CommandText = sql;
#pragma warning restore CA2100
        foreach (var (name, value) in values)
            command.Parameters.AddWithValue(name, value ?? DBNull.Value);
        return command;
    }

    public readonly struct Transaction
    {
        private readonly StoreConnection connection;
        private readonly SqliteTransaction begun;

        internal Transaction(StoreConnection connection, SqliteTransaction begun) =>
            (this.connection, this.begun) = (connection, begun);

        /// <summary>Gives the number of rows touched.</summary>
        public int Run(string sql, params (string Name, object? Value)[] values)
        {
            using var command = connection.Statement(sql, begun, values);
            return command.ExecuteNonQuery();
        }

        public long? Number(string sql, params (string Name, object? Value)[] values)
        {
            using var command = connection.Statement(sql, begun, values);
            return command.ExecuteScalar() as long?;
        }
    }
}
