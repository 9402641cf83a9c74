using GardenWatch.Messages.Mail;

namespace GardenWatch.Messages.Tests.Mail;

public sealed class EmlFolderTests : IDisposable
{
    private readonly string _folder = Path.Combine(Path.GetTempPath(), Guid.NewGuid().ToString("N"), "mail");

    [Fact]
    public async Task The_same_mail_is_one_file_with_its_bytes()
    {
        var mail = OutgoingMailTests.Rendered("frosty-morning");
        for (int i = 0; i < 2; i++)
            Assert.IsType<SendOutcome.Accepted>(await Send(mail));
        string file = Assert.Single(Directory.GetFiles(_folder));
        Assert.Equal("quarry-lane.2026-04-21.1@example.org.eml", Path.GetFileName(file));
        Assert.Equal(mail.Bytes.AsEnumerable(), await File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task A_folder_that_can_not_be_written_is_told_not_thrown()
    {
        Directory.CreateDirectory(Path.GetDirectoryName(_folder)!);
        await File.WriteAllTextAsync(_folder, "in the way", TestContext.Current.CancellationToken);
        Assert.IsType<SendOutcome.TryLater>(await Send(OutgoingMailTests.Rendered("frosty-morning")));
    }

    public void Dispose() => Directory.Delete(Path.GetDirectoryName(_folder)!, recursive: true);

    private Task<SendOutcome> Send(OutgoingMail mail) =>
        new EmlFolder(_folder).Send(mail.Bytes.AsMemory(), mail.From, mail.To, TestContext.Current.CancellationToken);
}
