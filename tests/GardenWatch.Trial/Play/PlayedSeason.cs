using System.Collections.Immutable;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using GardenWatch.Trial.Observed;
using GardenWatch.Trial.Score;
using NodaTime;

namespace GardenWatch.Trial.Play;

/// <summary>
/// A season played through, a morning and an evening at a time: each look knows only the forecast of its own hour, and
/// what it advises is held against what came.
/// </summary>
/// <param name="Announced">Nights whose frost was announced on the day on which they begin, while one can still cover.</param>
/// <param name="TenderOut">Nights in which something tender stood out.</param>
internal sealed record PlayedSeason(
    ObservedWeather Observed, ImmutableHashSet<LocalDate> Announced, ImmutableHashSet<LocalDate> TenderOut, ImmutableArray<Deed> Deeds)
{
    private static readonly LocalTime Morning = new(6, 0);
    private static readonly LocalTime Evening = new(17, 0);
    private const int DaysAhead = 16;

    /// <param name="look">What is found at an instant with the weather as it was known then.</param>
    /// <param name="daysBack">How much past weather each look is given.</param>
    public static PlayedSeason Play(
        ObservedWeather observed, ForecastFromTruth forecasts, Func<Instant, WeatherSeries, MorningFindings> look,
        LocalDate from, LocalDate to, int daysBack)
    {
        var announced = ImmutableHashSet.CreateBuilder<LocalDate>();
        var tenderOut = ImmutableHashSet.CreateBuilder<LocalDate>();
        var deeds = ImmutableArray.CreateBuilder<Deed>();
        for (var date = from; date <= to; date = date.PlusDays(1))
            foreach (var time in new[] { Morning, Evening })
            {
                var asOf = observed.Calendar.At(date, time);
                var findings = look(asOf, forecasts.IssuedAt(asOf, daysBack, DaysAhead));
                if (findings.FrostNights.Contains(date))
                    announced.Add(date);
                if (findings.TenderOut)
                    tenderOut.Add(date);
                deeds.AddRange(findings.Deeds);
            }
        return new(observed, announced.ToImmutable(), tenderOut.ToImmutable(), deeds.ToImmutable());
    }

    public FrostScore Frosts(double frostAtC) => FrostScore.Of(Announced, Observed.GroundLow, TenderOut, frostAtC);

    public SpreadScore Spreadings(RainWanted wanted) =>
        SpreadScore.Of(Deeds.Where(deed => deed.Kind == DeedKind.Spread).Select(deed => deed.At), Observed.Weather, wanted);

    public ImmutableArray<SoilMet> Soils(Func<Deed, Instant, double> soil, int days) => SoilMet.Of(Deeds, soil, days);
}
