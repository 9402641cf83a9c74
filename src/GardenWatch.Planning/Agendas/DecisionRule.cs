using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// From what chance on a job is advised. Asking in vain costs some minutes, a packet or a bag; not asking costs what the
/// job would have saved or brought. The break-even chance is the first over the sum of both (cost and loss of a forecast:
/// Murphy 1977, Monthly Weather Review 105, eq. 3).
/// </summary>
/// <param name="LeastShare">Of the forecast's runs, 0 to 1.</param>
/// <param name="Why">What stands against what, as a clause.</param>
public sealed record DecisionRule(double LeastShare, string Why)
{
    /// <summary>The name by which the share is tuned, like any named number of the job: <c>tune: { cover: { chance: 30 % } }</c>.</summary>
    public const string NumberName = "chance";

    /// <summary>
    /// What was advised stands until the share of runs has fallen this far below the rule; a share of fifty runs is itself
    /// uncertain by 0.07 (binomial, near one half).
    /// </summary>
    public const double ShareFlutter = 0.1;

    /// <summary>The shipped rule of a kind of job. Shares are common practice: no table gives a garden's costs.</summary>
    public static DecisionRule Of(JobKind kind) => kind switch
    {
        JobKind.Tie or JobKind.Protect => new(0.4, "twenty minutes in vain against broken stems and glass"),
        JobKind.Shelter => new(0.3, "ten minutes in vain against shredded leaves"),
        JobKind.Cover or JobKind.Drain => new(0.2, "ten minutes in vain against the plants themselves"),
        JobKind.Water => new(0.2, "cans of water in vain against a check to growth, which costs about four times as much"),
        JobKind.Vent or JobKind.Shade or JobKind.Net => new(0.35, "a walk in vain against a setback to the plants"),
        JobKind.Spread or JobKind.Spray or JobKind.Feed => new(0.65, "what is washed off, or never washed in, against a few days' wait"),
        JobKind.SetOut or JobKind.HardenOff => new(0.6, "plants lost to cold against a few days' wait"),
        _ => new(0.5, "an hour spent too early against a few days' wait"),
    };

    /// <summary>From what chance on a bed of the plan is watered.</summary>
    public static DecisionRule OfWatering(Plan plan) => Of(JobKind.Water).With(JobNumbers.InForce(JobNumbers.OfWatering(plan)));

    /// <summary>The rule with the gardener's own share, where one is set.</summary>
    public DecisionRule With(IReadOnlyDictionary<string, Quantity> numbers) =>
        numbers.TryGetValue(NumberName, out var own) && own.Dimension == Dimension.Share ? this with { LeastShare = own.Value } : this;
}
