using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;

namespace GardenWatch.Planning.Crops;

internal static partial class CropFile
{
    // Whoever has looked and found nothing need not look again sooner. Common practice.
    private const int UsualLookEveryDays = 10;

    /// <summary>Each threat with the last of the usual looks that names it, of all crops or of this one.</summary>
    private static ImmutableArray<CropThreat> WithWeather(
        ImmutableArray<CropThreat> threats, string crop, List<YamlNode.Map> looks, Func<string, ConditionReading> readCondition, List<FileFault> faults) =>
        [.. threats.Select(threat => looks.LastOrDefault(look => Names(look["for"], threat.Name) && (look["of"] is not { } crops || Names(crops, crop))) is { } look
            ? threat with { Weather = WeatherOf(look, readCondition, faults) }
            : threat)];

    private static bool Names(YamlNode? node, string name) => node switch
    {
        YamlNode.List list => list.Items.OfType<YamlNode.Text>().Any(text => text.Value.Equals(name, StringComparison.OrdinalIgnoreCase)),
        YamlNode.Text text => text.Value.Equals(name, StringComparison.OrdinalIgnoreCase),
        _ => false,
    };

    private static ThreatWeather WeatherOf(YamlNode.Map map, Func<string, ConditionReading> readCondition, List<FileFault> faults)
    {
        var look = new YamlEntries(map, faults);
        _ = look.TakeTexts("for");
        _ = look.TakeTexts("of");
        var conditions = Conditions(look, readCondition);
        var weather = new ThreatWeather(
            conditions, look.TakeWord("from", Stages) ?? Stage.Up, DaysOf(look, "every") ?? UsualLookEveryDays,
            look.TakeString("source", "where the deciding numbers are from") ?? NoSource);
        look.Close();
        return weather;
    }
}
