using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Messages.Tests;

/// <summary>An invented garden on mornings worth a message. Values are SI, as the agenda keeps them.</summary>
internal static class SampleGarden
{
    public static readonly DateTimeZone Zone = DateTimeZoneProviders.Tzdb["America/New_York"];
    private const double FourFeet = 4 * 0.3048;
    public static readonly LocalDate Tuesday = new(2026, 4, 21);
    public static readonly Addressee Pat = new("pat@example.org", UnitSystem.Us);
    public static readonly Addressee Kim = new("kim@example.org", UnitSystem.Metric);
    public static readonly DigestOccasion Answerable = new() { AnswerAddress = "quarry-lane@example.org" };

    public static readonly ImmutableArray<JournalEntry> Journal =
    [
        new(EntryKind.Note, new(2025, 4, 23), At(new(2025, 4, 23), 19), null, null, null, "slugs found the squash the first wet night"),
        new(EntryKind.Note, new(2025, 6, 2), At(new(2025, 6, 2), 19), null, null, null, "first peas"),
        new(EntryKind.Done, new(2025, 4, 21), At(new(2025, 4, 21), 19), "x", null, null, "done and dusted"),
    ];

    public static Instant At(LocalDate date, int hour, int minute = 0) =>
        (date + new LocalTime(hour, minute)).InZoneLeniently(Zone).ToInstant();

    // Tests run side by side, each whole sample on one thread.
    [ThreadStatic]
    private static Tongue? _tongue;

    /// <summary>A sample whose messages speak another language; what the agenda itself says stays as it is written here.</summary>
    public static T Speaking<T>(Tongue tongue, Func<T> sample)
    {
        _tongue = tongue;
        try
        {
            return sample();
        }
        finally
        {
            _tongue = null;
        }
    }

    public static Agenda On(LocalDate date, params Job[] jobs) => new()
    {
        Tongue = _tongue ?? Tongue.English,
        GardenId = "quarry-lane",
        GardenName = "Quarry Lane",
        Date = date,
        Zone = Zone,
        AsOf = At(date, 6),
        Weather = new(At(date, 5, 10), Duration.FromMinutes(50), WeatherState.Fresh),
        Jobs = [.. jobs],
    };

    public static Job Job(string id, JobKind kind, string name, string? bed, Standing standing) => new()
    {
        Id = "quarry-lane/" + id,
        SubjectId = id,
        Kind = kind,
        Name = name,
        BedName = bed,
        BedId = bed switch { "kitchen bed" => "kitchen", "low bed" => "low", "big pot" => "pot", _ => null },
        Standing = standing,
    };

    public static Reason Because(string text) => new("said", ImmutableDictionary<string, double>.Empty, text);

    public static Need Needs(string sentence, DateInterval? likely = null) =>
        new("needs", false, null, null, null, likely, sentence);

    public static Window Between(LocalDate date, int fromHour, int fromMinute, int untilHour, int untilMinute) =>
        new(At(date, fromHour, fromMinute), At(date, untilHour, untilMinute));

    public static Job CoverTomatoes(LocalDate date) => Job("tomato/cover/1", JobKind.Cover, "Cover the tomatoes", "low bed", Standing.Now) with
    {
        Protects = true,
        Minutes = 10,
        ActBy = At(date, 19, 30),
        UndoAt = At(date.PlusDays(1), 8, 30),
        Chance = new(0.7, ChanceSource.Members),
        Reasons =
        [
            Because("35 °F at your bed about 5 am, clear and calm: frost on the leaves is likely (7 in 10)"),
            Because("Fleece is worth about 3 °F"),
        ],
        How = "Lay it while the soil is still warm and weigh the edges down",
        Otherwise = "Bring pots in and water the soil now",
    };

    public static Job SowRadish(LocalDate date) => Job("radish/sow/3", JobKind.Sow, "Sow radish, batch 3", "kitchen bed", Standing.Now) with
    {
        Minutes = 10,
        Windows = [Between(date, 6, 30, 7, 30), Between(date, 17, 30, 19, 45)],
        Best = Between(date, 17, 30, 19, 45),
        Reasons =
        [
            Because("Soil 52 °F at dawn and warming; 45 °F is enough"),
            Because("Up in about 6 days. Two more batches before it is too warm (12 May)."),
        ],
        How = "Half an inch deep, an inch apart",
    };

    public static Job ThinRadish(LocalDate date) => Job("radish/thin/2", JobKind.Thin, "Thin radish, batch 2", "kitchen bed", Standing.Now) with
    {
        Minutes = 15,
        Windows = [Between(date, 17, 30, 20, 0)],
        Reasons = [Because("Up since 15 April, 96 degree-days, so the first true leaf is out (from 90)")],
        How = "To 2 inches apart",
    };

