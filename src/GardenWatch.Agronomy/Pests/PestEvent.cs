using System.Globalization;
using GardenWatch.Agronomy.Warmth;
using NodaTime;

namespace GardenWatch.Agronomy.Pests;

/// <summary>How the source counted its degree-days; a total is only worth as much as its agreement with the method.</summary>
public enum PestMethod
{
    /// <summary>Mean of the day, cut to the limits, over the base.</summary>
    Average,
    /// <summary>Lowest and highest cut to the limits before the mean is taken (86/50).</summary>
    AverageOfClipped,
    /// <summary>A sine; above the ceiling development goes on as at it.</summary>
    SineHorizontal,
    /// <summary>A sine; above the ceiling development slows as it rose.</summary>
    SineIntermediate,
    /// <summary>As <see cref="Average"/>, of soil at <see cref="PestEvent.SoilDepthMetres"/>.</summary>
    Soil,
}

/// <summary>From when a pest's degree-days count.</summary>
/// <param name="Date">Day of the year in the north; null when it must be seen.</param>
/// <param name="Seen">What the gardener, or the event before, must show; empty when it is a date.</param>
/// <param name="Assumed">The source names none; this one is usual.</param>
public readonly record struct Biofix(AnnualDate? Date, string Seen, bool Assumed)
{
    /// <summary>In a year; half a year later in the south. Null when it must be seen.</summary>
    public LocalDate? In(int year, bool southern) =>
        Date is { } date ? date.InYear(year).PlusMonths(southern ? 6 : 0) : null;
}

/// <summary>One thing a pest does, at so many °C days from a biofix.</summary>
/// <param name="Id">Of the row in the table.</param>
/// <param name="Hosts">Crops by their plain names.</param>
/// <param name="LowerC">Nothing develops below, °C.</param>
/// <param name="UpperC">Ceiling of the method; infinite where the source has none.</param>
/// <param name="FromDegreeDays">°C days.</param>
/// <param name="UntilDegreeDays">As <paramref name="FromDegreeDays"/> where the source prints one total.</param>
/// <param name="IsStage">How long a stage lasts, to be added to what began it, not a total of the season.</param>
/// <param name="SoilDepthMetres">For <see cref="PestMethod.Soil"/>; NaN otherwise.</param>
/// <param name="Certain">Read in the source; otherwise recalled, and said with doubt.</param>
/// <remarks>
/// Figures as printed by the extension service or paper named in <paramref name="Source"/>. Sources differ for one insect:
/// onion maggot emerges at 222, flies at 378 and peaks at 389 °C days; each is its own event here. Fitted where the source
/// is, so elsewhere a week is soon wrong: a reason to look, never a finding.
/// </remarks>
public sealed record PestEvent(
    string Id, string Pest, IReadOnlyList<string> Hosts, double LowerC, double UpperC, Biofix Biofix, string Event,
    double FromDegreeDays, double UntilDegreeDays, bool IsStage, PestMethod Method, double SoilDepthMetres, bool Certain, string Source)
{
    /// <summary>To be said with every advice on a pest.</summary>
    public const string Caution =
        "Look before you act. Anything sprayed or spread: follow the product label and local rules, and never spray plants in bloom that bees visit.";

    public static IReadOnlyList<PestEvent> All { get; } = [.. ShippedTable.Rows("pests.csv").Select(Read)];

    /// <summary>Those of a crop, by its plain name.</summary>
    public static IEnumerable<PestEvent> Of(string crop) =>
        All.Where(pest => pest.Hosts.Contains(crop.Trim(), StringComparer.OrdinalIgnoreCase));

    /// <summary>What a day brings, °C days, by the source's method.</summary>
    /// <param name="lowC">Lowest of the day, of air or for <see cref="PestMethod.Soil"/> of soil; NaN gives NaN.</param>
    /// <exception cref="ArgumentException">The lowest is above the highest.</exception>
    public double DegreeDays(double lowC, double highC)
    {
        Plausible.LowestFirst(lowC, highC);
        return Method switch
        {
            PestMethod.Average or PestMethod.Soil => Warmth.DegreeDays.Average(lowC, highC, LowerC, UpperC),
            PestMethod.AverageOfClipped => Warmth.DegreeDays.AverageOfClipped(lowC, highC, LowerC, UpperC),
            PestMethod.SineHorizontal => Warmth.DegreeDays.SingleSine(lowC, highC, LowerC, UpperC),
            _ => Warmth.DegreeDays.SingleSine(lowC, highC, LowerC, UpperC, UpperCutoff.Intermediate),
        };
    }

    private static PestEvent Read(ShippedRow row)
    {
        // Totals and limits are kept in the unit they were printed in, so that no digit is lost.
        bool fahrenheit = row["unit"] == "F";
        double Air(double value) => fahrenheit ? (value - 32) / 1.8 : value;
        double Sum(double value) => fahrenheit ? value / 1.8 : value;
        double upper = Air(row.Number("upper")), from = Sum(row.Number("from")), until = Sum(row.Number("to"));
        string method = row["method"];
        bool soil = method.StartsWith("soil", StringComparison.Ordinal);
        return new(
            row["id"], row["pest"], row["hosts"].Split("; "), Air(row.Number("lower")), double.IsNaN(upper) ? double.PositiveInfinity : upper,
            new(DateOf(row["biofix_date"]), row["biofix_seen"], row["assumed"] == "yes"), row["event"], from, double.IsNaN(until) ? from : until,
            row["kind"] == "stage", MethodOf(row), soil ? double.Parse(method.Split(' ')[2], CultureInfo.InvariantCulture) / 100 : double.NaN,
            row["seen"] == "yes", row["source"]);
    }

    private static PestMethod MethodOf(ShippedRow row) => row["method"] switch
    {
        "average" => PestMethod.Average,
        "average of clipped" => PestMethod.AverageOfClipped,
        "sine, horizontal" => PestMethod.SineHorizontal,
        "sine, intermediate" => PestMethod.SineIntermediate,
        "soil at 5 cm" or "soil at 6 cm" => PestMethod.Soil,
        var other => throw new InvalidDataException($"{row.Table}: {row["id"]} has the unknown method {other}."),
    };

    private static AnnualDate? DateOf(string text) => text.Length == 0
        ? null
        : new AnnualDate(int.Parse(text.AsSpan(0, 2), CultureInfo.InvariantCulture), int.Parse(text.AsSpan(3, 2), CultureInfo.InvariantCulture));
}
