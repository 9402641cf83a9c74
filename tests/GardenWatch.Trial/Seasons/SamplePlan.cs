using System.Text.RegularExpressions;
using GardenWatch.Trial.Observed;

namespace GardenWatch.Trial.Seasons;

/// <summary>The plan of config-samples at another place, and as a gardener edits it.</summary>
internal static partial class SamplePlan
{
    private static readonly string Sample = File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Seasons", "garden.yaml"));

    /// <summary>What the sample tells of last year and of this one's months, by the seasons of the southern half.</summary>
    private static readonly (string North, string South)[] Months =
        [("late October last year", "late April this year"), ("bought: mid May", "bought: mid November"), ("set out: early June", "set out: early December"), ("from: 12 July, to: 26 July", "from: 12 January, to: 26 January")];

    public static string At(Station station, string units)
    {
        var place = station.Calendar.Place;
        string text = PlaceLine().Replace(Sample, FormattableString.Invariant(
            $"place: {{ town: Little Fallow, latitude: {place.LatitudeDegrees}, longitude: {place.LongitudeDegrees}, elevation: {place.ElevationMetres} m, zone: {station.Calendar.Zone.Id} }}"));
        text = Changed(text, "units: metric ", $"units: {units} ");
        return place.LatitudeDegrees >= 0 ? text : Months.Aggregate(text, (changed, month) => Changed(changed, month.North, month.South));
    }

    public static string WithoutAbsence(string text) => Changed(text, "away:\n  - { from: 12 July, to: 26 July, sitter: robin@example.org }\n", "");

    public static string WithoutSitter(string text) => Changed(text, ", sitter: robin@example.org }", " }");

    /// <summary>What a gardener changes in June: kale's bed is given to leeks, a batch crop moves, basil is dropped, beans are new.</summary>
    public static string EditedInJune(string text)
    {
        text = Changed(text, "  - { crop: lettuce, bed: long bed, sowings: 4 every 2 weeks }", "  - { crop: lettuce, bed: hollow, sowings: 4 every 2 weeks }");
        text = Changed(text, "  - { crop: basil, bed: step pot, set out: early June, plants: 2 }\n", "");
        return Changed(text, "chores:\n", "  - { crop: snap bean, bed: long bed, sowings: 3 every 2 weeks }\n\nchores:\n");
    }

    /// <summary>An edit that finds nothing to change would play the unchanged plan unseen.</summary>
    private static string Changed(string text, string from, string to) =>
        text.Contains(from, StringComparison.Ordinal) ? text.Replace(from, to, StringComparison.Ordinal) : throw new InvalidDataException($"The sample plan has no `{from.Trim()}`.");

    [GeneratedRegex("^place: .*$", RegexOptions.Multiline)]
    private static partial Regex PlaceLine();
}
