using System.Diagnostics;
using GardenWatch.Messages.Mail;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Planning.Journals;
using GardenWatch.Store;
using GardenWatch.Tests.Store;
using Microsoft.Extensions.Logging.Abstractions;
using NodaTime;
using NodaTime.Testing;
using SkiaSharp;

namespace GardenWatch.Tests;

/// <summary>
/// A morning's work is killed with SIGKILL at each named place, in a process of its own (this test program again), and
/// then done once more. Nothing may be lost, and doubled only what the other side may have had.
/// </summary>
public sealed class FailpointTests : StoreCase
{
    private const string FolderVariable = "GARDENWATCH_TEST_FOLDER";

    [Fact]
    public void Every_named_place_is_passed_in_the_program()
    {
        string source = Path.Combine(Repository(), "src", "GardenWatch");
        string program = string.Concat(Directory.EnumerateFiles(source, "*.cs", SearchOption.AllDirectories)
            .Where(file => !file.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal))
            .Select(File.ReadAllText));

        Assert.All(Failpoints.All, name => Assert.Contains($"Failpoints.Hit(Failpoints.{Member(name)})", program, StringComparison.Ordinal));
    }

    public static TheoryData<string> Names => [.. Failpoints.All];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Killed_there_nothing_is_lost_and_only_what_was_handed_over_is_doubled(string name)
    {
        Assert.Equal(137, await MorningIn(name));
        using (var dead = Open())
        {
            // Read, and what it says written: both or neither.
            Assert.Equal(dead.Replies.IsKnown("mail-1"), dead.Answered.Find("mail-1") is not null);
            Assert.Equal(dead.Replies.IsKnown("mail-1"), dead.Journal.AsOf("quarry-lane", Morning).Count == 1);
            Assert.Equal(dead.Replies.IsKnown("mail-1"), dead.Replies.Stopped("quarry-lane").Count == 1);
        }
        Assert.Equal(0, await MorningIn("nowhere"));

        string[] delivered = File.ReadAllLines(Path.Combine(Data.Path, "delivered"));
        // After the hand-over and before the mark nobody can know: the same bytes come again.
        Assert.Equal(name == Failpoints.AfterSend ? 2 : 1, delivered.Length);
        Assert.Single(delivered.Distinct());
        using var store = Open();
        Assert.Equal(OutboxState.Sent, store.Outbox.Find(Digest().Key)!.State);
        Assert.Single(store.Folder.NightlyBackups());
        Assert.Empty(Directory.GetFiles(Folder.Backups, "*.partial"));
        Assert.Equal([4], Assert.Single(store.Members.SpreadsOf("lexington", Morning)).Body);
        Assert.Empty(store.Members.WholeBefore("lexington", Morning + Duration.FromDays(1)));
        var noted = Assert.Single(store.Journal.AsOf("quarry-lane", Morning));
        Assert.NotNull(store.Answered.Find("mail-1"));
        Assert.True(store.Replies.IsKnown("mail-1"));
        Assert.Single(store.Replies.Stopped("quarry-lane"));
        // A picture with a picture's name is whole.
        using var picture = SKBitmap.Decode(Assert.IsType<string>(store.JournalPictures.PathOf(noted.Pictures!)));
        Assert.Equal(40, picture.Width);
        Assert.Equal("garden: House\n", await File.ReadAllTextAsync(Path.Combine(Data.Path, "garden.yaml"), TestContext.Current.CancellationToken));
    }

    /// <summary>The work itself, run only by the process that the test above starts.</summary>
    [Fact(Explicit = true)]
    public async Task A_mornings_work()
    {
        string folder = Environment.GetEnvironmentVariable(FolderVariable)
            ?? throw new InvalidOperationException($"{FolderVariable} names the data folder.");
        var clock = new FakeClock(Morning);
        using var store = Assert.IsType<StoreOutcome.Opened>(GardenStore.Open(folder, StoreUse.Run, Morning)).Store;
        Assert.IsType<BackupOutcome.Made>(store.Backup.Nightly(new(2027, 4, 21), elsewhere: null));
        store.Outbox.Add(Digest());
        store.Members.Add("lexington", "ecmwf_ifs025", Morning, Morning, 360, "example.org", [1, 2, 3]);
        foreach (var (id, model, fetchedAt) in store.Members.WholeBefore("lexington", Morning + Duration.FromDays(1)))
            store.Members.Reduce("lexington", id, model, fetchedAt, [4]);
        using (var bitmap = new SKBitmap(40, 30))
        using (var png = bitmap.Encode(SKEncodedImageFormat.Png, 90))
        using (var stream = png.AsStream())
        {
            string file = Assert.IsType<PictureOutcome.Kept>(store.JournalPictures.Keep(stream)).File;
            store.Answered.Add(
                new(0, "quarry-lane", "a", "mail-1", AnswerOrigin.Mail, null, Morning, ["Noted."], [], null),
                [new(EntryKind.Note, new(2027, 4, 21), Morning, null, null, null, "slugs") { Id = "a-1", Pictures = file }],
                new("mail-1", store.Outbox.Find(Digest().Key)!, MessageWish.Stop));
        }
        string plan = Path.Combine(folder, "garden.yaml");
        if (!File.Exists(plan))
            await File.WriteAllTextAsync(plan, "garden: Home\n", TestContext.Current.CancellationToken);
        Assert.Null(PlanOnDisk.Open(plan, out _)!.Replace("garden: House\n"));
        using var round = new SendRound(
            store.Outbox,
            (row, _) =>
            {
                File.AppendAllText(Path.Combine(folder, "delivered"), $"{row.MessageId} {Convert.ToHexString(row.Bytes)}\n");
                return Task.FromResult<SendOutcome>(new SendOutcome.Accepted("250 ok"));
            },
            clock, () => 0, NullLogger.Instance);
        for (int minute = 0; minute < 15; minute++)
        {
            await round.Run(TestContext.Current.CancellationToken);
            clock.Advance(Duration.FromMinutes(1));
        }
    }

    /// <summary>The exit code: 128 and 9 for SIGKILL.</summary>
    private async Task<int> MorningIn(string failpoint)
    {
        var start = new ProcessStartInfo(Environment.ProcessPath!, ["-explicit", "only", "-method", $"{typeof(FailpointTests).FullName}.{nameof(A_mornings_work)}"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        start.Environment[Failpoints.Variable] = failpoint;
        start.Environment[FolderVariable] = Data.Path;
        using var process = Process.Start(start)!;
        var ct = TestContext.Current.CancellationToken;
        string output = await process.StandardOutput.ReadToEndAsync(ct);
        await process.WaitForExitAsync(ct);
        TestContext.Current.TestOutputHelper?.WriteLine(output);
        return process.ExitCode;
    }

    private static string Member(string name) =>
        string.Concat(name.Split('-').Select(word => char.ToUpperInvariant(word[0]) + word[1..]));

    internal static string Repository()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "GardenWatch.sln")))
            folder = folder.Parent ?? throw new InvalidOperationException("The tests run outside of their source tree.");
        return folder.FullName;
    }
}