    public static Job StartSquash() => Job("squash/start/1", JobKind.StartIndoors, "Start winter squash", "indoors", Standing.Now) with
    {
        Minutes = 5,
        Reasons = [Because("Setting out is likely 6 to 15 May, and three weeks under cover come first: 15 to 24 April is the time")],
        How = "Three seeds, an inch deep, where it stays above 68 °F",
    };

    public static Job SpreadPellets(LocalDate date, Standing standing) => Job("pellets/1", JobKind.Spread, "Spread slug pellets", "low bed", standing) with
    {
        Windows = [Between(date, 17, 30, 20, 30)],
        Chance = new(0.8, ChanceSource.Members),
        Reasons = [Because("Rain of 0.3 in, at most 0.1 in an hour, comes after: enough to wet them in, too gentle to wash them away")],
        Cautions = ["Iron phosphate. The product label decides the amount, and who and what stays away from it."],
    };

    public static Job SetOutSquash() => Job("squash/set-out/1", JobKind.SetOut, "Set out winter squash", "kitchen bed", Standing.Waiting) with
    {
        Needs =
        [
            Needs("Soil 57 of 62 °F", new(new(2026, 5, 2), new(2026, 5, 12))),
            Needs("Nights 41 of 50 °F", new(new(2026, 5, 6), new(2026, 5, 15))),
            new("no frost", true, null, null, null, null, "No frost in sight"),
        ],
    };

    public static Agenda FrostyMorning() => On(Tuesday,
        SetOutSquash(), SowRadish(Tuesday), ThinRadish(Tuesday), StartSquash(), CoverTomatoes(Tuesday),
        SpreadPellets(Tuesday.PlusDays(1), Standing.Soon)) with
    {
        Week = FrostyWeek(),
        Sowings =
        [
            Growing("radish/1", "Radish, batch 1", "swelling", "Radish, batch 1: swelling. 380 of 520 degree-days; first pulls 29 April to 3 May.", new(2026, 4, 29)),
            Growing("radish/2", "Radish, batch 2", "seedlings", "Seedlings. 96 of 520 degree-days; first pulls 9 to 14 May", new(2026, 5, 9)),
            Growing("tomato/1", "Tomato, six", "set out", "Set out 17 April, settling. First flowers 24 May to 4 June", new(2026, 7, 8)) with { BedId = "low", BedName = "low bed" },
        ],
        Beds =
        [
            new("kitchen", "kitchen bed", 13.9, 5, 12.7, 2.6, null, "Soil 57 °F. 0.5 in of rain in 7 days, short by 0.1 in. Give nothing: Thursday's rain covers it.",
                (FourFeet, 3 * FourFeet), (0, 0)),
            new("low", "low bed", 14.4, 5, 12.7, 10.2, 30.3, null, (FourFeet, 2 * FourFeet), (1.5 * FourFeet, 0)),
        ],
    };

    /// <summary>The look's week: frost in the night of Tuesday, rain on Thursday.</summary>
    public static ImmutableArray<DayAhead> FrostyWeek() =>
    [
        Day(Tuesday, 2.8, 14.4) with { LeafLowC = -0.6, FrostChance = 0.7 },
        Day(Tuesday.PlusDays(1), 7.8, 16.1),
        Day(Tuesday.PlusDays(2), 8.3, 12.8) with { RainMm = 7.6, RainChance = 0.8, RainPeakMmPerHour = 2.5, RainSpell = new(At(Tuesday.PlusDays(2), 6), At(Tuesday.PlusDays(2), 18)) },
        Day(Tuesday.PlusDays(3), 6.7, 16.7) with { RainMm = 1, RainChance = 0.4 },
        Day(Tuesday.PlusDays(4), 9.4, 18.9),
        Day(Tuesday.PlusDays(5), 11.7, 21.1) with { GustMetresPerSecond = 16 },
        Day(Tuesday.PlusDays(6), null, 21.7) with { RainMm = 5, RainChance = 0.4 },
    ];

    /// <summary>Dry and mild.</summary>
    public static DayAhead Day(LocalDate date, double? lowC, double? highC) =>
        new(date, lowC, highC, lowC - 1, 0, 0, 0.05, 0, 5, null);

