using GardenWatch.Messages.Tests.Digests;
using GardenWatch.Messages.Tests.Mail;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>A picture is judged by looking at it: with a folder named, all of them and their messages are left there.</summary>
public sealed class PictureViewTests
{
    [Fact]
    public void All_pictures_can_be_looked_at()
    {
        string? folder = Environment.GetEnvironmentVariable("GARDENWATCH_PICTURES");
        Assert.SkipWhen(folder is null, "GARDENWATCH_PICTURES names no folder to leave the pictures in.");
        Directory.CreateDirectory(folder);
        foreach (var (name, wide) in PictureSamples.Names.Select(row => row.Data))
        {
            int count = 0;
            foreach (var picture in PictureSamples.Of(name, wide))
                foreach (bool dark in (bool[])[false, true])
                    File.WriteAllBytes(Path.Combine(folder, $"{name}{(wide ? "-wide" : "")}-{++count / 2}-{picture.FileName(dark)}"), [.. picture.Png(dark)]);
        }
        foreach (string name in DigestSamples.Names.Select(row => row.Data))
        {
            File.WriteAllText(Path.Combine(folder, name + ".html"), Browser.Page(DigestSamples.Of(name)));
            File.WriteAllBytes(Path.Combine(folder, name + ".eml"), [.. OutgoingMailTests.Rendered(name).Bytes]);
        }
    }
}
