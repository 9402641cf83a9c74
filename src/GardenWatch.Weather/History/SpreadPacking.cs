using System.Collections.Immutable;
using System.Text;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>The spreads of one pull as bytes for the store, and back, to a hundredth of a degree or millimetre.</summary>
public static class SpreadPacking
{
    private const byte Version = 1;

    public static byte[] Pack(ImmutableArray<MemberSpread> spreads)
    {
        using var body = new MemoryStream();
        using (var writer = new BinaryWriter(body, Encoding.UTF8, leaveOpen: true))
        {
            writer.Write(spreads.Length);
            foreach (var spread in spreads)
            {
                writer.Write(Period.DaysBetween(Epoch, spread.Date));
                writer.Write((byte)spread.Part);
                writer.Write((short)spread.LeadDays);
                Write(writer, spread.LowC);
                Write(writer, spread.HighC);
                Write(writer, spread.RainMm);
            }
        }
        return SealedBody.Seal(Version, body.GetBuffer().AsSpan(0, (int)body.Length));
    }

    /// <summary>Null, with the fault, when the bytes are damaged or of another version.</summary>
    public static ImmutableArray<MemberSpread>? Unpack(ReadOnlySpan<byte> packed, out string? fault)
    {
        if (SealedBody.Open(packed, Version, out fault) is not { } raw)
            return null;
        try
        {
            using var reader = new BinaryReader(new MemoryStream(raw), Encoding.UTF8);
            var spreads = ImmutableArray.CreateBuilder<MemberSpread>();
            for (int left = reader.ReadInt32(); left > 0; left--)
                spreads.Add(new(
                    Epoch.PlusDays(reader.ReadInt32()), (SpreadPart)reader.ReadByte(), reader.ReadInt16(), Read(reader), Read(reader), Read(reader)));
            return spreads.ToImmutable();
        }
        catch (Exception e) when (BodyFields.IsImpossible(e))
        {
            fault = "The stored spreads are damaged: their fields can't be true.";
            return null;
        }
    }

    private static readonly LocalDate Epoch = new(1970, 1, 1);

    private static void Write(BinaryWriter writer, Spread spread)
    {
        foreach (double value in new[] { spread.P10, spread.P25, spread.P50, spread.P75, spread.P90 })
            writer.Write(double.IsNaN(value) ? PulledColumn.Missing : (short)Math.Clamp(Math.Round(value * 100), -short.MaxValue, short.MaxValue));
    }

    private static Spread Read(BinaryReader reader)
    {
        return new(One(), One(), One(), One(), One());

        double One() => reader.ReadInt16() is var scaled && scaled == PulledColumn.Missing ? double.NaN : scaled / 100.0;
    }
}
