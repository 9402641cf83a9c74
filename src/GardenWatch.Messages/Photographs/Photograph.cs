using SkiaSharp;

namespace GardenWatch.Messages.Photographs;

/// <summary>What became of a file that was sent as a photograph.</summary>
public abstract record PhotographReading
{
    private PhotographReading() { }

    /// <param name="Jpeg">Upright, with nothing but the picture in it: no place, no camera, no time.</param>
    public sealed record Good(byte[] Jpeg, int Width, int Height) : PhotographReading;

    /// <param name="Reason">What is wrong with it and what to send instead, as a clause.</param>
    public sealed record Refused(string Reason) : PhotographReading;
}

/// <summary>Makes a photograph small and plain, without ever holding it whole when it is large.</summary>
public static class Photograph
{
    public const int LongestEdge = 1600;

    private const int Quality = 85;
    /// <summary>A plain JPEG of any size is read in an eighth of its edges if need be.</summary>
    private const long MostPixels = 300_000_000;
    /// <summary>Other kinds are unpacked whole before they are made small: four bytes a pixel.</summary>
    private const long MostPixelsWhole = 26_000_000;

    public static PhotographReading Read(string file)
    {
        using var codec = SKCodec.Create(file);
        if (codec is null)
            return new PhotographReading.Refused("is no picture that can be read here; send it as JPEG or PNG");
        var size = codec.Info.Size;
        long pixels = (long)size.Width * size.Height;
        bool shrinksWhileRead = codec.EncodedFormat == SKEncodedImageFormat.Jpeg && !IsProgressive(file);
        if (pixels > (shrinksWhileRead ? MostPixels : MostPixelsWhole))
            return new PhotographReading.Refused($"has {size.Width} times {size.Height} dots, more than can be read here; send a smaller one");
        double wanted = Math.Min(1, (double)LongestEdge / Math.Max(size.Width, size.Height));
        using var read = Decode(codec, wanted);
        return read is null
            ? new PhotographReading.Refused("is damaged; send it again")
            : Plain(read, codec.EncodedOrigin);
    }

    /// <summary>At the size next above the wanted one that the format gives; null when it can't be unpacked, or only half of it is there.</summary>
    private static SKBitmap? Decode(SKCodec codec, double wanted)
    {
        var given = codec.GetScaledDimensions((float)wanted);
        // The codec rounds to what it can; never below what is wanted.
        for (double larger = wanted; Math.Max(given.Width, given.Height) < wanted * Math.Max(codec.Info.Width, codec.Info.Height) && larger < 1;)
        {
            larger = Math.Min(1, larger * 1.25);
            given = codec.GetScaledDimensions((float)larger);
        }
        var bitmap = new SKBitmap(new SKImageInfo(given.Width, given.Height, SKColorType.Rgba8888, SKAlphaType.Premul));
        if (codec.GetPixels(bitmap.Info, bitmap.GetPixels()) == SKCodecResult.Success)
            return bitmap;
        bitmap.Dispose();
        return null;
    }

    private static PhotographReading.Good Plain(SKBitmap read, SKEncodedOrigin origin)
    {
        double scale = Math.Min(1, (double)LongestEdge / Math.Max(read.Width, read.Height));
        int width = Math.Max(1, (int)Math.Round(read.Width * scale)), height = Math.Max(1, (int)Math.Round(read.Height * scale));
        bool turned = origin is SKEncodedOrigin.LeftTop or SKEncodedOrigin.RightTop or SKEncodedOrigin.RightBottom or SKEncodedOrigin.LeftBottom;
        var (outWidth, outHeight) = turned ? (height, width) : (width, height);
        using var upright = new SKBitmap(new SKImageInfo(outWidth, outHeight, SKColorType.Rgba8888, SKAlphaType.Opaque));
        using (var canvas = new SKCanvas(upright))
        using (var image = SKImage.FromBitmap(read))
        {
            canvas.Clear(SKColors.White);
            canvas.Concat(Upright(origin, width, height));
            canvas.DrawImage(image, SKRect.Create(width, height), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        }
        using var jpeg = upright.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return new(jpeg.ToArray(), outWidth, outHeight);
    }

    /// <summary>EXIF's eight ways of holding a camera, turned back (EXIF 2.3, tag 0x0112).</summary>
    private static SKMatrix Upright(SKEncodedOrigin origin, float width, float height) => origin switch
    {
        SKEncodedOrigin.TopRight => new(-1, 0, width, 0, 1, 0, 0, 0, 1),
        SKEncodedOrigin.BottomRight => new(-1, 0, width, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.BottomLeft => new(1, 0, 0, 0, -1, height, 0, 0, 1),
        SKEncodedOrigin.LeftTop => new(0, 1, 0, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightTop => new(0, -1, height, 1, 0, 0, 0, 0, 1),
        SKEncodedOrigin.RightBottom => new(0, -1, height, -1, 0, width, 0, 0, 1),
        SKEncodedOrigin.LeftBottom => new(0, 1, 0, -1, 0, width, 0, 0, 1),
        _ => SKMatrix.Identity,
    };

    /// <summary>A progressive JPEG holds all its coefficients before the first line is known, whatever size is asked for.</summary>
    private static bool IsProgressive(string file)
    {
        const byte marker = 0xFF, startOfScan = 0xDA;
        using var stream = File.OpenRead(file);
        stream.Position = 2;
        Span<byte> head = stackalloc byte[4];
        while (stream.ReadAtLeast(head, 4, throwOnEndOfStream: false) == 4 && head[0] == marker && head[1] != startOfScan)
        {
            if (head[1] is 0xC2 or 0xC6 or 0xCA or 0xCE)
                return true;
            stream.Position += (head[2] << 8) + head[3] - 2;
        }
        return false;
    }
}
