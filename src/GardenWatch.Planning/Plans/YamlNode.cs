using System.Collections.Immutable;

namespace GardenWatch.Planning.Plans;

/// <summary>Where a node of a file begins.</summary>
internal readonly record struct Spot(string File, int Line, int Column);

/// <summary>A file's YAML as it stands: texts, lists and maps, each with its place.</summary>
internal abstract record YamlNode(Spot Spot)
{
    /// <param name="LettersBefore">1 when the text is quoted, so that a column in it can be told.</param>
    /// <param name="OneLine">Whether columns of the text are columns of the file.</param>
    public sealed record Text(Spot Spot, string Value, int LettersBefore = 0, bool OneLine = true) : YamlNode(Spot)
    {
        public bool IsEmpty => LettersBefore == 0 && Value is "" or "~" or "null";

        /// <summary>The file's place of a column of the text, counted from 1.</summary>
        public Spot At(int column) => OneLine ? Spot with { Column = Spot.Column + LettersBefore + Math.Clamp(column, 1, Value.Length + 1) - 1 } : Spot;
    }

    public sealed record List(Spot Spot, ImmutableArray<YamlNode> Items) : YamlNode(Spot);

    public sealed record Map(Spot Spot, ImmutableArray<(Text Key, YamlNode Value)> Entries) : YamlNode(Spot)
    {
        public YamlNode? this[string key] =>
            Entries.FirstOrDefault(entry => entry.Key.Value.Equals(key, StringComparison.OrdinalIgnoreCase)).Value;
    }
}
