using System.Collections.Immutable;
using GardenWatch.Agronomy.RainTiming;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// What was sprayed to stay on leaves, and rain has taken off: the days left to the next time are halved after some rain, and nothing
/// is left after much (<see cref="Rainfastness.AfterRain"/>).
/// </summary>
/// <param name="Due">When it is due instead.</param>
internal sealed record WashedOff(LocalDate Due, Reason Why)
{
    /// <summary>Null where rain changes nothing: another kind of chore, under cover, too little of it, or its hours are not known.</summary>
    /// <param name="due">By the plan alone.</param>
    public static WashedOff? Of(Chore chore, Bed? bed, LocalDate done, LocalDate due, GardenWeather weather, Instant asOf)
    {
        if (chore.Kind != JobKind.Spray || bed is not null and not { Over: Overhead.Open })
            return null;
        // The hour at which it was sprayed is not in the record: rain of that day is left out.
        var from = weather.Calendar.DayOf(done).End;
        if (weather.RainMm(from, asOf) is not { } rain || Rainfastness.AfterRain(rain) is not (Protection.HalveTheDaysLeft or Protection.Renew))
            return null;
        var today = weather.Calendar.DateOf(asOf);
        var (washed, renewed) = (today, (LocalDate?)null);
        for (var date = done.PlusDays(1); date <= today; date = date.PlusDays(1))
        {
            var sofar = Rainfastness.AfterRain(weather.RainMm(from, Instant.Min(asOf, weather.Calendar.DayOf(date).End)) ?? double.NaN);
            if (sofar is Protection.HalveTheDaysLeft or Protection.Renew)
                washed = LocalDate.Min(washed, date);
            if (sofar is Protection.Renew)
                renewed ??= date;
        }
        var sooner = renewed ?? washed.PlusDays((Period.DaysBetween(washed, due) + 1) / 2);
        if (sooner >= due)
            return null;
        var speech = weather.Speech;
        return new(sooner, new("washed-off", ImmutableDictionary<string, double>.Empty.Add("rainMm", rain),
            speech.Say($"{speech.Water(rain)} of rain since {speech.Date(done)}: what should stay on leaves is worth less by now, so it is due sooner than planned, if the label allows.")));
    }
}
