using System.Collections.Immutable;
using System.IO.Compression;
using System.Numerics;
using System.Runtime.InteropServices;
using System.Text;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What became of packed bytes.</summary>
public abstract record UnpackOutcome
{
    private UnpackOutcome() { }

    public sealed record Good(Pull Pull) : UnpackOutcome;

    public sealed record Damaged(string Reason) : UnpackOutcome;
}

/// <summary>A pull as few bytes for the store, and back, exact to the decimals the service printed.</summary>
/// <remarks>
/// Layout: version, checksum of all that follows, length when unpacked, then Brotli of the fields and of each column's
/// steps from hour to hour, low bytes before high bytes, which squeezes best. Columns go by the service's names, so that
/// our variables may be put in another order.
/// </remarks>
public static class PullPacking
{
    private const byte Version = 1;
    private const int HeadLength = 1 + sizeof(uint) + sizeof(int);
    private const int LargestUnpacked = 1024 * 1024;
    private const int BrotliQuality = 9;
    private const int BrotliWindow = 18;

    public static byte[] Pack(Pull pull)
    {
        using var body = new MemoryStream();
        using (var writer = new BinaryWriter(body, Encoding.UTF8, leaveOpen: true))
            Write(pull, writer);
        var raw = body.GetBuffer().AsSpan(0, (int)body.Length);

        var packed = new byte[HeadLength + BrotliEncoder.GetMaxCompressedLength(raw.Length)];
        if (!BrotliEncoder.TryCompress(raw, packed.AsSpan(HeadLength), out int length, BrotliQuality, BrotliWindow))
            throw new InvalidOperationException("A pull did not fit into the room Brotli itself asked for.");
        Array.Resize(ref packed, HeadLength + length);
        packed[0] = Version;
        BitConverter.TryWriteBytes(packed.AsSpan(1 + sizeof(uint)), raw.Length);
        BitConverter.TryWriteBytes(packed.AsSpan(1), Checksum(packed));
        return packed;
    }

    public static UnpackOutcome Unpack(ReadOnlySpan<byte> packed)
    {
        if (packed.Length <= HeadLength)
            return new UnpackOutcome.Damaged("The stored weather is cut off.");
        if (packed[0] != Version)
            return new UnpackOutcome.Damaged(
                $"The stored weather has version {packed[0]} and this program reads {Version}; a newer program wrote it, or it is damaged.");
        if (BitConverter.ToUInt32(packed[1..]) != Checksum(packed))
            return new UnpackOutcome.Damaged("The stored weather is damaged: its checksum does not fit.");
        int rawLength = BitConverter.ToInt32(packed[(1 + sizeof(uint))..]);
        if (rawLength is < 0 or > LargestUnpacked)
            return new UnpackOutcome.Damaged("The stored weather is damaged: its length can't be true.");
        var raw = new byte[rawLength];
        if (!BrotliDecoder.TryDecompress(packed[HeadLength..], raw, out int length) || length != rawLength)
            return new UnpackOutcome.Damaged("The stored weather is damaged: it does not unpack.");
        try
        {
            using var reader = new BinaryReader(new MemoryStream(raw), Encoding.UTF8);
            return new UnpackOutcome.Good(Read(reader));
        }
        catch (Exception e) when (e is IOException or InvalidDataException or ArgumentException or OverflowException or FormatException)
        {
            return new UnpackOutcome.Damaged("The stored weather is damaged: its fields can't be true.");
        }
    }

