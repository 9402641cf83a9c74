using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Pages;

/// <summary>One sowing's page: its line, and the warmth it has gathered as a picture and in words.</summary>
/// <param name="Warmth">Null where the crop's warmth, or its beginning, is not known.</param>
/// <param name="Known">Margin and sentence.</param>
public sealed record SowingSheet(string Name, string Line, PagePicture? Warmth, string? Caption, ImmutableArray<SayingRow> Known)
{
    /// <param name="course">Null where it is not known.</param>
    public static SowingSheet Of(SowingOutlook sowing, WarmthGathered? course, Speech speech, LocalDate today)
    {
        var said = GardenSheet.Said(sowing);
        var known = ImmutableArray.CreateBuilder<SayingRow>();
        known.Add(new(speech.Say("bed"), Words.FirstUpper(Plain.OneLine(sowing.BedName, Plain.NameLength))));
        if (sowing.Variety is { Length: > 0 } variety)
            known.Add(new(speech.Say("variety"), Plain.OneLine(variety, Plain.NameLength)));
        if (sowing.Harvest is { } picking)
            known.Add(new(speech.Say("packet"), speech.Say($"First picking {speech.Dates(picking.Start, picking.End)}.")));
        if (course is not { Days.IsEmpty: false })
            return new(said.Label, said.Text, null, null, known.ToImmutable());

        int past = course.Days.Count(day => day.Date < course.Today);
        double gathered = past == 0 ? 0 : course.Days[past - 1].GatheredCd;
        string soFar = course.NeededCd is { } need ? speech.Of(gathered, need.From, Dimension.Warmth) : speech.Warmth(gathered);
        string above = speech.Say($"Warmth is counted above {speech.Temperature(course.BaseC)}.");
        known.Add(new(speech.Say("warmth"), $"{Words.Sentence(soFar)} {Yesterday(course, past, speech)}{above}"));
        if (course.NeededCd is { } wanted && course.Days.Where(day => day.GatheredCd >= wanted.From).Select(day => (LocalDate?)day.Date).FirstOrDefault() is { } reached)
        {
            known.Add(new(speech.Say("enough"), reached < today
                ? speech.Say($"Enough warmth for a first picking since {speech.Date(reached)}.")
                : speech.Say($"By the forecast, enough warmth for a first picking about {speech.Date(reached)}.")));
        }
        return new(
            said.Label, said.Text, Drawn(sowing, course, past, soFar, speech),
            $"{above} {speech.Say("Solid as it was; dashes are the forecast.")}", known.ToImmutable());
    }

    private static string Yesterday(WarmthGathered course, int past, Speech speech) => past == 0 ? ""
        : speech.Say($"Yesterday brought {speech.Warmth(course.Days[past - 1].GatheredCd - (past == 1 ? 0 : course.Days[past - 2].GatheredCd))}.") + " ";

    private static PagePicture Drawn(SowingOutlook sowing, WarmthGathered course, int past, string soFar, Speech speech)
    {
        double gathered = past == 0 ? 0 : course.Days[past - 1].GatheredCd;
        var last = course.Days[^1];
        var facts = new WarmthFacts(
            course.Since, [.. course.Days.Select(day => day.GatheredCd)], past, course.NeededCd?.From, sowing.Harvest,
            course.NeededCd is { } needed ? speech.Say($"{speech.Warmth(needed.From)} needed") : "", speech.Say($"{speech.Warmth(gathered)} so far"),
            speech.Say("first picking by the packet"), speech.Say("today"), speech.Date);
        string words = speech.Say($"Warmth gathered from {speech.Date(course.Since)} on: {soFar} by today.")
            + (course.Days.Length > past ? " " + speech.Say($"By the forecast {speech.Warmth(last.GatheredCd)} by {speech.Date(last.Date)}.") : "");
        return PagePicture.Of("warmth", speech.Say("Warmth gathered, day by day"), words, frame => WarmthLine.Draw(facts, frame));
    }
}
