using System.Collections.Immutable;
using GardenWatch.Agronomy.Light;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>What to see to before an absence, said on the days before it.</summary>
internal static class Leaving
{
    private const int ToldDaysBefore = 2;
    private const int NamedAtMost = 5;
    // From here on a pot in the sun dries within two days, and a shut frame is a danger to what stands in it. Common practice.
    private const double PotsDryFromC = 18;
    private const double FramesHeatFromC = 10;

    public static ImmutableArray<string> Of(Plan plan, Agenda agenda, LocalCalendar calendar, Speech speech)
    {
        var (jobs, sowings, week) = (agenda.Jobs, agenda.Sowings, agenda.Week);
        var absence = plan.Away.FirstOrDefault(away => Period.DaysBetween(agenda.Date, away.From) is >= 0 and <= ToldDaysBefore);
        return absence is null ? [] : [.. Lines(absence).Where(line => line.Length > 0)];

        IEnumerable<string> Lines(Absence away)
        {
            string dates = speech.Dates(away.From, away.To);
            yield return away.Sitter is { } sitter
                ? speech.Say($"Away {dates}: {sitter} gets a short list each morning.")
                : speech.Say($"Away {dates}: until then you are told only of what would be lost.");
            yield return Ripe(away);
            yield return FallsDue(away);
            yield return Water(away);
            yield return Covers(away);
            yield return Frames();
        }

        string Ripe(Absence away)
        {
            string names = Named([.. sowings
                .Where(sowing => sowing.Stage == "bearing" || sowing.Stage is "up" or "set out" or "growing" && sowing.Harvest is { } harvest && harvest.Start <= away.To && harvest.End >= away.From)
                .Select(sowing => sowing.Name)]);
            return names.Length == 0 ? "" : speech.Say($"Pick all that is ripe on the last evening: {names}. Fruit that ages on the plant ends its bearing.");
        }

        string FallsDue(Absence away)
        {
            string names = Named([.. jobs
                .Where(job => job is { Protects: false, Standing: Standing.Soon or Standing.Waiting } && DatesOf(job) is { } dates && dates.Start <= away.To && dates.End >= away.From)
                .Select(job => job.NameWithBed)]);
            return names.Length == 0 ? "" : speech.Say($"Likely to fall due meanwhile: {names}.");
        }

        DateInterval? DatesOf(Job job) =>
            job.Standing == Standing.Waiting ? job.Likely
            : job.Windows is [var first, ..] && calendar.DateOf(first.From) is var date ? new(date, date)
            : null;

        string Water(Absence away)
        {
            if (sowings.IsEmpty || MeanHigh() is not (>= PotsDryFromC))
                return "";
            string rain = week.Where(day => day.Date >= away.From && day.Date <= away.To && day.RainMm is not null).ToArray() is [.., var last] days
                ? speech.Say($" The forecast has {speech.Water(days.Sum(day => day.RainMm!.Value))} of rain for you by {speech.Day(last.Date)}.")
                : "";
            string pots = plan.Beds.Any(bed => bed.ContainerLitres is not null) ? speech.Say(" Pots into the shade, close together.") : "";
            return speech.Say("Water deeply on the last evening.") + pots + rain;
        }

        string Covers(Absence away)
        {
            bool tender = jobs.Any(job => job.Kind == JobKind.Cover);
            var night = week.FirstOrDefault(day => day.Date >= away.From && day.Date <= away.To && day.LeafLowC <= 0);
            return tender && night is not null
                ? speech.Say($"Frost on the leaves is in the forecast for {speech.Day(night.Date)}: leave covered what may stay covered.")
                : "";
        }

        string Frames() =>
            MeanHigh() is >= FramesHeatFromC && plan.Beds.FirstOrDefault(bed => bed.Over is Overhead.Frame or Overhead.Tunnel or Overhead.Greenhouse) is { } roofed
                ? speech.Say($"Leave the {roofed.Name} open by a hand’s width: shut, it overheats in an hour of sun.")
                : "";

        double? MeanHigh() => week.Select(day => day.HighC).OfType<double>().ToArray() is { Length: > 0 } highs ? highs.Average() : null;
    }

    private static string Named(string[] names) =>
        string.Join(", ", names.Distinct().Take(NamedAtMost)) + (names.Length > NamedAtMost ? " …" : "");
}