    public static Agenda GranulesBeforeRain()
    {
        var saturday = new LocalDate(2026, 5, 16);
        var spread = Job("granules/1", JobKind.Spread, "Spread granular fertiliser", "low bed", Standing.Now) with
        {
            Minutes = 15,
            Best = Between(saturday, 8, 0, 11, 0),
            Chance = new(0.8, ChanceSource.Members),
            Reasons = [Because("11 mm of rain from noon, at most 3 mm an hour, is enough to wet it in and too gentle to wash it away")],
            How = "Keep it off wet leaves",
            Cautions = ["The product label decides the amount."],
            Otherwise = "Water in with 6 mm by hand after 4 days",
        };
        var look = Job("granules/look/1", JobKind.Look, "Look at the leaf colour", "low bed", Standing.Soon) with
        {
            Windows = [Between(saturday.PlusDays(10), 8, 0, 19, 0)],
            Reasons = [Because("Ten days after the feed")],
        };
        return On(saturday, spread, look) with
        {
            Week =
            [
                Day(saturday, 9, 18) with { RainMm = 11, RainChance = 0.8, RainPeakMmPerHour = 3, RainSpell = new(At(saturday, 12), At(saturday.PlusDays(1), 4)) },
                Day(saturday.PlusDays(1), 8, 17) with { RainMm = 14, RainChance = 0.9, RainPeakMmPerHour = 9, RainSpell = new(At(saturday, 12), At(saturday.PlusDays(1), 4)) },
                Day(saturday.PlusDays(2), 8, 19),
            ],
        };
    }

    public static Agenda QuietMorning()
    {
        var thursday = Tuesday.PlusDays(2);
        var look = Job("pellets/look/1", JobKind.Look, "Look for fresh slime trails", "low bed", Standing.Soon) with
        {
            Windows = [Between(thursday.PlusDays(2), 8, 0, 19, 0)],
            Reasons = [Because("Three days after the pellets"), Because("A second sentence that a quiet morning leaves out")],
        };
        return On(thursday, look, SetOutSquash()) with
        {
            Week = [.. FrostyWeek().Skip(2)],
            Sowings =
            [
                Growing("tomato/1", "Tomato, six", "settling", "Settling.", new(2026, 7, 8)),
                Growing("radish/1", "Radish, batch 1", "swelling", "Radish, batch 1, 401 of 520 degree-days, first pulls 29 April to 3 May", new(2026, 4, 29)),
            ],
        };
    }

    public static Agenda StaleWeather()
    {
        var cover = CoverTomatoes(Tuesday) with
        {
            Chance = null,
            Reasons = [Because("The forecast of Sunday had 36 °F at your bed; it may be colder by now")],
        };
        return On(Tuesday, cover, StartSquash()) with
        {
            Weather = new(At(Tuesday.PlusDays(-2), 13), Duration.FromHours(41), WeatherState.Stale),
            Week = [.. FrostyWeek().Take(2), new(Tuesday.PlusDays(2), null, null, null, null, null, null, null, null, null)],
            Notes = ["Not said for want of a fresh forecast: sow radish, batch 3; spread slug pellets"],
        };
    }

    public static Agenda MissingWeather() => On(Tuesday, StartSquash()) with
    {
        Weather = new(null, null, WeatherState.Missing),
        Notes = ["Not said for want of a forecast: sow radish, batch 3."],
    };

    public static Agenda HotAfternoon()
    {
        var sunday = new LocalDate(2026, 7, 19);
        var shade = Job("lettuce/shade/1", JobKind.Shade, "Shade the lettuce", "big pot", Standing.Now) with
        {
            Protects = true,
            ActBy = At(sunday, 11),
            UndoAt = At(sunday, 19),
            Chance = new(0.9, ChanceSource.Forecast),
            Reasons = [Because("36 °C in the shade about 15:00; above 30 °C it bolts")],
            Cautions = ["Be out of the sun yourself from 11:00 to 17:00."],
        };
        var many = Enumerable.Range(1, 11).Select(i =>
            Job($"small/{i}", JobKind.Water, $"Water row {i}", "low bed", Standing.Now) with { Minutes = 20, Best = Between(sunday, 6, 30, 8, 0) });
        var missed = Job("lettuce/sow/3", JobKind.Sow, "Sow lettuce, batch 3", "low bed", Standing.Missed) with { Otherwise = "Sow batch 4 from 20 August" };
        return On(sunday, [shade, .. many, missed]) with
        {
            Week = [Day(sunday, 22, 36), Day(sunday.PlusDays(1), 21, 35), Day(sunday.PlusDays(2), 18, 29)],
            Sowings = [Growing("lettuce/2", "Lettuce, batch 2", "hearting", "Hearting; first heads 25 July", new(2026, 7, 25))],
        };
    }

    public static SowingOutlook Growing(string id, string name, string stage, string sentence, LocalDate harvest) => new()
    {
        Id = id,
        Crop = name.Split(',')[0],
        BedId = "kitchen",
        BedName = "kitchen bed",
        Name = name,
        Stage = stage,
        Sentence = sentence,
        Harvest = new(harvest, harvest.PlusDays(4)),
    };
}
