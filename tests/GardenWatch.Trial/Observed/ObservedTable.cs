using System.Globalization;

namespace GardenWatch.Trial.Observed;

/// <summary>A comma-separated file with one line of names. An empty field is unknown.</summary>
internal sealed class ObservedTable
{
    private readonly Dictionary<string, int> _columns;
    private readonly string[][] _rows;

    private ObservedTable(Dictionary<string, int> columns, string[][] rows)
    {
        _columns = columns;
        _rows = rows;
    }

    public int Rows => _rows.Length;

    public static ObservedTable Read(string path)
    {
        string[] lines = File.ReadAllLines(path);
        var columns = lines[0].Split(',').Select((name, index) => (name, index)).ToDictionary(pair => pair.name, pair => pair.index);
        return new(columns, [.. lines.Skip(1).Where(line => line.Length > 0).Select(line => line.Split(','))]);
    }

    public string Text(int row, string column) => _rows[row][_columns[column]];

    public double Number(int row, string column)
    {
        string text = Text(row, column);
        return text.Length == 0 ? double.NaN : double.Parse(text, CultureInfo.InvariantCulture);
    }
}
