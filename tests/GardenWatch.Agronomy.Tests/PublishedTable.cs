using System.Globalization;
using System.Text;
using System.Text.Json;

namespace GardenWatch.Agronomy.Tests;

/// <summary>Rows of a CSV file: published cases beside the tests, or station data that some machines have.</summary>
public static class PublishedTable
{
    private const string TestData = "GARDENWATCH_TEST_DATA";

    public static IReadOnlyList<Row> Rows(string file) =>
        Read(Path.Combine(AppContext.BaseDirectory, "Published", file));

    /// <summary>Station data that is not part of the project; the test skips itself where it is absent.</summary>
    public static IReadOnlyList<Row> StationRows(string file)
    {
        string? folder = Environment.GetEnvironmentVariable(TestData);
        Assert.SkipUnless(folder is not null, $"{TestData} does not name the folder with weather-data/.");
        string path = Path.Combine(folder!, "weather-data", file);
        Assert.SkipUnless(File.Exists(path), $"{file} is not in weather-data/ here.");
        return Read(path);
    }

    /// <summary>Ids of the rows of a published table that a theory runs over.</summary>
    public static TheoryData<string> Ids(string file, string idColumn, Func<Row, bool> which) =>
        [.. Rows(file).Where(which).Select(row => row[idColumn])];

    public static Row Case(string file, string idColumn, string id) =>
        Rows(file).Single(row => row[idColumn] == id);

    private static List<Row> Read(string path)
    {
        var lines = File.ReadLines(path).Where(line => line.Length > 0 && line[0] != '#');
        List<Row> rows = [];
        Dictionary<string, int>? header = null;
        foreach (string line in lines)
        {
            var cells = Cells(line);
            if (header is null)
                header = cells.Select((name, at) => (name, at)).ToDictionary(c => c.name, c => c.at);
            else
                rows.Add(new(header, cells));
        }
        return rows;
    }

    private static string[] Cells(string line)
    {
        if (!line.Contains('"', StringComparison.Ordinal))
            return line.Split(',');
        List<string> cells = [];
        var cell = new StringBuilder();
        bool quoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (c == '"' && quoted && i + 1 < line.Length && line[i + 1] == '"')
                cell.Append(line[++i]); // a doubled quote inside a quoted cell is one
            else if (c == '"')
                quoted = !quoted;
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
                cell.Append(c);
        }
        cells.Add(cell.ToString());
        return [.. cells];
    }

    public sealed class Row(IReadOnlyDictionary<string, int> header, string[] cells)
    {
        public string this[string column] => cells[header[column]];

        /// <summary>NaN where the cell is empty.</summary>
        public double Number(string column) =>
            this[column].Length == 0 ? double.NaN : double.Parse(this[column], CultureInfo.InvariantCulture);

        /// <summary>The named value in a cell that reads <c>name=value;name=value</c>.</summary>
        public double Input(string column, string name) => double.Parse(InputText(column, name), CultureInfo.InvariantCulture);

        /// <summary>The named number in a cell that holds a JSON object.</summary>
        public double Json(string column, string name)
        {
            using var json = JsonDocument.Parse(this[column]);
            return json.RootElement.GetProperty(name).GetDouble();
        }

        public bool JsonHas(string column, string name)
        {
            using var json = JsonDocument.Parse(this[column]);
            return json.RootElement.TryGetProperty(name, out _);
        }

        public string InputText(string column, string name) =>
            this[column].Split(';').Select(part => part.Split('=')).Single(pair => pair[0] == name)[1];
    }
}
