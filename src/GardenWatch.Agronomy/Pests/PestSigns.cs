namespace GardenWatch.Agronomy.Pests;

/// <summary>What to look for, where, and what helps without spraying; from the table inside the assembly.</summary>
/// <param name="Starts">What starts the looking where no degree-days are published; empty otherwise.</param>
public sealed record PestSigns(string Pest, string LookFor, string Where, string Do, string Starts)
{
    public static IReadOnlyList<PestSigns> All { get; } = [.. ShippedTable.Rows("pest-signs.csv").Select(row =>
        new PestSigns(row["pest"], row["look_for"], row["where"], row["do"], row["starts"]))];

    /// <summary>Of a pest of <see cref="PestEvent.All"/> or of the few without published degree-days; null when unknown here.</summary>
    public static PestSigns? Of(string pest) => All.FirstOrDefault(signs => signs.Pest == pest);
}
