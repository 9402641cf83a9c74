using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Readings;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>The warmth that a sowing has gathered by the end of each day, as the digest counts it.</summary>
/// <param name="Since">The day on which it began to count.</param>
/// <param name="Days">Degree-days (°C) by the end of each day from then on, the forecast's days behind those that were; ends where the weather is not known.</param>
/// <param name="Today">Days before it have been; it and those after are forecast.</param>
/// <param name="BaseC">Warmth below it counts nothing, °C.</param>
/// <param name="NeededCd">To the first picking, °C days; null where the crop's profile does not say.</param>
public sealed record WarmthGathered(
    LocalDate Since, ImmutableArray<(LocalDate Date, double GatheredCd)> Days, LocalDate Today, double BaseC, (double From, double To)? NeededCd)
{
    /// <summary>Null when the crop's warmth, or its beginning, is not known.</summary>
    /// <param name="sowingId"><see cref="SowingOutlook.Id"/>.</param>
    public static WarmthGathered? Of(
        Plan plan, string sowingId, LocalCalendar calendar, Journal journal, KnownWeather known, Instant asOf)
    {
        var today = calendar.DateOf(asOf);
        var corrections = Corrections.Of(journal, asOf);
        (plan, known) = (corrections.Applied(plan), corrections.Applied(known, calendar));
        var garden = new GardenWeather(plan, calendar, known, asOf, corrections);
        var sowing = Planning.Sowings.Season.Of(plan, journal, garden, LastSaid.Nothing, asOf).Sowings.FirstOrDefault(batch => batch.Id == sowingId);
        if (sowing is not { CountedSince: { } since, Planting.Crop.Warmth: { } need } || since > today)
            return null;
        var hours = garden.BedOf(plan.BedOf(sowing.Planting.BedId)).Weather;
        var warmth = hours.Column(new(Measure.Warmth, BaseCelsius: need.Base.Celsius, CeilingCelsius: need.Ceiling?.Celsius));
        int first = hours.Series.FirstAtOrAfter(calendar.DayOf(since).Start);
        var days = ImmutableArray.CreateBuilder<(LocalDate, double)>();
        for (var date = since; ; date = date.PlusDays(1))
        {
            int last = hours.Series.LastAtOrBefore(calendar.DayOf(date).End) - 1;
            // The whole day must be in the series: half a day's warmth would look like a cold one.
            if (last >= hours.Series.Hours || warmth.Known(first, last) < SowingOutlooks.KnownShare * (last - first + 1))
                break;
            days.Add((date, warmth.Total(first, last)));
        }
        return new(since, days.ToImmutable(), today, need.Base.Celsius, need.HarvestCd);
    }
}
