using Microsoft.Data.Sqlite;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>Who opens: the service itself, of which there is one to a folder, or a command that is soon gone.</summary>
public enum StoreUse { Run, Command }

/// <summary>Everything learned and recorded: one SQLite file under the data folder.</summary>
public sealed class GardenStore : IDisposable
{
    private readonly FileStream? held;

    private GardenStore(StoreFolder folder, StoreConnection connection, FileStream? held)
    {
        Folder = folder;
        Connection = connection;
        this.held = held;
        Pulls = new(connection);
        Members = new(connection);
        PastYears = new(connection);
        Climates = new(connection);
        SideWaits = new(connection);
        Places = new(connection);
        Subjects = new(connection);
        Journal = new(connection);
        Answered = new(connection);
        JournalPictures = new(folder);
        Outbox = new(connection, new SentLog(folder));
        Ledger = new(connection);
        LastSaid = new(connection);
        PlanTexts = new(connection);
        SetAside = new(connection);
        Secrets = new(connection);
        Calendar = new(connection);
        Backup = new(folder, connection);
    }

    /// <summary>For tests that fill the disk or look under the tables.</summary>
    internal StoreConnection Connection { get; }

    public StoreFolder Folder { get; }
    public PullTable Pulls { get; }
    public MemberTable Members { get; }
    public PastYearTable PastYears { get; }
    public ClimateTable Climates { get; }
    public SideWaitTable SideWaits { get; }
    public PlaceTable Places { get; }
    public SubjectTable Subjects { get; }
    public JournalTable Journal { get; }
    public AnswerTable Answered { get; }
    public PictureFolder JournalPictures { get; }
    public OutboxTable Outbox { get; }
    public LedgerTable Ledger { get; }
    public LastSaidTable LastSaid { get; }
    public PlanTextTable PlanTexts { get; }
    public SetAsideTable SetAside { get; }
    public SecretTable Secrets { get; }
    public CalendarTable Calendar { get; }
    public Backup Backup { get; }

    public static StoreOutcome Open(string dataFolder, StoreUse use, Instant now) =>
        Open(new StoreFolder(Path.GetFullPath(dataFolder)), use, now, Schema.Shipped);

    public static StoreOutcome Open(StoreFolder folder, StoreUse use, Instant now, Schema schema)
    {
        ArgumentNullException.ThrowIfNull(folder);
        ArgumentNullException.ThrowIfNull(schema);
        if (MountTable.NetworkTypeOf(folder.Path) is { } type)
            return new StoreOutcome.Unusable(
                $"The data folder {folder.Path} is on a network share ({type}), where a database breaks. Set `data:` to a folder on this machine's own disk.");
        FileStream? held = null;
        StoreConnection? connection = null;
        StoreOutcome? outcome = null;
        try
        {
            folder.Create();
            if (use == StoreUse.Run && (held = folder.TryLock()) is null)
                return InUse(folder);
            outcome = Prepare(folder, now, schema, held is not null, out connection);
            if (outcome is null)
            {
                outcome = new StoreOutcome.Opened(new(folder, connection!, held));
                (connection, held) = (null, null);
            }
            return outcome;
        }
        catch (SqliteException exception) when (StoreFaults.Of(exception, folder) is { } fault)
        {
            return Refused(fault, StoreFaults.SentenceAtStart(fault, folder));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return new StoreOutcome.Unusable(
                $"The data folder {folder.Path} cannot be written ({exception.Message}). Give the account that runs this the right to it, or set `data:` to another folder.");
        }
        finally
        {
            connection?.Dispose();
            held?.Dispose();
        }
    }

    /// <summary>Asked each tick, before the service manager is told that all is well.</summary>
    public bool Answers()
    {
        try
        {
            return Connection.Read("SELECT count(*) FROM sqlite_schema", row => row.GetInt64(0))[0] > 0;
        }
        catch (SqliteException)
        {
            return false;
        }
    }

