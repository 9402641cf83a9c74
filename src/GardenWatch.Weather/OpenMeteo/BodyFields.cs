using NodaTime;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>How instants and columns stand in a packed body.</summary>
internal static class BodyFields
{
    public static void WriteInstant(this BinaryWriter writer, Instant instant)
    {
        var since = instant - NodaConstants.UnixEpoch;
        writer.Write(since.Days);
        writer.Write(since.NanosecondOfDay);
    }

    public static Instant ReadInstant(this BinaryReader reader) =>
        NodaConstants.UnixEpoch + Duration.FromDays(reader.ReadInt32()) + Duration.FromNanoseconds(reader.ReadInt64());

    /// <summary>Null stands for itself.</summary>
    public static void WriteOptionalInstant(this BinaryWriter writer, Instant? instant)
    {
        writer.Write(instant is not null);
        writer.WriteInstant(instant ?? NodaConstants.UnixEpoch);
    }

    public static Instant? ReadOptionalInstant(this BinaryReader reader)
    {
        bool given = reader.ReadBoolean();
        var instant = reader.ReadInstant();
        return given ? instant : null;
    }

    public static int ReadHours(this BinaryReader reader) =>
        reader.ReadInt32() is var hours and >= 0 and <= Pull.MostHours ? hours : throw new InvalidDataException("Number of hours");

    public static int ReadDecimals(this BinaryReader reader) =>
        reader.ReadByte() is var decimals and <= PulledColumn.MostDecimals ? decimals : throw new InvalidDataException("Decimals");

    /// <summary>Steps from hour to hour, low bytes before high bytes, which squeezes best.</summary>
    public static void WriteSteps(this BinaryWriter writer, ReadOnlySpan<short> values)
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

    public static short[] ReadSteps(this BinaryReader reader, int hours)
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

    /// <summary>What the readers throw at bytes that say the impossible.</summary>
    public static bool IsImpossible(Exception e) =>
        e is IOException or InvalidDataException or ArgumentException or OverflowException or FormatException;
}
