using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Series;
using NodaTime;

namespace GardenWatch.Agronomy.Frost;

/// <summary>A coming night at one bed by a single forecast: its coldest leaf, and the chance that a limit is reached.</summary>
/// <remarks>
/// Two answers, of equal weight: the heat balance of the leaf over the night's own hours (<see cref="LeafNight"/>), and the
/// rule of the place (<see cref="GroundFrost"/>), which knows the day before. Pooled so they serve hours that were measured
/// or forecast as such, where the balance is the better, and hours made of daily means, where the rule is
/// (GroundFrostAtDeBiltTests). Where an ensemble is at hand, ask its runs for the chance.
/// </remarks>
/// <param name="Rule">Null under glass, where no leaf faces the sky.</param>
public sealed record FrostOutlook(LeafNight Leaf, NightAhead Ahead, ForecastError Error, GroundRule? Rule)
{
    /// <summary>The night that begins on a date; null when no air is known in it.</summary>
    /// <param name="rule">Of the place; <see cref="GroundRule.Lowland"/> where it has none of its own.</param>
    public static FrostOutlook? Of(
        WeatherSeries weather, LocalCalendar calendar, LocalDate evening, TemperatureDifference frostPocket, ForecastError error,
        bool underGlass = false, GroundRule? rule = null)
    {
        var leaf = LeafNight.Coldest(weather, calendar.Place, frostPocket, calendar.NightOf(evening), underGlass);
        return leaf is null
            ? null
            : new(leaf, NightAhead.Of(weather, calendar, evening), error, underGlass ? null : rule ?? GroundRule.Lowland);
    }

    /// <summary>Chance, 0 to 1, that the leaf is at or below a limit in some hour of the night.</summary>
    public double Chance(double limitC)
    {
        double byLeaf = Leaf.ChanceAtOrBelow(limitC, Error);
        // The rule is of level ground: in a pocket the same low is reached at a higher reading there.
        double byRule = Rule is null ? double.NaN : GroundFrost.Chance(Ahead, Error, limitC + Leaf.PocketKelvins, Rule);
        return double.IsNaN(byRule) ? byLeaf : (byLeaf + byRule) / 2;
    }

    /// <summary>Whether the chance is worth a warning (<see cref="GroundFrost.WarningPaysFrom"/>).</summary>
    public bool WarningPays(double limitC) => Chance(limitC) >= GroundFrost.WarningPaysFrom;
}
