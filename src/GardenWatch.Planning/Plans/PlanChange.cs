using System.Collections.Immutable;

namespace GardenWatch.Planning.Plans;

/// <summary>How a crop comes into its bed.</summary>
public enum Raising
{
    InPlace,
    /// <summary>Sown in another bed under cover and set out from there.</summary>
    Indoors,
    /// <summary>As young plants.</summary>
    Bought,
}

/// <summary>
/// One thing to change in a plan, as a form asks for it. Texts are as people write them in the file ("mid April", "4 ft x 12 ft");
/// whether they can be read is seen when the changed plan is.
/// </summary>
public abstract record PlanChange
{
    private PlanChange() { }

    /// <param name="Bed">The bed's name.</param>
    /// <param name="When">The date of sowing or buying; null to leave it to the weather.</param>
    /// <param name="StartBed">The bed's name, for <see cref="Raising.Indoors"/>.</param>
    /// <param name="Plants">How many; null when it does not matter.</param>
    public sealed record AddPlanting(
        string Crop, string Bed, Raising How, string? When = null, string? StartBed = null, string? Plants = null, string? Variety = null) : PlanChange;

    /// <param name="When">The new date of its beginning; null to leave that.</param>
    /// <param name="Bed">The name of its new bed; null to leave that.</param>
    public sealed record ChangePlanting(string PlantingId, string? When, string? Bed) : PlanChange;

    /// <param name="Over">What is over it: one of the plan's words; null for open ground.</param>
    public sealed record AddBed(string Name, string? Size = null, string? Over = null) : PlanChange;

    /// <param name="Name">Null to leave it; what names the bed elsewhere follows.</param>
    /// <param name="Size">Null to leave it.</param>
    public sealed record ChangeBed(string BedId, string? Name, string? Size) : PlanChange;

    /// <param name="Bed">The bed's name; null for the whole garden.</param>
    /// <param name="Every">Such as "6 weeks"; null for once.</param>
    /// <param name="When">Condition phrases, which must all hold.</param>
    public sealed record AddChore(string Name, string? Bed, string? Every, string? Minutes, ImmutableArray<string> When) : PlanChange;

    /// <param name="Sitter">A mail address; null for nobody.</param>
    public sealed record AddAbsence(string From, string To, string? Sitter = null) : PlanChange;

    /// <param name="Address">Who gets the digest at that hour; null for all who have no hour of their own.</param>
    public sealed record ChangeHour(string? Address, string At) : PlanChange;
}
