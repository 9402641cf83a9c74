using System.Collections.Immutable;

namespace GardenWatch.Agronomy.Seeds;

/// <summary>For how many years bought seed is worth sowing, kept cool and dry.</summary>
/// <param name="Crop">In lower case, as the sources name it.</param>
/// <param name="Years">The figure of the source that is named.</param>
/// <param name="FewestYears">The least of all tables compared.</param>
/// <param name="MostYears">The most of all tables compared.</param>
public sealed record SeedLife(string Crop, int Years, int FewestYears, int MostYears, string Source)
{
    private const string Knott =
        "Iowa State Univ. Extension 1999, modified from Maynard and Hochmuth, Knott's Handbook for Vegetable Growers, 4th ed. 1997";
    private const string Garden = "a seed storage list for Australian gardens";
    private const string Column = "a gardener's column after an extension table";

    /// <summary>Forty-six crops. The tables compared differ by up to threefold: test old seed before relying on it.</summary>
    public static ImmutableArray<SeedLife> Table { get; } =
    [
        new("asparagus", 3, 2, 3, Knott),
        new("bean", 3, 3, 4, Knott),
        new("beet", 4, 4, 4, Knott),
        new("broccoli", 3, 3, 5, Knott),
        new("brussels sprouts", 4, 4, 4, Knott),
        new("cabbage", 4, 3, 5, Knott),
        new("carrot", 3, 1, 4, Knott),
        new("celeriac", 3, 3, 3, Knott),
        new("cauliflower", 4, 3, 4, Knott),
        new("celery", 3, 2, 5, Knott),
        new("chard (swiss)", 4, 4, 10, Knott),
        new("chicory", 4, 4, 4, Knott),
        new("chinese cabbage", 3, 3, 5, Knott),
        new("collards", 5, 5, 5, Knott),
        new("corn (sweet)", 2, 1, 3, Knott),
        new("cucumber", 5, 4, 5, Knott),
        new("eggplant", 4, 4, 5, Knott),
        new("endive", 5, 2, 5, Knott),
        new("fennel", 4, 4, 4, Knott),
        new("kale", 4, 2, 4, Knott),
        new("kohlrabi", 3, 3, 3, Knott),
        new("leek", 2, 2, 3, Knott),
        new("lettuce", 6, 4, 6, Knott),
        new("muskmelon", 5, 5, 5, Knott),
        new("mustard", 4, 4, 4, Knott),
        new("new zealand spinach", 3, 3, 6, Knott),
        new("okra", 2, 2, 4, Knott),
        new("onion", 1, 1, 2, Knott),
        new("parsley", 1, 1, 1, Knott),
        new("parsnip", 1, 1, 1, Knott),
        new("pea", 3, 3, 4, Knott),
        new("pepper", 2, 2, 4, Knott),
        new("pumpkin", 4, 3, 4, Knott),
        new("radish", 5, 2, 5, Knott),
        new("rutabaga", 4, 4, 4, Knott),
        new("salsify", 1, 1, 2, Knott),
        new("spinach", 3, 3, 5, Knott),
        new("squash", 4, 3, 5, Knott),
        new("tomato", 4, 3, 5, Knott),
        new("turnip", 4, 4, 5, Knott),
        new("watermelon", 4, 4, 5, Knott),
        new("basil", 5, 5, 5, Garden),
        new("broad bean", 4, 4, 4, Garden),
        new("rocket (arugula)", 2, 2, 2, Garden),
        new("sunflower", 5, 5, 5, Garden),
        new("corn salad (mache)", 5, 5, 5, Column),
    ];

    /// <summary>Null where no table names the crop.</summary>
    public static SeedLife? Of(string crop)
    {
        foreach (var life in Table)
        {
            if (string.Equals(life.Crop, crop, StringComparison.OrdinalIgnoreCase))
                return life;
        }
        return null;
    }

    /// <summary>
    /// What share of an old lot is expected to germinate: if it lived as the shortest, the named and the longest table says.
    /// </summary>
    /// <param name="freshShare">As the packet says, or as tested when new; 0 to 1.</param>
    /// <param name="ageYears">Since then, from 0.</param>
    public (double Cautious, double Expected, double Hopeful) Germination(double freshShare, double ageYears) =>
        (SeedViability.After(freshShare, ageYears, FewestYears),
            SeedViability.After(freshShare, ageYears, Years),
            SeedViability.After(freshShare, ageYears, MostYears));
}
