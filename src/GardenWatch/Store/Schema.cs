namespace GardenWatch.Store;

/// <summary>The numbered scripts that make the file, each one transaction, and where a file stands among them.</summary>
public sealed record Schema(IReadOnlyList<string> Scripts)
{
    /// <summary>"GWCH": tells our file from another program's.</summary>
    public const long ApplicationId = 1196901192;

    private const string Folder = "schema/";

    public static Schema Shipped { get; } = new(Embedded());

    public int Version => Scripts.Count;

    public static int VersionOf(StoreConnection file) => (int)Pragma(file, "PRAGMA user_version");

    /// <summary>Ours, or still empty.</summary>
    public static bool IsOurs(StoreConnection file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return Pragma(file, "PRAGMA application_id") == ApplicationId
            || Pragma(file, "SELECT count(*) FROM sqlite_schema") == 0;
    }

    public static bool IsSound(StoreConnection file)
    {
        ArgumentNullException.ThrowIfNull(file);
        return file.Read("PRAGMA quick_check(1)", row => row.GetString(0)) is ["ok"];
    }

    /// <summary>Runs the scripts the file has not seen. A death half way leaves it at the last whole version.</summary>
    public WriteOutcome BringUpToDate(StoreConnection file)
    {
        ArgumentNullException.ThrowIfNull(file);
        WriteOutcome outcome = new WriteOutcome.Unchanged();
        for (int version = VersionOf(file); version < Version; version++)
        {
            outcome = file.Write(transaction =>
            {
                transaction.Run(Scripts[version]);
                transaction.Run($"PRAGMA user_version = {version + 1}");
                Failpoints.Hit(Failpoints.MidMigration);
                return 1;
            });
            if (!outcome.IsWritten)
                break;
        }
        return outcome;
    }

    private static long Pragma(StoreConnection file, string sql) => file.Read(sql, row => row.GetInt64(0))[0];

    private static List<string> Embedded()
    {
        var assembly = typeof(Schema).Assembly;
        var names = assembly.GetManifestResourceNames()
            .Where(name => name.StartsWith(Folder, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal);
        var scripts = new List<string>();
        foreach (string name in names)
        {
            using var reader = new StreamReader(assembly.GetManifestResourceStream(name)!);
            scripts.Add(reader.ReadToEnd());
        }
        return scripts;
    }
}
