using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text;
using GardenWatch.Agronomy.Series;

namespace GardenWatch.Weather.OpenMeteo;

/// <summary>A member pull as bytes for the store, and back, exact to the decimals the service printed.</summary>
/// <remarks>Variable by variable, then member by member: like lies beside like, which squeezes best.</remarks>
public static class MemberPacking
{
    private const byte Version = 1;

    public static byte[] Pack(MemberPull pull)
    {
        using var body = new MemoryStream();
        using (var writer = new BinaryWriter(body, Encoding.UTF8, leaveOpen: true))
            Write(pull, writer);
        return SealedBody.Seal(Version, body.GetBuffer().AsSpan(0, (int)body.Length));
    }

    /// <summary>Null, with the fault, when the bytes are damaged or of another version.</summary>
    public static MemberPull? Unpack(ReadOnlySpan<byte> packed, out string? fault)
    {
        if (SealedBody.Open(packed, Version, out fault) is not { } raw)
            return null;
        try
        {
            using var reader = new BinaryReader(new MemoryStream(raw), Encoding.UTF8);
            return Read(reader);
        }
        catch (Exception e) when (BodyFields.IsImpossible(e))
        {
            fault = "The stored members are damaged: their fields can't be true.";
            return null;
        }
    }

    private static void Write(MemberPull pull, BinaryWriter writer)
    {
        writer.WriteInstant(pull.FetchedAt);
        writer.Write(pull.Host);
        writer.Write(pull.Model);
        writer.WriteOptionalInstant(pull.RunAt);
        writer.WriteInstant(pull.Start);
        writer.Write(pull.Hours);
        writer.WriteOptionalInstant(pull.ServerDate);
        writer.Write(pull.OutOfRange);
        writer.Write((byte)pull.Members.Length);
        foreach (var variable in ServiceVariable.All)
        {
            int having = pull.Members.Count(member => member.ContainsKey(variable.Variable));
            if (having == 0)
                continue;
            writer.Write(variable.Name);
            writer.Write((byte)having);
            for (int member = 0; member < pull.Members.Length; member++)
            {
                if (!pull.Members[member].TryGetValue(variable.Variable, out var column))
                    continue;
                writer.Write((byte)member);
                writer.Write((byte)column.Decimals);
                writer.WriteSteps(column.Scaled.AsSpan());
            }
        }
        writer.Write("");
    }

    private static MemberPull Read(BinaryReader reader)
    {
        var fetchedAt = reader.ReadInstant();
        string host = reader.ReadString();
        string model = reader.ReadString();
        var runAt = reader.ReadOptionalInstant();
        var start = reader.ReadInstant();
        int hours = reader.ReadHours();
        var serverDate = reader.ReadOptionalInstant();
        int outOfRange = reader.ReadInt32();
        var members = new ImmutableSortedDictionary<WeatherVariable, PulledColumn>.Builder[reader.ReadByte()];
        for (int member = 0; member < members.Length; member++)
            members[member] = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
        while (reader.ReadString() is { Length: > 0 } name)
        {
            var variable = ServiceVariable.Named(name);
            for (int left = reader.ReadByte(); left > 0; left--)
            {
                int member = reader.ReadByte();
                int decimals = reader.ReadDecimals();
                var scaled = reader.ReadSteps(hours);
                if (member >= members.Length)
                    throw new InvalidDataException("Member");
                if (variable is not null)
                    members[member].Add(variable.Variable, new(decimals, ImmutableCollectionsMarshal.AsImmutableArray(scaled)));
            }
        }
        return new(
            fetchedAt, host, model, runAt, start, hours, [.. members.Select(member => member.ToImmutable())], serverDate, outOfRange);
    }
}
