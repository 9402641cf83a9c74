using System.Collections.Immutable;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Crops;

/// <summary>What a crop is called, which is known before the rest of its file is read.</summary>
internal sealed record CropNames(string Name, string Plants, ImmutableArray<string> AlsoCalled)
{
    public IEnumerable<string> All() => [Name, Plants, .. AlsoCalled];

    /// <summary>The names at the head of a shipped file, each on a line of its own; null when it is no crop's.</summary>
    public static CropNames? Peek(string text)
    {
        string? name = null, plants = null;
        ImmutableArray<string> also = [];
        foreach (var line in text.AsSpan().EnumerateLines())
        {
            if (line.StartsWith("crop: "))
                name = line["crop: ".Length..].Trim().ToString();
            else if (line.StartsWith("plants: "))
                plants = line["plants: ".Length..].Trim().ToString();
            else if (line.StartsWith("also called: ["))
                also = [.. line["also called: ".Length..].Trim().Trim("[]").ToString().Split(',', StringSplitOptions.TrimEntries)];
            else
                break;
        }
        return name is null ? null : new(name, plants ?? name, also);
    }

    /// <summary>The names in a file, the crop's own first.</summary>
    public static IEnumerable<string> Of(YamlNode.Map crop)
    {
        foreach (string key in (string[])["crop", "plants"])
        {
            if (crop[key] is YamlNode.Text { IsEmpty: false } text)
                yield return text.Value;
        }
        if (crop["also called"] is YamlNode.List also)
        {
            foreach (var text in also.Items.OfType<YamlNode.Text>())
                yield return text.Value;
        }
    }
}
