using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Store;
using GardenWatch.Weather.History;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Rounds;

/// <summary>Puts a garden's papers together, as they were known at an instant, and asks the core for the agenda.</summary>
/// <param name="weatherIsInvented">Then messages credit no weather service.</param>
public sealed class Mornings(GardenStore store, bool weatherIsInvented = false)
{
    public Agenda AgendaOf(Plan plan, GardenPlace place, Instant asOf) => AgendaOf(plan, place, LastSaidOf(plan, asOf), asOf);

    /// <param name="said">What the reader has been told before.</param>
    public Agenda AgendaOf(Plan plan, GardenPlace place, LastSaid said, Instant asOf) =>
        Agenda.For(plan, place.Calendar, JournalOf(plan, asOf), KnownOf(place, asOf), said, asOf);

    /// <summary>What was known of a place's weather at an instant.</summary>
    public KnownWeather KnownOf(GardenPlace place, Instant asOf)
    {
        var headers = store.Pulls.AsOf(place.Key, asOf).Where(header => header.Kind == PullRound.Kind).ToList();
        var weather = ReckonedWaterUse.In(PullFold.Join(Load(headers, asOf), asOf), place.Calendar.Place);
        var age = WeatherAge.Of(headers.Select(header => header.FetchedAt), asOf);
        var news = new WeatherNews(
            age.FetchedAt, age.Age, age.IsMissing ? WeatherState.Missing : age.IsStale ? WeatherState.Stale : WeatherState.Fresh) { IsInvented = weatherIsInvented };
        var (members, borrowed) = MemberRound.Known(store, place, weather, asOf);
        return new(weather, news, members, PastYearsRound.Known(store, place, asOf)) { Borrowed = borrowed };
    }

    public Journal JournalOf(Plan plan, Instant asOf) => Journal.AsOf(store.Journal.AsOf(plan.GardenId, asOf), asOf);

    public LastSaid LastSaidOf(Plan plan, Instant asOf) => store.LastSaid.AsOf(plan.GardenId, asOf);

    private List<Pull> Load(List<PullHeader> headers, Instant asOf)
    {
        var needed = PullFold.Needed(
            headers.Select(header => (header.Id, header.FetchedAt, header.Start, header.Start + Duration.FromHours(header.Hours - 1))), asOf);
        var pulls = new List<Pull>(needed.Length);
        foreach (var (_, body) in store.Pulls.Bodies(needed))
            if (PullPacking.Unpack(body) is UnpackOutcome.Good good)
                pulls.Add(good.Pull);
        return pulls;
    }
}
