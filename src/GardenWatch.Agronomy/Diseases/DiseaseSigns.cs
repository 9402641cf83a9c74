namespace GardenWatch.Agronomy.Diseases;

/// <summary>What to look for, and where, when weather suited a disease; from the table inside the assembly.</summary>
/// <param name="Hosts">Crops by their plain names.</param>
/// <param name="Weather">The class here that judges its weather.</param>
/// <param name="Caution">To be said with every advice on it.</param>
public sealed record DiseaseSigns(
    string Disease, IReadOnlyList<string> Hosts, string Weather, string LookFor, string Where, string Caution)
{
    public static IReadOnlyList<DiseaseSigns> All { get; } = [.. ShippedTable.Rows("diseases.csv").Select(row => new DiseaseSigns(
        row["disease"], row["hosts"].Split("; "), row["weather"], row["look_for"], row["where"], row["caution"]))];

    /// <summary>Those that a crop can have.</summary>
    public static IEnumerable<DiseaseSigns> Of(string crop) =>
        All.Where(signs => signs.Hosts.Contains(crop.Trim(), StringComparer.OrdinalIgnoreCase));
}
