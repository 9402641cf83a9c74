using GardenWatch.Agronomy.Frost;
using NodaTime;

namespace GardenWatch.Agronomy.Climate;

/// <summary>A date that comes once a season, as it fell in past years; years in which it did not come are counted in.</summary>
/// <param name="From">On which the season begins, or the search began; day 1.</param>
/// <param name="EarlyDay">In one year in ten it came before this day.</param>
/// <param name="MiddleDay">In half of the years it came before, in half after (or, of a first date, never).</param>
/// <param name="LateDay">In one year in ten it came after this day.</param>
/// <param name="YearsWith">Years in which it came.</param>
/// <param name="Years">Years of which enough is known.</param>
/// <remarks>
/// Days are null where so many years are without. Of a first date (first autumn frost, soil warm enough) a year without
/// counts as later than any day; of a last date (last spring frost) as earlier. Tables name such days by opposite
/// percentages, so say them as chances: "one year in ten later than". Quantiles of type 7; with thirty years the early
/// and the late day are uncertain by about five days.
/// </remarks>
public sealed record UsualDate(AnnualDate From, int? EarlyDay, int? MiddleDay, int? LateDay, int YearsWith, int Years)
{
    private const double OneInTen = 0.1;

    public int YearsWithout => Years - YearsWith;

    /// <param name="days">The day of each year, from <paramref name="from"/> as day 1; null in a year without.</param>
    public static UsualDate OfFirst(AnnualDate from, IReadOnlyList<int?> days) => Of(from, days, double.PositiveInfinity);

    /// <inheritdoc cref="OfFirst"/>
    public static UsualDate OfLast(AnnualDate from, IReadOnlyList<int?> days) => Of(from, days, double.NegativeInfinity);

    /// <summary>The date of a day in the season that begins in a year.</summary>
    public LocalDate? DateIn(int year, int? day) => day is { } number ? From.InYear(year).PlusDays(number - 1) : null;

    /// <summary>The year in which the season of a date began.</summary>
    public int SeasonOf(LocalDate date) => date >= From.InYear(date.Year) ? date.Year : date.Year - 1;

    private static UsualDate Of(AnnualDate from, IReadOnlyList<int?> days, double without)
    {
        double[] falls = [.. days.Select(day => day ?? without)];
        return new(
            from, Day(FrostDates.Quantile(falls, OneInTen)), Day(FrostDates.Quantile(falls, 0.5)), Day(FrostDates.Quantile(falls, 1 - OneInTen)),
            days.Count(day => day is not null), days.Count);
    }

    private static int? Day(double quantile) =>
        double.IsFinite(quantile) ? (int)Math.Round(quantile, MidpointRounding.AwayFromZero) : null;
}
