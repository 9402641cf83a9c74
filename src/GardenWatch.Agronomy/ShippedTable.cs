using System.Globalization;
using System.Text;

namespace GardenWatch.Agronomy;

/// <summary>A table of facts inside the assembly: CSV, lines that begin with # left out, the first line names the columns.</summary>
internal static class ShippedTable
{
    /// <exception cref="InvalidDataException">The table is not shipped, or a line of it has too few cells: a fault of the build.</exception>
    public static IEnumerable<ShippedRow> Rows(string name)
    {
        using var stream = typeof(ShippedTable).Assembly.GetManifestResourceStream(name)
            ?? throw new InvalidDataException($"{name} is not shipped with this assembly.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        string[]? columns = null;
        List<ShippedRow> rows = [];
        while (reader.ReadLine() is { } line)
        {
            if (line.Length == 0 || line[0] == '#')
                continue;
            string[] cells = Cells(line);
            if (columns is null)
                columns = cells;
            else if (cells.Length == columns.Length)
                rows.Add(new(name, columns, cells));
            else
                throw new InvalidDataException($"{name}: {cells.Length} cells for {columns.Length} columns in \"{line}\".");
        }
        return rows;
    }

    private static string[] Cells(string line)
    {
        List<string> cells = [];
        var cell = new StringBuilder();
        bool quoted = false;
        foreach (char c in line)
        {
            if (c == '"')
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
}

internal readonly record struct ShippedRow(string Table, string[] Columns, string[] Cells)
{
    public string this[string column] => Array.IndexOf(Columns, column) is >= 0 and var at
        ? Cells[at]
        : throw new InvalidDataException($"{Table} has no column {column}.");

    /// <summary>NaN where the cell is empty.</summary>
    public double Number(string column) =>
        this[column].Length == 0 ? double.NaN : double.Parse(this[column], CultureInfo.InvariantCulture);
}
