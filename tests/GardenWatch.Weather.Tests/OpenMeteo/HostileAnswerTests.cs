using System.Text;
using CsCheck;
using GardenWatch.Weather.OpenMeteo;

namespace GardenWatch.Weather.Tests.OpenMeteo;

/// <summary>A good answer, changed at random: it may be refused or believed, but nothing breaks or lies.</summary>
public class HostileAnswerTests
{
    private static readonly string[] Pieces =
    [
        "null", "-", "1e999", "-1e999", "1e-300", "\"\"", "\"\\ud800\"", "{", "}", "[", "]", ",", ":", "true", "NaN", "999999999999999999999",
        "\"error\":true,", "\"hourly\":{},", "\"time\":[],", "\"latitude\":1e5,", "\u0000", "é", "\"temperature_2m\":[1],", "°F", "86400", "0.00000000001",
    ];

    private static readonly string[] Values =
        ["null", "1e999", "-95.1", "65", "1e-300", "-0.0", "7", "99999", "12.345678", "-1e308", "2E1", "0.05", "1804204800"];

    [Fact]
    public void Changed_answers_never_crash_and_never_give_numbers_out_of_range()
    {
        byte[] good = Encoding.UTF8.GetBytes(Answer());
        var asked = new Asked(ServiceBench.Garden, ServiceBench.Start, "weather.example.org");
        Assert.NotNull(ForecastAnswer.Read(good, asked, out _));

        int believed = 0;
        int refused = 0;
        var edit = Gen.Select(Gen.Bool, Gen.Int[0, good.Length - 1], Gen.Int[0, 12], Gen.Int[0, Pieces.Length - 1], Gen.Byte);
        edit.Array[1, 3].Sample(edits =>
        {
            byte[] body = good;
            foreach (var (isValue, at, cut, piece, raw) in edits)
                body = isValue ? WithValueChanged(body, at, Values[piece % Values.Length]) : WithBytesChanged(body, at, cut, piece, raw);
            _ = AnswerText.FaultOf(body);
            if (ForecastAnswer.Read(body, asked, out string? fault) is not { } pull)
            {
                Assert.False(string.IsNullOrEmpty(fault));
                Interlocked.Increment(ref refused);
                return;
            }
            Interlocked.Increment(ref believed);
            Assert.True(pull.Start.ToUnixTimeSeconds() % 3600 == 0 && pull.Hours is > 36 and <= Pull.MostHours);
            foreach (var (variable, column) in pull.Columns)
            {
                var bounds = ServiceVariable.Of(variable);
                Assert.Equal(pull.Hours, column.Hours);
                for (int hour = 0; hour < column.Hours; hour++)
                    Assert.True(double.IsNaN(column[hour]) || (column[hour] >= bounds.Low && column[hour] <= bounds.High));
            }
            Assert.IsType<UnpackOutcome.Good>(PullPacking.Unpack(PullPacking.Pack(pull)));
        }, iter: 4000);
        Assert.True(believed > 100 && refused > 100, $"{believed} believed, {refused} refused");
    }

    [Theory]
    [InlineData("-9223372036854775808", "not whole hours")]
    [InlineData("9223372036854774000", "not whole hours")]
    [InlineData("1804204801", "not whole hours")]
    [InlineData("1e20", "can't be read")]
    [InlineData("\"yesterday\"", "can't be read")]
    public void A_first_hour_out_of_this_world_is_refused(string first, string said)
    {
        string answer = Answer().Replace(
            $"\"time\":[{ServiceBench.Start.ToUnixTimeSeconds() / 86400 * 86400},", $"\"time\":[{first},", StringComparison.Ordinal);

        Assert.Null(ForecastAnswer.Read(
            Encoding.UTF8.GetBytes(answer), new(ServiceBench.Garden, ServiceBench.Start, "weather.example.org"), out string? fault));
        Assert.Contains(said, fault, StringComparison.Ordinal);
    }

