using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Messages.Pages;

/// <summary>One sowing's page: its line, and the warmth it has gathered as a picture and in words.</summary>
/// <param name="Warmth">Null where the crop's warmth, or its beginning, is not known.</param>
/// <param name="Known">Margin and sentence.</param>
public sealed record SowingSheet(string Name, string Line, PagePicture? Warmth, string? Caption, ImmutableArray<SayingRow> Known)
{
    private static readonly LocalDatePattern ShortDate = LocalDatePattern.CreateWithInvariantCulture("d MMM");

    /// <param name="course">Null where it is not known.</param>
    public static SowingSheet Of(SowingOutlook sowing, WarmthCourse? course, Speech speech, LocalDate today)
    {
        var said = GardenSheet.Said(sowing);
        var known = ImmutableArray.CreateBuilder<SayingRow>();
        known.Add(new("bed", Words.FirstUpper(Plain.OneLine(sowing.BedName, Plain.NameLength))));
        if (sowing.Variety is { Length: > 0 } variety)
            known.Add(new("variety", Plain.OneLine(variety, Plain.NameLength)));
        known.Add(new("stage", Words.FirstUpper(sowing.Stage)));
        if (sowing.Harvest is { } picking)
            known.Add(new("packet", $"First picking {Speech.Dates(picking.Start, picking.End)}."));
        PagePicture? picture = null;
        if (course is { Days.IsEmpty: false })
        {
            int past = course.Days.Count(day => day.Date < course.Today);
            double gathered = past == 0 ? 0 : course.Days[past - 1].GatheredCd;
            string soFar = course.NeededCd is { } need ? speech.Of(gathered, need.From, Dimension.Warmth) : speech.Warmth(gathered);
            double yesterday = past == 0 ? 0 : gathered - (past == 1 ? 0 : course.Days[past - 2].GatheredCd);
            known.Add(new("warmth", $"{Words.Sentence(soFar)} Yesterday brought {speech.Warmth(yesterday)}, counted above {speech.Temperature(course.BaseC)}."));
            LocalDate? reached = course.NeededCd is { } wanted ? course.Days.Where(day => day.GatheredCd >= wanted.From).Select(day => (LocalDate?)day.Date).FirstOrDefault() : null;
            if (reached is { } enough)
                known.Add(new(enough < today ? "reached" : "expected", $"Enough warmth {(enough < today ? "since" : "about")} {Speech.Date(enough)}{(enough < today ? "" : ", by the forecast")}."));
            var facts = new WarmthFacts(
                course.Since, [.. course.Days.Select(day => day.GatheredCd)], past, course.NeededCd?.From, sowing.Harvest,
                course.NeededCd is { } needed ? speech.Warmth(needed.From) + " needed" : "", $"{speech.Warmth(gathered).Split('\u00A0')[0]} so far",
                "first picking by the packet", date => ShortDate.Format(date));
            string words = $"Warmth gathered from {Speech.Date(course.Since)} to {Speech.Date(course.Days[^1].Date)}. By today {soFar}."
                + (course.Days.Length > past ? $" By the forecast {speech.Warmth(course.Days[^1].GatheredCd)} by {Speech.Date(course.Days[^1].Date)}." : "");
            picture = PagePicture.Of("warmth", "Warmth gathered, day by day", words, frame => WarmthLine.Draw(facts, frame));
        }
        return new(said.Label, said.Text, picture,
            picture is null ? null : $"Warmth gathered above {speech.Temperature(course!.BaseC)}. Solid was measured or modelled, dashes are the forecast.", known.ToImmutable());
    }
}
