using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>How long leaves must stay wet for a fungus to get in, from its three temperatures.</summary>
/// <param name="LeastC">Nothing grows at and below, °C.</param>
/// <param name="BestC">Fastest.</param>
/// <param name="MostC">Nothing grows at and above.</param>
/// <param name="BestHours">Wet hours that suffice at the best temperature (for a fifth of plants, or 5 % of leaf).</param>
/// <param name="MostHours">The most that is ever asked.</param>
/// <remarks>Magarey, Sutton and Thayer 2005, Phytopathology 95:92-100, a simple generic infection model.</remarks>
public readonly record struct WetnessNeeded(double LeastC, double BestC, double MostC, double BestHours, double MostHours)
{
    /// <summary>Speed at a temperature, 0 to 1: 1 at the best.</summary>
    /// <exception cref="ArgumentException">The three temperatures are not in order, or air that can't be.</exception>
    public double Response(double airC)
    {
        if (!(LeastC < BestC && BestC < MostC))
            throw new ArgumentException(FormattableString.Invariant(
                $"Least, best and most, {LeastC}, {BestC} and {MostC} °C, must rise in this order."), nameof(airC));
        if (double.IsNaN(Within.Air(airC)))
            return double.NaN;
        return airC <= LeastC || airC >= MostC ? 0
            : (MostC - airC) / (MostC - BestC)
                * Math.Pow((airC - LeastC) / (BestC - LeastC), (BestC - LeastC) / (MostC - BestC));
    }

    /// <summary>Wet hours needed at a mean temperature; never more than <see cref="MostHours"/>, infinite where nothing grows.</summary>
    public double HoursAt(double airC)
    {
        double response = Response(airC);
        return response == 0 ? double.PositiveInfinity : Math.Min(MostHours, BestHours / response);
    }
}
