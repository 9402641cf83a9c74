using System.Collections.Frozen;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Agendas;

/// <summary>Which crops a gale throws down, and which leaves heat spoils. What a profile does not say is taken from its botanical name.</summary>
internal static class DangerCrops
{
    // Common practice: crops that stand on stakes, poles, sticks or a tall stem of their own.
    private static readonly FrozenSet<string> Tall = FrozenSet.Create(StringComparer.OrdinalIgnoreCase,
        "Solanum lycopersicum", "Solanum melongena", "Zea mays", "Phaseolus coccineus",
        "Pisum sativum", "Vicia faba", "Helianthus annuus", "Helianthus tuberosus", "Abelmoschus esculentus", "Humulus lupulus");

    // Of one botanical name both bush and pole kinds are grown; and of the cabbages only sprouts and tall kales fall.
    private static readonly string[] TallByWord = ["pole", "climbing", "runner", "sprouts", "cordon"];

    // Leaf crops that turn bitter or run to seed in heat: Iowa gardener 2018 for lettuce and spinach; the others common practice.
    private static readonly FrozenSet<string> Leafy = FrozenSet.Create(StringComparer.OrdinalIgnoreCase,
        "Lactuca sativa", "Spinacia oleracea", "Cichorium intybus", "Cichorium endivia", "Eruca vesicaria", "Eruca sativa", "Valerianella locusta",
        "Brassica rapa", "Brassica juncea", "Coriandrum sativum", "Anethum graveolens", "Anthriscus cerefolium", "Apium graveolens");

    // Fruit that scorches or drops its flowers: sunscald of tomato and pepper (UC Master Gardeners), growth stops at 35 °C.
    private static readonly FrozenSet<string> Fruiting = FrozenSet.Create(StringComparer.OrdinalIgnoreCase,
        "Solanum lycopersicum", "Solanum melongena", "Capsicum annuum", "Capsicum chinense");

    public static bool IsTall(CropProfile crop) =>
        Tall.Contains(Species(crop)) || TallByWord.Any(word => crop.Name.Contains(word, StringComparison.OrdinalIgnoreCase));

    public static bool IsLeafy(CropProfile crop) =>
        Leafy.Contains(Species(crop)) && !crop.Name.Contains("turnip", StringComparison.OrdinalIgnoreCase);

    public static bool IsFruiting(CropProfile crop) => Fruiting.Contains(Species(crop));

    /// <summary>Genus and species, without a variety or an author after them.</summary>
    private static string Species(CropProfile crop) =>
        crop.Botanical.Split(' ', StringSplitOptions.RemoveEmptyEntries) is [var genus, var species, ..] ? $"{genus} {species}" : crop.Botanical;
}
