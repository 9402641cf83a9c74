using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Plans;

/// <summary>Where the named numbers of phrases stand in their file.</summary>
internal static class NumberSpots
{
    /// <summary>The beginning of the first phrase that has <c>{name</c>; null when none has.</summary>
    public static Spot? Of(YamlNode? phrases, string name) => phrases switch
    {
        YamlNode.Text text => Has(text.Value, name) ? text.Spot : null,
        YamlNode.List list => list.Items.Select(item => Of(item, name)).FirstOrDefault(spot => spot is not null),
        YamlNode.Map map => map.Entries.Select(entry => Of(entry.Value, name)).FirstOrDefault(spot => spot is not null),
        _ => null,
    };

    /// <summary>A file that comes with the program, else one of the gardener's.</summary>
    public static NumberSource SourceOf(Spot spot, string? published) =>
        new(CropShelf.IsShipped(spot.File) ? NumberOrigin.Shipped : NumberOrigin.CropFile, spot.File, spot.Line, published);

    private static bool Has(string phrase, string name)
    {
        for (int at = phrase.IndexOf('{', StringComparison.Ordinal); at >= 0; at = phrase.IndexOf('{', at + 1))
        {
            int end = phrase.AsSpan(at + 1).IndexOfAny(':', '}');
            if (end >= 0 && phrase.AsSpan(at + 1, end).Trim().Equals(name, StringComparison.OrdinalIgnoreCase))
                return true;
        }
        return false;
    }
}
