using System.Buffers.Binary;
using System.Collections.Immutable;
using System.IO.Compression;
using System.Text;

namespace GardenWatch.Messages.Pictures;

/// <summary>PNG of sixteen colours: line drawings in a third of the bytes that full colour takes. Equal pixels give equal bytes.</summary>
/// <remarks>Portable Network Graphics, second edition (W3C 2003): colour type 3, four bits a pixel, no filter.</remarks>
internal static class IndexedPng
{
    private const int Colours = 16;
    private static readonly uint[] Checks = [.. Enumerable.Range(0, 256).Select(CheckOf)];

    /// <param name="pixels">Rows from the top, each as 0xFFRRGGBB.</param>
    /// <param name="kept">Colours that stay exact where they occur.</param>
    public static ImmutableArray<byte> Write(uint[] pixels, int width, int height, IReadOnlyList<uint> kept)
    {
        var (palette, indexOf) = Palette(pixels, kept);
        int stride = (width + 1) / 2;
        byte[] rows = new byte[(stride + 1) * height];
        for (int y = 0; y < height; y++)
        {
            int row = y * (stride + 1) + 1;
            for (int x = 0; x < width; x++)
                rows[row + x / 2] |= (byte)(indexOf[pixels[y * width + x]] << (x % 2 == 0 ? 4 : 0));
        }

        using var png = new MemoryStream();
        png.Write([0x89, (byte)'P', (byte)'N', (byte)'G', (byte)'\r', (byte)'\n', 0x1A, (byte)'\n']);
        byte[] header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (4, 3);
        Chunk(png, "IHDR", header);
        Chunk(png, "PLTE", [.. palette.SelectMany(colour => new[] { (byte)(colour >> 16), (byte)(colour >> 8), (byte)colour })]);
        Chunk(png, "IDAT", Packed(rows));
        Chunk(png, "IEND", []);
        return [.. png.ToArray()];
    }

    /// <summary>The colours of the paper that occur, then the commonest of the blends at the edges of lines; the others go to the nearest.</summary>
    private static (List<uint> Palette, Dictionary<uint, int> IndexOf) Palette(uint[] pixels, IReadOnlyList<uint> kept)
    {
        var counts = pixels.CountBy(pixel => pixel).ToDictionary();
        var palette = kept.Where(counts.ContainsKey).Distinct().ToList();
        palette.AddRange(counts.Where(count => !palette.Contains(count.Key))
            .OrderByDescending(count => count.Value).ThenBy(count => count.Key)
            .Select(count => count.Key)
            .Take(Colours - palette.Count));
        return (palette, counts.Keys.ToDictionary(colour => colour, colour => Nearest(palette, colour)));
    }

    private static int Nearest(List<uint> palette, uint colour)
    {
        int best = 0;
        for (int i = 1; i < palette.Count; i++)
            if (Apart(palette[i], colour) < Apart(palette[best], colour))
                best = i;
        return best;
    }

    private static int Apart(uint one, uint other)
    {
        int red = (int)(one >> 16 & 255) - (int)(other >> 16 & 255);
        int green = (int)(one >> 8 & 255) - (int)(other >> 8 & 255);
        int blue = (int)(one & 255) - (int)(other & 255);
        return red * red + green * green + blue * blue;
    }

    private static byte[] Packed(byte[] rows)
    {
        using var packed = new MemoryStream();
        using (var zlib = new ZLibStream(packed, CompressionLevel.SmallestSize, leaveOpen: true))
            zlib.Write(rows);
        return packed.ToArray();
    }

    private static void Chunk(MemoryStream png, string kind, byte[] content)
    {
        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(number, content.Length);
        png.Write(number);
        byte[] whole = [.. Encoding.ASCII.GetBytes(kind), .. content];
        png.Write(whole);
        BinaryPrimitives.WriteUInt32BigEndian(number, whole.Aggregate(uint.MaxValue, (check, b) => Checks[(check ^ b) & 255] ^ check >> 8) ^ uint.MaxValue);
        png.Write(number);
    }

    /// <summary>CRC-32 of one byte, as PNG's annex D gives it.</summary>
    private static uint CheckOf(int value)
    {
        uint check = (uint)value;
        for (int bit = 0; bit < 8; bit++)
            check = (check & 1) != 0 ? 0xEDB88320 ^ check >> 1 : check >> 1;
        return check;
    }
}
