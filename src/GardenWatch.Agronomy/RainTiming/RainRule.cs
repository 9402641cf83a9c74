namespace GardenWatch.Agronomy.RainTiming;

/// <summary>One published limit on rain, wind, warmth or time, and how far to trust it.</summary>
/// <param name="Min">Least value of the range; NaN where none is printed.</param>
/// <param name="Max">Greatest; NaN where none is printed.</param>
/// <param name="Strength">handbook, regulation, extension, literature, derived, common practice, web page, seller.</param>
/// <param name="UsedBy">The class that follows it, here or in the room above; empty when none does, and <paramref name="NotUsed"/> says why.</param>
/// <remarks>From the table inside the assembly, so that each number here has one place and one source.</remarks>
public sealed record RainRule(
    string Id, string Topic, string Situation, string Metric, double Min, double Max, string Unit, string Strength,
    string UsedBy, string NotUsed, string Source)
{
    /// <summary>To be said with everything that is spread or sprayed.</summary>
    public const string LabelFirst = "The product label and local rules come first; where they differ from this, follow them.";

    public static IReadOnlyList<RainRule> All { get; } = [.. ShippedTable.Rows("rain-rules.csv").Select(row => new RainRule(
        row["id"], row["topic"], row["situation"], row["metric"], row.Number("min"), row.Number("max"), row["unit"], row["strength"],
        row["used_by"], row["not_used"], row["source"]))];

    /// <exception cref="KeyNotFoundException">There is no rule of that id.</exception>
    public static RainRule Of(string id) =>
        All.FirstOrDefault(rule => rule.Id == id) ?? throw new KeyNotFoundException($"There is no rain rule {id}; they run from {All[0].Id} to {All[^1].Id}.");
}