    [Fact]
    public void Changed_ensemble_answers_never_crash_and_never_give_numbers_out_of_range()
    {
        byte[] good = Encoding.UTF8.GetBytes(Members());
        var asked = new Asked(ServiceBench.Garden, ServiceBench.Start, "weather.example.org");
        Assert.NotNull(EnsembleAnswer.Read(good, asked, "m", null, out _));

        int believed = 0;
        int refused = 0;
        Gen.Select(Gen.Bool, Gen.Int[0, good.Length - 1], Gen.Int[0, 12], Gen.Int[0, Pieces.Length - 1], Gen.Byte).Array[1, 3].Sample(edits =>
        {
            byte[] body = good;
            foreach (var (isValue, at, cut, piece, raw) in edits)
                body = isValue ? WithValueChanged(body, at, Values[piece % Values.Length]) : WithBytesChanged(body, at, cut, piece, raw);
            if (EnsembleAnswer.Read(body, asked, "m", null, out string? fault) is not { } pull)
            {
                Assert.False(string.IsNullOrEmpty(fault));
                Interlocked.Increment(ref refused);
                return;
            }
            Interlocked.Increment(ref believed);
            Assert.InRange(pull.Members.Length, EnsembleAnswer.LeastMembers, 7);
            foreach (var (variable, column) in pull.Members.SelectMany(member => member))
            {
                var bounds = ServiceVariable.Of(variable);
                Assert.Equal(pull.Hours, column.Hours);
                for (int hour = 0; hour < column.Hours; hour++)
                    Assert.True(double.IsNaN(column[hour]) || (column[hour] >= bounds.Low && column[hour] <= bounds.High));
            }
            Assert.NotNull(MemberPacking.Unpack(MemberPacking.Pack(pull), out _));
        }, iter: 2000);
        Assert.True(believed > 100 && refused > 100, $"{believed} believed, {refused} refused");
    }

    /// <summary>Three days of two variables and seven members.</summary>
    private static string Members()
    {
        string plain = Answer();
        string Repeated(string line, int member) =>
            line.Replace("temperature_2m", $"temperature_2m_member{member:00}", StringComparison.Ordinal)
                .Replace("precipitation", $"precipitation_member{member:00}", StringComparison.Ordinal);
        string units = "\"temperature_2m\":\"°C\",\"precipitation\":\"mm\"";
        string columns = plain[plain.IndexOf("\"temperature_2m\":[", StringComparison.Ordinal)..plain.LastIndexOf(']')] + "]";
        return plain
            .Replace(columns, string.Join(',', Enumerable.Range(0, 7).Select(member => member == 0 ? columns : Repeated(columns, member))), StringComparison.Ordinal)
            .Replace(units, string.Join(',', Enumerable.Range(0, 7).Select(member => member == 0 ? units : Repeated(units, member))), StringComparison.Ordinal);
    }

    /// <summary>The JSON stays whole: one element of a list becomes another.</summary>
    private static byte[] WithValueChanged(byte[] body, int at, string value)
    {
        at = Math.Min(at, body.Length);
        int from = at + body.AsSpan(at).IndexOf((byte)',') + 1;
        int length = body.AsSpan(from).IndexOfAny((byte)',', (byte)']');
        return length < 0 ? body : [.. body.AsSpan(0, from), .. Encoding.UTF8.GetBytes(value), .. body.AsSpan(from + length)];
    }

    private static byte[] WithBytesChanged(byte[] body, int at, int cut, int piece, byte raw)
    {
        int from = Math.Min(at, body.Length);
        int to = Math.Min(from + cut, body.Length);
        byte[] put = raw < 40 ? [raw] : Encoding.UTF8.GetBytes(Pieces[piece]);
        return [.. body.AsSpan(0, from), .. put, .. body.AsSpan(to)];
    }

    /// <summary>Three days of two variables: short, so that many edits hit something that matters.</summary>
    private static string Answer()
    {
        long first = ServiceBench.Start.ToUnixTimeSeconds() / 86400 * 86400;
        var hours = Enumerable.Range(0, 72).ToArray();
        return $$"""
            {"latitude":52.125,"longitude":5.1875,"generationtime_ms":0.3,"utc_offset_seconds":0,"timezone":"GMT","timezone_abbreviation":"GMT","elevation":2.0,
            "hourly_units":{"time":"unixtime","temperature_2m":"°C","precipitation":"mm"},
            "hourly":{"time":[{{string.Join(',', hours.Select(h => first + 3600 * h))}}],
            "temperature_2m":[{{string.Join(',', hours.Select(h => $"{h % 20 - 3}.{h % 10}"))}}],
            "precipitation":[{{string.Join(',', hours.Select(h => $"0.{h}"))}}] } }
            """;
    }
}
