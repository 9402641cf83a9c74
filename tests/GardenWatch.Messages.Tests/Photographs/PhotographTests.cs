using System.Text;
using GardenWatch.Messages.Photographs;
using SkiaSharp;

namespace GardenWatch.Messages.Tests.Photographs;

public sealed class PhotographTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("gardenwatch-photographs").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg, 4000, 3000, 1600, 1200)]
    [InlineData(SKEncodedImageFormat.Jpeg, 1700, 3400, 800, 1600)]
    [InlineData(SKEncodedImageFormat.Png, 2000, 1000, 1600, 800)]
    [InlineData(SKEncodedImageFormat.Webp, 640, 480, 640, 480)] // never made larger
    public void A_photograph_is_brought_to_a_sane_size(SKEncodedImageFormat format, int width, int height, int newWidth, int newHeight)
    {
        var good = Assert.IsType<PhotographReading.Good>(Photograph.Read(Painted(format, width, height)));

        Assert.Equal((newWidth, newHeight), (good.Width, good.Height));
        using var read = SKBitmap.Decode(good.Jpeg);
        Assert.Equal((newWidth, newHeight), (read.Width, read.Height));
        // Red on the left, blue on the right, as painted.
        Assert.True(read.GetPixel(newWidth / 10, newHeight / 2) is { Red: > 200, Blue: < 60 });
        Assert.True(read.GetPixel(newWidth * 9 / 10, newHeight / 2) is { Red: < 60, Blue: > 200 });
    }

    [Fact]
    public void The_place_in_it_is_gone_and_it_stands_upright()
    {
        byte[] jpeg = File.ReadAllBytes(Painted(SKEncodedImageFormat.Jpeg, 400, 200));
        // EXIF with the camera on its side (6) and words that stand for a place.
        byte[] exif =
        [
            .. "Exif\0\0"u8, .. "MM\0*"u8, 0, 0, 0, 8, 0, 2, 0x01, 0x12, 0, 3, 0, 0, 0, 1, 0, 6, 0, 0, 0x01, 0x0E, 0, 2, 0, 0, 0, 12, 0, 0, 0, 38, 0, 0, 0, 0,
            .. Encoding.ASCII.GetBytes("42.2N 71.7W\0"),
        ];
        byte[] head = [0xFF, 0xD8, 0xFF, 0xE1, (byte)((exif.Length + 2) >> 8), (byte)(exif.Length + 2), .. exif];
        string file = Path.Combine(_folder, "placed.jpg");
        File.WriteAllBytes(file, [.. head, .. jpeg[2..]]);

        var good = Assert.IsType<PhotographReading.Good>(Photograph.Read(file));

        Assert.Equal((200, 400), (good.Width, good.Height));
        using var read = SKBitmap.Decode(good.Jpeg);
        // Turned clockwise: what was left is above.
        Assert.True(read.GetPixel(100, 40) is { Red: > 200, Blue: < 60 });
        Assert.True(read.GetPixel(100, 360) is { Red: < 60, Blue: > 200 });
        string bytes = Encoding.Latin1.GetString(good.Jpeg);
        Assert.DoesNotContain("Exif", bytes, StringComparison.Ordinal);
        Assert.DoesNotContain("42.2N", bytes, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_no_picture_or_only_half_of_one_is_refused_with_what_to_send()
    {
        string text = Path.Combine(_folder, "text.jpg"), half = Path.Combine(_folder, "half.jpg");
        File.WriteAllText(text, "not a picture");
        byte[] whole = File.ReadAllBytes(Painted(SKEncodedImageFormat.Png, 800, 800));
        File.WriteAllBytes(half, whole[..(whole.Length / 2)]);

        Assert.Contains("JPEG or PNG", Assert.IsType<PhotographReading.Refused>(Photograph.Read(text)).Reason, StringComparison.Ordinal);
        Assert.Contains("again", Assert.IsType<PhotographReading.Refused>(Photograph.Read(half)).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_small_file_that_unpacks_to_a_huge_picture_is_refused()
    {
        string file = Painted(SKEncodedImageFormat.Png, 6000, 5000);
        Assert.Contains("6000", Assert.IsType<PhotographReading.Refused>(Photograph.Read(file)).Reason, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_picture_of_many_megapixels_does_not_take_their_memory()
    {
        // 108 million dots would be 432 MB unpacked.
        string file = Painted(SKEncodedImageFormat.Jpeg, 12000, 9000);
        GC.Collect();
        long before = Resident(), most = before;
        var reading = Task.Run(() => Photograph.Read(file), TestContext.Current.CancellationToken);
        while (!reading.IsCompleted)
            most = Math.Max(most, Resident());

        var good = Assert.IsType<PhotographReading.Good>(await reading);
        Assert.Equal((1600, 1200), (good.Width, good.Height));
        TestContext.Current.TestOutputHelper?.WriteLine($"{new FileInfo(file).Length >> 10} kB, {(most - before) >> 20} MB more at the most");
        Assert.InRange(most - before, 0, 200 << 20);
    }

    [Theory]
    [InlineData(SKEncodedImageFormat.Jpeg, 7000, 5250)]
    [InlineData(SKEncodedImageFormat.Png, 3800, 3700)]
    public async Task Forty_megabytes_from_a_real_encoder_become_a_sane_picture(SKEncodedImageFormat format, int width, int height)
    {
        string file = Noisy(format, width, height);
        long size = new FileInfo(file).Length;
        Assert.InRange(size, 38L << 20, 60L << 20);
        GC.Collect();
        long before = Resident(), most = before;
        var reading = Task.Run(() => Photograph.Read(file), TestContext.Current.CancellationToken);
        while (!reading.IsCompleted)
            most = Math.Max(most, Resident());

        var good = Assert.IsType<PhotographReading.Good>(await reading);
        Assert.Equal(1600, good.Width);
        Assert.InRange(good.Jpeg.Length, 1, 3 << 20);
        TestContext.Current.TestOutputHelper?.WriteLine($"{size >> 20} MB of {format} become {good.Jpeg.Length >> 10} kB, {(most - before) >> 20} MB more at the most");
        Assert.InRange(most - before, 0, 250 << 20);
    }

    /// <summary>What nothing can be left out of.</summary>
    private string Noisy(SKEncodedImageFormat format, int width, int height)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        new Random(4).NextBytes(bitmap.GetPixelSpan());
        string file = Path.Combine(_folder, "noise." + format);
        using var stream = File.Create(file);
        Assert.True(bitmap.Encode(stream, format, 97));
        return file;
    }

    /// <summary>Bytes of this process in memory, other tests' included.</summary>
    private static long Resident() =>
        Environment.SystemPageSize * long.Parse(File.ReadAllText("/proc/self/statm").Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>Red on the left half, blue on the right.</summary>
    private string Painted(SKEncodedImageFormat format, int width, int height)
    {
        using var bitmap = new SKBitmap(new SKImageInfo(width, height, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(bitmap))
        using (var blue = new SKPaint { Color = SKColors.Blue })
        {
            canvas.Clear(SKColors.Red);
            canvas.DrawRect(width / 2f, 0, width / 2f, height, blue);
        }
        using var data = bitmap.Encode(format, 90);
        string file = Path.Combine(_folder, $"{width}x{height}.{format}");
        File.WriteAllBytes(file, data.ToArray());
        return file;
    }
}
