using System.Text.RegularExpressions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary><c>sowings:</c> in words: <c>every 10 days until too warm</c>, <c>3 times</c>, <c>5 every 2 weeks for even harvests</c>.</summary>
public sealed partial class PlanFile
{
    // For a crop whose profile does not say. Common practice.
    private const int UsualSowingDays = 14;
    private const int MostSowings = Succession.MostBatches;

    private static Succession? SowingsOf(YamlEntries entry, CropProfile? crop)
    {
        if (entry.TakeText("sowings", "such as `every 10 days until too warm`") is not { } text)
            return null;
        string plain = WrittenNumber.Plain(text.Value);
        bool untilWarm = false, evenly = false;
        while (SowingsTail().Match(plain) is { Success: true } tail)
        {
            untilWarm |= tail.Groups["warm"].Success;
            evenly |= tail.Groups["even"].Success;
            plain = plain[..tail.Index];
        }
        var match = SowingsText().Match(plain);
        bool saysOften = match.Groups["span"].Success || match.Groups["count"].Success && WrittenNumber.Read(match.Groups["count"].Value + " ") is WrittenNumber.Ok
            || plain.Length == 0 && (untilWarm || evenly);
        if (!saysOften)
        {
            entry.Fault(text.Spot, $"`{Cut(text.Value)}` does not say how often", "such as `every 10 days until too warm`, `3 times` or `4 every 2 weeks for even harvests`");
            return null;
        }
        int? batches = null;
        string count = match.Groups["count"].Success ? match.Groups["count"].Value : match.Groups["times"].Value;
        if (count.Length > 0)
        {
            if (WrittenNumber.Read(count + " ") is WrittenNumber.Ok number && number.Value % 1 == 0 && number.Value is >= 1 and <= MostSowings)
                batches = (int)number.Value;
            else
            {
                entry.Fault(text.Spot, $"`{count}` is no number of sowings", $"from 1 to {MostSowings}");
                return null;
            }
        }
        if (!match.Groups["span"].Success)
            return new(crop?.Successions?.EveryDays ?? UsualSowingDays, batches, untilWarm) { ForEvenHarvests = evenly };
        switch (IntervalText.Read("every " + match.Groups["span"].Value))
        {
            case IntervalReading.Ok(var days):
                return new(days, batches, untilWarm) { ForEvenHarvests = evenly };
            case IntervalReading.Fault(var problem, var instead):
                entry.Fault(text.Spot, problem, instead);
                break;
        }
        return null;
    }

    [GeneratedRegex(@"(?:^|,? )(?:(?<warm>until (?:it is |it's |it gets )?too (?:warm|hot))|(?<even>for (?:an )?even (?:harvests?|picking|supply)|evenly|by warmth))$", RegexOptions.CultureInvariant)]
    private static partial Regex SowingsTail();

    [GeneratedRegex(@"^(?:(?<count>[0-9]{1,3}|[a-z]+)(?: (?:times|sowings|batches))?(?:,? |$))?(?:every (?<span>.+?)(?:,? (?<times>[0-9]{1,3}|[a-z]+) times)?)?$", RegexOptions.CultureInvariant)]
    private static partial Regex SowingsText();
}
