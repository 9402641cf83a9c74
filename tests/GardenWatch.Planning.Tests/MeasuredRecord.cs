using System.Globalization;

namespace GardenWatch.Planning.Tests;

/// <summary>Weather as stations measured it, which is not kept with the project; a test skips itself where it is not at hand.</summary>
internal static class MeasuredRecord
{
    /// <summary>The path of a station's record.</summary>
    public static string PathOf(string file)
    {
        string? folder = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        Assert.SkipWhen(folder is null, "GARDENWATCH_TEST_DATA is not set");
        string path = Path.Combine(folder!, "weather-data", file);
        Assert.SkipUnless(File.Exists(path), $"{path} is not there");
        return path;
    }

    /// <summary>The cells of its rows, without the head.</summary>
    public static string[][] RowsOf(string file) => [.. File.ReadLines(PathOf(file)).Skip(1).Select(line => line.Split(','))];

    /// <summary>A column's numbers; what was not measured is NaN.</summary>
    public static double[] Column(string[][] rows, int column) =>
        [.. rows.Select(cells => cells[column].Length == 0 ? double.NaN : double.Parse(cells[column], CultureInfo.InvariantCulture))];
}
