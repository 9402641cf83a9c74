using Microsoft.Data.Sqlite;

namespace GardenWatch.Store;

/// <summary>What became of opening the store. Each sentence is for the gardener: what is wrong, and the way on.</summary>
public abstract record StoreOutcome
{
    private StoreOutcome() { }
    public sealed record Opened(GardenStore Store) : StoreOutcome;
    /// <summary>Another <c>run</c> holds this data folder.</summary>
    public sealed record InUse(string Sentence) : StoreOutcome;
    /// <summary>Written by a later version of the program.</summary>
    public sealed record Newer(string Sentence) : StoreOutcome;
    public sealed record Damaged(string Sentence) : StoreOutcome;
    public sealed record DiskFull(string Sentence) : StoreOutcome;
    /// <summary>On a network share, not writable, or another program's file.</summary>
    public sealed record Unusable(string Sentence) : StoreOutcome;
}

public enum StoreFault { DiskFull, Damaged, Busy, Unwritable }

/// <summary>What became of one transaction: wholly in the file, or wholly not.</summary>
public abstract record WriteOutcome
{
    private WriteOutcome() { }
    public sealed record Written : WriteOutcome;
    /// <summary>The key was there before (or the row was not in the state asked for): nothing changed.</summary>
    public sealed record Unchanged : WriteOutcome;
    public sealed record Failed(StoreFault Fault, string Sentence) : WriteOutcome;

    public bool IsWritten => this is Written;
}

public static class StoreFaults
{
    private const int Busy = 5, Locked = 6, ReadOnly = 8, InputOutput = 10, Corrupt = 11, Full = 13, CannotOpen = 14, NotADatabase = 26;

    // One page of the file and what its log wants beside it.
    private const long LeastRoom = 128 << 10;

    /// <summary>Null for what is a bug of ours and should be thrown.</summary>
    public static StoreFault? Of(SqliteException exception, StoreFolder folder)
    {
        ArgumentNullException.ThrowIfNull(exception);
        ArgumentNullException.ThrowIfNull(folder);
        return exception.SqliteErrorCode switch
        {
            Full => StoreFault.DiskFull,
            Corrupt or NotADatabase => StoreFault.Damaged,
            Busy or Locked => StoreFault.Busy,
            // SQLite tells a log that finds no room as an error of reading or writing.
            InputOutput or CannotOpen when HasNoRoom(folder) => StoreFault.DiskFull,
            ReadOnly or InputOutput or CannotOpen => StoreFault.Unwritable,
            _ => null,
        };
    }

    private static bool HasNoRoom(StoreFolder folder)
    {
        try
        {
            return new DriveInfo(folder.Path).AvailableFreeSpace < LeastRoom;
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>The same where it keeps the program from beginning.</summary>
    public static string SentenceAtStart(StoreFault fault, StoreFolder folder)
    {
        ArgumentNullException.ThrowIfNull(folder);
        return fault == StoreFault.DiskFull
            ? $"The disk that holds {folder.Path} is full, so nothing can be recorded and nothing is begun. Make room on it, or set `data:` to a folder on another disk."
            : Sentence(fault, folder);
    }

    public static string Sentence(StoreFault fault, StoreFolder folder)
    {
        ArgumentNullException.ThrowIfNull(folder);
        return fault switch
        {
            StoreFault.DiskFull =>
                $"The disk that holds {folder.Path} is full. Nothing more is stored until there is room; warnings that save a crop are sent all the same.",
            StoreFault.Damaged => folder.WayBack(),
            StoreFault.Busy => $"{folder.Database} was locked by another program for five seconds; try again.",
            _ => $"{folder.Database} cannot be read or written; look at the disk, and at the rights of the account that runs this.",
        };
    }
}
