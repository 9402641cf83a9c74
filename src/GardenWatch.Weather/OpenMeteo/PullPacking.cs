using System.Collections.Immutable;
using System.Runtime.InteropServices;
using System.Text;
using GardenWatch.Agronomy.Series;

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
/// Columns go by the service's names, so that our variables may be put in another order.
/// </remarks>
public static class PullPacking
{
    private const byte Version = 1;

    public static byte[] Pack(Pull pull)
    {
        using var body = new MemoryStream();
        using (var writer = new BinaryWriter(body, Encoding.UTF8, leaveOpen: true))
            Write(pull, writer);
        return SealedBody.Seal(Version, body.GetBuffer().AsSpan(0, (int)body.Length));
    }

    public static UnpackOutcome Unpack(ReadOnlySpan<byte> packed)
    {
        if (SealedBody.Open(packed, Version, out string? fault) is not { } raw)
            return new UnpackOutcome.Damaged(fault!);
        try
        {
            using var reader = new BinaryReader(new MemoryStream(raw), Encoding.UTF8);
            return new UnpackOutcome.Good(Read(reader));
        }
        catch (Exception e) when (BodyFields.IsImpossible(e))
        {
            return new UnpackOutcome.Damaged("The stored weather is damaged: its fields can't be true.");
        }
    }

    private static void Write(Pull pull, BinaryWriter writer)
    {
        writer.WriteInstant(pull.FetchedAt);
        writer.Write(pull.Host);
        writer.Write(pull.Models);
        writer.WriteInstant(pull.Start);
        writer.Write(pull.Hours);
        writer.Write(pull.GridLatitude);
        writer.Write(pull.GridLongitude);
        writer.Write(pull.GridElevationMetres);
        writer.Write(pull.ZoneName ?? "");
        writer.WriteOptionalInstant(pull.ServerDate);
        writer.Write(pull.OutOfRange);
        writer.Write((byte)pull.Columns.Count);
        foreach (var (variable, column) in pull.Columns)
        {
            writer.Write(ServiceVariable.Of(variable).Name);
            writer.Write((byte)column.Decimals);
            writer.WriteSteps(column.Scaled.AsSpan());
        }
    }

    private static Pull Read(BinaryReader reader)
    {
        var fetchedAt = reader.ReadInstant();
        string host = reader.ReadString();
        string models = reader.ReadString();
        var start = reader.ReadInstant();
        int hours = reader.ReadHours();
        double latitude = reader.ReadDouble();
        double longitude = reader.ReadDouble();
        double elevation = reader.ReadDouble();
        string zoneName = reader.ReadString();
        var serverDate = reader.ReadOptionalInstant();
        int outOfRange = reader.ReadInt32();
        int count = reader.ReadByte();
        var columns = ImmutableSortedDictionary.CreateBuilder<WeatherVariable, PulledColumn>();
        for (int i = 0; i < count; i++)
        {
            string name = reader.ReadString();
            int decimals = reader.ReadDecimals();
            var scaled = reader.ReadSteps(hours);
            if (ServiceVariable.Named(name) is { } variable)
                columns.Add(variable.Variable, new(decimals, ImmutableCollectionsMarshal.AsImmutableArray(scaled)));
        }
        return new(
            fetchedAt, host, models, start, hours, columns.ToImmutable(), latitude, longitude, elevation,
            zoneName.Length > 0 ? zoneName : null, serverDate, outOfRange);
    }
}
