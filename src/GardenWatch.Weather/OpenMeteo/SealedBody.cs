using System.IO.Compression;
using System.Numerics;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>Bytes for the store: squeezed, with a version in front and a checksum that notices damage.</summary>
/// <remarks>Layout: version, checksum of all that follows it, length when unpacked, then Brotli.</remarks>
internal static class SealedBody
{
    private const int HeadLength = 1 + sizeof(uint) + sizeof(int);
    private const int LargestUnpacked = 4 * 1024 * 1024;
    private const int BrotliQuality = 9;
    private const int BrotliWindow = 18;

    public static byte[] Seal(byte version, ReadOnlySpan<byte> raw)
    {
        var packed = new byte[HeadLength + BrotliEncoder.GetMaxCompressedLength(raw.Length)];
        if (!BrotliEncoder.TryCompress(raw, packed.AsSpan(HeadLength), out int length, BrotliQuality, BrotliWindow))
            throw new InvalidOperationException("Bytes did not fit into the room Brotli itself asked for.");
        Array.Resize(ref packed, HeadLength + length);
        packed[0] = version;
        BitConverter.TryWriteBytes(packed.AsSpan(1 + sizeof(uint)), raw.Length);
        BitConverter.TryWriteBytes(packed.AsSpan(1), Checksum(packed));
        return packed;
    }

    /// <summary>Null, with the fault, when the bytes are damaged or of another version.</summary>
    public static byte[]? Open(ReadOnlySpan<byte> packed, byte version, out string? fault)
    {
        fault = null;
        if (packed.Length <= HeadLength)
            fault = "The stored weather is cut off.";
        else if (packed[0] != version)
            fault = $"The stored weather has version {packed[0]} and this program reads {version}; a newer program wrote it, or it is damaged.";
        else if (BitConverter.ToUInt32(packed[1..]) != Checksum(packed))
            fault = "The stored weather is damaged: its checksum does not fit.";
        if (fault is not null)
            return null;

        int rawLength = BitConverter.ToInt32(packed[(1 + sizeof(uint))..]);
        if (rawLength is < 0 or > LargestUnpacked)
        {
            fault = "The stored weather is damaged: its length can't be true.";
            return null;
        }
        var raw = new byte[rawLength];
        if (BrotliDecoder.TryDecompress(packed[HeadLength..], raw, out int length) && length == rawLength)
            return raw;
        fault = "The stored weather is damaged: it does not unpack.";
        return null;
    }

    /// <summary>CRC-32C of the version and of all behind the checksum itself.</summary>
    private static uint Checksum(ReadOnlySpan<byte> packed)
    {
        uint sum = BitOperations.Crc32C(uint.MaxValue, packed[0]);
        foreach (byte b in packed[(1 + sizeof(uint))..])
            sum = BitOperations.Crc32C(sum, b);
        return sum;
    }
}
