using System.Collections.Immutable;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Tests.Warnings;

/// <summary>Warnings of wind, hail and heat as an invented garden gets them.</summary>
internal static class ThreatSamples
{
    private static readonly LocalDate Thursday = new(2026, 6, 18);

    public static Job Tie(double gust = 24) => SampleGarden.Job("tomato/tie/1", JobKind.Tie, "Tie the tomatoes", "top bed", Standing.Now) with
    {
        Protects = true,
        Minutes = 20,
        ActBy = SampleGarden.At(Thursday, 20, 30),
        Chance = new(0.6, ChanceSource.Members),
        Reasons = [SampleGarden.Because("Gusts to 54 mph today from 9 to 11 pm: from 45 mph on tall stems break or lie down.")],
        How = "A second tie on every stake, soil drawn up to tall stems; pick ripe fruit that would be thrown down.",
        Otherwise = "lay what can bend down on the lee side, and pick what is ripe",
        Cautions = ["Not on a ladder, and away from tall stakes and glass once it blows hard."],
        DecidingValue = gust,
        Threat = new(Danger.Wind, SampleGarden.At(Thursday, 21), SampleGarden.At(Thursday, 23)),
    };

    public static Job Shut() => SampleGarden.Job("frame/protect/1", JobKind.Protect, "Shut and strap down the cold frame", "cold frame", Standing.Now) with
    {
        Protects = true,
        Minutes = 15,
        ActBy = SampleGarden.At(Thursday, 20, 30),
        UndoAt = SampleGarden.At(Thursday.PlusDays(1), 6),
        Reasons = [SampleGarden.Because("Gusts to 54 mph today from 9 to 11 pm: from 40 mph on lids fly."),
            new("undo", ImmutableDictionary<string, double>.Empty, "Opened or put back tomorrow after 6 am, once gusts are under 22 mph.")],
        How = "Lids down and strapped or weighed with sacks of soil",
        Cautions = ["Do not lift lids, panes or big sheets once it blows hard."],
        DecidingValue = 24,
        Threat = new(Danger.Wind, SampleGarden.At(Thursday, 21), SampleGarden.At(Thursday, 23)),
    };

    public static Job Shelter(double hailClass = HailClass.Told) => SampleGarden.Job("salad/shelter/1", JobKind.Shelter, "Shelter the salad bed", "salad bed", Standing.Now) with
    {
        Protects = true,
        Minutes = 10,
        ActBy = SampleGarden.At(Thursday, 14),
        UndoAt = SampleGarden.At(Thursday, 17, 30),
        Reasons = [SampleGarden.Because("Hail today from 2 to 4 pm: hail shreds soft leaves in minutes."),
            SampleGarden.Because("None of your hours is left before it: ask somebody near, or do it on your way past."),
            new("undo", ImmutableDictionary<string, double>.Empty, "Off again as soon as it has passed, today after 5:30 pm: it gets hot under there.")],
        How = "Fleece or net on hoops, clear of the leaves and pegged down; crates or pots over single plants.",
        Otherwise = "after hail wait a week, most plants grow on from a live tip",
        Cautions = ["Thunder heard: go in at once, and wait 30 minutes after the last of it."],
        DecidingValue = hailClass,
        Threat = new(Danger.Hail, SampleGarden.At(Thursday, 14), SampleGarden.At(Thursday, 16)),
    };

    public static Job Shade(double high = 36) => SampleGarden.Job("lettuce/shade/1", JobKind.Shade, "Shade the lettuce", "salad bed", Standing.Now) with
    {
        Protects = true,
        Minutes = 10,
        ActBy = SampleGarden.At(Thursday, 20, 30),
        Chance = new(0.8, ChanceSource.Members),
        Reasons = [SampleGarden.Because("97 °F tomorrow: leaves turn bitter and run to seed."),
            new("undo", ImmutableDictionary<string, double>.Empty, "It may stay up while the days are hot; off tomorrow after 6 pm at the soonest.")],
        How = "A net or cloth on hoops from noon to five, water in the morning, pick what is ready.",
        Otherwise = "water in the morning, pick it young, and sow again when it cools",
        Cautions = ["It will feel like 104 °F: work only early, drink, and put off what can wait. Confusion or fainting is an emergency."],
        DecidingValue = high,
        Threat = new(Danger.Heat, SampleGarden.At(Thursday.PlusDays(1), 11), SampleGarden.At(Thursday.PlusDays(1), 18)),
    };

    /// <summary>A look at an hour of Thursday, ten minutes after the forecast came.</summary>
    public static Agenda Look(int hour, params Job[] jobs) => SampleGarden.On(Thursday, jobs) with
    {
        AsOf = SampleGarden.At(Thursday, hour),
        Weather = new(SampleGarden.At(Thursday, hour) - Duration.FromMinutes(10), Duration.FromMinutes(10), WeatherState.Fresh),
        Week = [SampleGarden.Day(Thursday, 16, 27) with { GustMetresPerSecond = 24 }, SampleGarden.Day(Thursday.PlusDays(1), 19, 36)],
    };

    /// <summary>The morning told these jobs, with these numbers.</summary>
    public static LastSaid Told(params (Job Job, double Value)[] jobs) => new(
        jobs.ToImmutableDictionary(told => told.Job.Id, told => new Said(Thursday, Thursday, Standing.Now, told.Value)), LastSaid.Nothing.Stages);

    public static WarningMessage Gale() => Warning(17, Told((Tie(), 20.5)), Tie(), Shut());

    public static WarningMessage Hail() => Warning(11, LastSaid.Nothing, Shelter());

    public static WarningMessage Heat() => Warning(17, LastSaid.Nothing, Shade());

    public static WarningMessage Several() => Warning(11, LastSaid.Nothing, Shelter(HailClass.Heavy), Tie(), Shut());

    public static WarningMessage GaleCalledOff() => WarningMessage.Of(Look(17), [], [Off(Tie()), Off(Shut())], SampleGarden.Pat, SampleGarden.Answerable.AnswerAddress);

    private static WarningMessage Warning(int hour, LastSaid said, params Job[] jobs) =>
        WarningMessage.Of(Look(hour, jobs), jobs, [], SampleGarden.Pat, SampleGarden.Answerable.AnswerAddress, said);

    private static Job Off(Job job) => job with
    {
        Standing = Standing.Dropped, ActBy = null, UndoAt = null, Chance = null, How = null, Otherwise = null, Cautions = [],
        Reasons = [new("called-off", ImmutableDictionary<string, double>.Empty, "The wind stays lighter, gusts to 27 mph at most.")],
    };
}
