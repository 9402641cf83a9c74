using System.Text;

namespace GardenWatch.Planning.Journals;

/// <summary>One record of a CSV file.</summary>
/// <param name="Line">On which it begins, counted from one.</param>
/// <param name="Fields">Null when the record is damaged.</param>
/// <param name="Fault">What is wrong with it; null when it is sound.</param>
public sealed record CsvRecord(int Line, string[]? Fields, string? Fault);

/// <summary>
/// CSV as RFC 4180 has it, written with CRLF and read with either line end. A damaged record costs itself alone: reading
/// goes on at the next line.
/// </summary>
public static class CsvRecords
{
    public static string Write(IEnumerable<string?> fields) => string.Join(',', fields.Select(Quoted)) + "\r\n";

    /// <param name="fields">How many each record has.</param>
    public static IEnumerable<CsvRecord> Read(string text, int fields)
    {
        var starts = new List<int> { 0 };
        for (int at = text.IndexOf('\n', StringComparison.Ordinal); at >= 0 && at + 1 < text.Length; at = text.IndexOf('\n', at + 1))
            starts.Add(at + 1);
        for (int line = 0; line < starts.Count;)
        {
            int end = starts[line];
            var (found, fault) = Record(text, ref end);
            if (fault is null && found.Length != fields)
                fault = $"has {found.Length} fields of {fields}";
            bool empty = found is [""];
            if (fault is null || !empty)
                yield return new(line + 1, fault is null ? found : null, fault);
            int next = fault is null ? starts.BinarySearch(line, starts.Count - line, end, null) : line + 1;
            line = next >= 0 ? next : ~next;
        }
    }

    /// <summary>The fields from a place on; that place is then where the next record begins.</summary>
    private static (string[] Fields, string? Fault) Record(string text, ref int at)
    {
        var fields = new List<string>();
        while (true)
        {
            var field = new StringBuilder();
            if (at < text.Length && text[at] == '"')
            {
                at++;
                while (true)
                {
                    int quote = text.IndexOf('"', at);
                    if (quote < 0)
                        return ([.. fields], "has a quotation mark that is never closed");
                    field.Append(text, at, quote - at);
                    at = quote + 1;
                    if (at >= text.Length || text[at] != '"')
                        break;
                    field.Append('"');
                    at++;
                }
            }
            else
            {
                int end = text.AsSpan(at).IndexOfAny(",\r\n");
                end = end < 0 ? text.Length : at + end;
                if (text.AsSpan(at, end - at).Contains('"'))
                    return ([.. fields], "has a quotation mark within a field that is not quoted");
                field.Append(text, at, end - at);
                at = end;
            }
            fields.Add(field.ToString());
            if (at >= text.Length)
                return ([.. fields], null);
            switch (text[at])
            {
                case ',':
                    at++;
                    continue;
                case '\n':
                    at++;
                    return ([.. fields], null);
                case '\r' when at + 1 >= text.Length || text[at + 1] == '\n':
                    at = Math.Min(text.Length, at + 2);
                    return ([.. fields], null);
                default:
                    return ([.. fields], "goes on after a closing quotation mark");
            }
        }
    }

    private static string Quoted(string? field) => field is null ? ""
        : field.AsSpan().IndexOfAny(",\"\r\n") < 0 ? field
        : $"\"{field.Replace("\"", "\"\"", StringComparison.Ordinal)}\"";
}
