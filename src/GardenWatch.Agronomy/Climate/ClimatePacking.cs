using System.Collections.Immutable;
using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>A climate summary as bytes for the store, and back: temperatures to 0.1 K, sums to 0.1 mm.</summary>
public static class ClimatePacking
{
    private const byte Version = 1;
    private const short Missing = short.MinValue;

    public static byte[] Pack(ClimateSummary summary)
    {
        using var body = new MemoryStream();
        using var writer = new BinaryWriter(body);
        writer.Write(Version);
        writer.Write((byte)summary.SeasonStart.Month);
        writer.Write((byte)summary.SeasonStart.Day);
        foreach (int number in new[] { summary.FirstYear, summary.LastYear, summary.Years })
            writer.Write((short)number);
        WriteAll(writer, summary.Frosts, frost =>
        {
            writer.Write(frost.OfLeaf);
            Write(writer, frost.ThresholdC);
            Write(writer, frost.LastOfSpring);
            Write(writer, frost.FirstOfAutumn);
        });
        WriteAll(writer, summary.Soils, soil =>
        {
            writer.Write((byte)soil.DepthCm);
            writer.Write(soil.OfLow);
            Write(writer, soil.ThresholdC);
            Write(writer, soil.First);
        });
        WriteAll(writer, summary.HotWeeks, hot =>
        {
            Write(writer, hot.ThresholdC);
            Write(writer, hot.First);
            Write(writer, hot.Last);
        });
        WriteAll(writer, summary.Nights, mild =>
        {
            Write(writer, mild.ThresholdC);
            Write(writer, mild.First);
        });
        WriteAll(writer, summary.WeeklyRainMm, mm => Write(writer, mm));
        WriteAll(writer, summary.WeeklyEvapotranspirationMm, mm => Write(writer, mm));
        WriteAll(writer, summary.DailyAir, air =>
        {
            Write(writer, air.LowC);
            Write(writer, air.MeanC);
            Write(writer, air.HighC);
        });
        return body.ToArray();
    }

    /// <summary>Null when the bytes are of another version or damaged: the summary is made anew from the past years.</summary>
    public static ClimateSummary? Unpack(byte[] packed)
    {
        if (packed.Length == 0 || packed[0] != Version)
            return null;
        try
        {
            using var reader = new BinaryReader(new MemoryStream(packed));
            reader.ReadByte();
            var start = new AnnualDate(reader.ReadByte(), reader.ReadByte());
            var summary = new ClimateSummary(
                start, reader.ReadInt16(), reader.ReadInt16(), reader.ReadInt16(),
                ReadAll(reader, () => new FrostSeason(reader.ReadBoolean(), Value(reader), Date(reader, start), Date(reader, start))),
                ReadAll(reader, () => new SoilWarm(reader.ReadByte(), reader.ReadBoolean(), Value(reader), Date(reader, start))),
                ReadAll(reader, () => new HotWeek(Value(reader), Date(reader, start), Date(reader, start))),
                ReadAll(reader, () => new MildNights(Value(reader), Date(reader, start))),
                ReadAll(reader, () => Value(reader)),
                ReadAll(reader, () => Value(reader)),
                ReadAll(reader, () => new NormalAir(Value(reader), Value(reader), Value(reader))));
            return reader.BaseStream.Position == packed.Length && summary.DailyAir.Length == Normals.Days
                && summary.WeeklyRainMm.Length == Normals.Weeks && summary.WeeklyEvapotranspirationMm.Length == Normals.Weeks
                ? summary
                : null;
        }
        catch (Exception e) when (e is IOException or ArgumentException)
        {
            return null;
        }
    }

    private static void WriteAll<T>(BinaryWriter writer, ImmutableArray<T> items, Action<T> write)
    {
        writer.Write((short)items.Length);
        foreach (var item in items)
            write(item);
    }

    private static ImmutableArray<T> ReadAll<T>(BinaryReader reader, Func<T> read)
    {
        var items = ImmutableArray.CreateBuilder<T>();
        for (int left = reader.ReadInt16(); left > 0; left--)
            items.Add(read());
        return items.ToImmutable();
    }

    private static void Write(BinaryWriter writer, double value) =>
        writer.Write(double.IsNaN(value) ? Missing : (short)Math.Clamp(Math.Round(value * 10), -short.MaxValue, short.MaxValue));

    private static double Value(BinaryReader reader) => reader.ReadInt16() is var tenths && tenths == Missing ? double.NaN : tenths / 10.0;

    private static void Write(BinaryWriter writer, UsualDate date)
    {
        foreach (int number in new[] { date.EarlyDay ?? Missing, date.MiddleDay ?? Missing, date.LateDay ?? Missing, date.YearsWith, date.Years })
            writer.Write((short)number);
    }

    private static UsualDate Date(BinaryReader reader, AnnualDate start) =>
        new(start, Day(reader), Day(reader), Day(reader), reader.ReadInt16(), reader.ReadInt16());

    private static int? Day(BinaryReader reader) => reader.ReadInt16() is var day && day == Missing ? null : day;
}