    private static void Write(Pull pull, BinaryWriter writer)
    {
        WriteInstant(writer, pull.FetchedAt);
        writer.Write(pull.Host);
        writer.Write(pull.Models);
        WriteInstant(writer, pull.Start);
        writer.Write(pull.Hours);
        writer.Write(pull.GridLatitude);
        writer.Write(pull.GridLongitude);
        writer.Write(pull.GridElevationMetres);
        writer.Write(pull.ZoneName ?? "");
        writer.Write(pull.ServerDate is not null);
        WriteInstant(writer, pull.ServerDate ?? NodaConstants.UnixEpoch);
        writer.Write(pull.OutOfRange);
        writer.Write((byte)pull.Columns.Count);
        foreach (var (variable, column) in pull.Columns)
        {
            writer.Write(ServiceVariable.Of(variable).Name);
            writer.Write((byte)column.Decimals);
            WriteSteps(writer, column.Scaled.AsSpan());
        }
    }

    private static Pull Read(BinaryReader reader)
    {
        var fetchedAt = ReadInstant(reader);
        string host = reader.ReadString();
        string models = reader.ReadString();
        var start = ReadInstant(reader);
        int hours = reader.ReadInt32();
        if (hours is < 0 or > Pull.MostHours)
            throw new InvalidDataException("Number of hours");
        double latitude = reader.ReadDouble();
        double longitude = reader.ReadDouble();
        double elevation = reader.ReadDouble();
        string zoneName = reader.ReadString();
        bool hasServerDate = reader.ReadBoolean();
        var serverDate = ReadInstant(reader);
        int outOfRange = reader.ReadInt32();
        int count = reader.ReadByte();
        var columns = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
        for (int i = 0; i < count; i++)
        {
            string name = reader.ReadString();
            int decimals = reader.ReadByte();
            if (decimals > PulledColumn.MostDecimals)
                throw new InvalidDataException("Decimals");
            var scaled = ReadSteps(reader, hours);
            if (ServiceVariable.Named(name) is { } variable)
                columns.Add(variable.Variable, new(decimals, ImmutableCollectionsMarshal.AsImmutableArray(scaled)));
        }
        return new(
            fetchedAt, host, models, start, hours, columns.ToImmutable(), latitude, longitude, elevation,
            zoneName.Length > 0 ? zoneName : null, hasServerDate ? serverDate : null, outOfRange);
    }

    private static void WriteSteps(BinaryWriter writer, ReadOnlySpan<short> values)
    {
        var planes = new byte[values.Length * 2];
        short before = 0;
        for (int hour = 0; hour < values.Length; hour++)
        {
            // Wraps round at both ends, and back again when it is read.
            short step = unchecked((short)(values[hour] - before));
            ushort folded = unchecked((ushort)((step << 1) ^ (step >> 15)));
            planes[hour] = unchecked((byte)folded);
            planes[values.Length + hour] = (byte)(folded >> 8);
            before = values[hour];
        }
        writer.Write(planes);
    }

    private static short[] ReadSteps(BinaryReader reader, int hours)
    {
        var planes = reader.ReadBytes(hours * 2);
        if (planes.Length != hours * 2)
            throw new EndOfStreamException();
        var values = new short[hours];
        short before = 0;
        for (int hour = 0; hour < hours; hour++)
        {
            int folded = planes[hour] | planes[hours + hour] << 8;
            int step = (folded >> 1) ^ -(folded & 1);
            before = values[hour] = unchecked((short)(before + step));
        }
        return values;
    }

    private static void WriteInstant(BinaryWriter writer, Instant instant)
    {
        var since = instant - NodaConstants.UnixEpoch;
        writer.Write(since.Days);
        writer.Write(since.NanosecondOfDay);
    }

    private static Instant ReadInstant(BinaryReader reader) =>
        NodaConstants.UnixEpoch + Duration.FromDays(reader.ReadInt32()) + Duration.FromNanoseconds(reader.ReadInt64());

    /// <summary>CRC-32C of the version and of all behind the checksum itself.</summary>
    private static uint Checksum(ReadOnlySpan<byte> packed)
    {
        uint sum = BitOperations.Crc32C(uint.MaxValue, packed[0]);
        foreach (byte b in packed[(1 + sizeof(uint))..])
            sum = BitOperations.Crc32C(sum, b);
        return sum;
    }
}