    /// <summary>
    /// The latest stamp of anything kept, set aside rows left out: the clock was at least here once. A running service
    /// leaves a stamp each day, whatever the weather service does.
    /// </summary>
    public Instant? NewestFact() =>
        Connection.Read(
            """
            SELECT max(stamp) FROM (
                SELECT max(fetched_at) AS stamp FROM pull WHERE id NOT IN (SELECT row FROM set_aside WHERE subject = 'pull')
                UNION ALL SELECT max(recorded_at) FROM journal WHERE id NOT IN (SELECT row FROM set_aside WHERE subject = 'journal')
                UNION ALL SELECT max(created_at) FROM outbox WHERE state <> 'set aside'
                UNION ALL SELECT max(at) FROM ledger)
            """,
            row => row.IsDBNull(0) ? (Instant?)null : StoreText.ToInstant(row.GetString(0)))[0];

    public void Dispose()
    {
        Connection.Dispose();
        held?.Dispose();
    }

    /// <summary>Null when the file is sound, ours and up to date.</summary>
    private static StoreOutcome? Prepare(
        StoreFolder folder, Instant now, Schema schema, bool lockHeld, out StoreConnection? connection)
    {
        connection = null;
        var file = new FileInfo(folder.Database);
        bool begun = file.Exists && file.Length > 0;
        // A file cut to nothing looks like a new one to SQLite; going on would forget everything without a word.
        if (file.Exists && !begun && folder.NightlyBackups().Count > 0)
            return new StoreOutcome.Damaged(folder.WayBack());
        if (!file.Exists)
            new FileStream(folder.Database, StoreFolder.PrivateFile(FileMode.CreateNew, FileShare.ReadWrite)).Dispose();

        connection = new StoreConnection(folder);
        if (!Schema.IsOurs(connection))
            return new StoreOutcome.Unusable(
                $"{folder.Database} is another program's database. Set `data:` to a folder of its own.");
        int version = Schema.VersionOf(connection);
        if (version > schema.Version)
            return new StoreOutcome.Newer(
                $"{folder.Database} was written by a later version of this program (file {version}, this program knows {schema.Version}). Install that version again, or restore a backup made before the upgrade.");
        if (begun && !Schema.IsSound(connection))
            return new StoreOutcome.Damaged(folder.WayBack());
        connection.Run("PRAGMA journal_mode = WAL");
        // FULL: a sent mark lost in a power cut would be a message sent twice.
        connection.Run("PRAGMA synchronous = FULL");
        connection.Run("PRAGMA foreign_keys = ON");
        return version < schema.Version ? BringUpToDate(folder, now, schema, lockHeld, connection, version) : null;
    }

    private static StoreOutcome? BringUpToDate(
        StoreFolder folder, Instant now, Schema schema, bool lockHeld, StoreConnection connection, int version)
    {
        using var heldForThis = lockHeld ? null : folder.TryLock();
        if (!lockHeld && heldForThis is null)
            return InUse(folder);
        if (version > 0 && new Backup(folder, connection).BeforeSchema(schema.Version, now) is BackupOutcome.Failed failed)
            return Refused(failed.Fault, failed.Sentence);
        if (schema.BringUpToDate(connection) is WriteOutcome.Failed unfinished)
            return Refused(unfinished.Fault, unfinished.Sentence);
        if (version == 0)
            new SentLog(folder).ReadInto(connection, now);
        return null;
    }

    private static StoreOutcome.InUse InUse(StoreFolder folder) =>
        new($"Another `gardenwatch run` is using {folder.Path}. Stop it first, or give this one another folder with --data.");

    private static StoreOutcome Refused(StoreFault fault, string sentence) => fault switch
    {
        StoreFault.Damaged => new StoreOutcome.Damaged(sentence),
        StoreFault.DiskFull => new StoreOutcome.DiskFull(sentence),
        _ => new StoreOutcome.Unusable(sentence),
    };
}
