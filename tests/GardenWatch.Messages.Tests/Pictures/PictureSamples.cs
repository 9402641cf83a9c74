using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Pictures;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>Mornings whose pictures are put to every law, each drawn for mail and for a page.</summary>
public static class PictureSamples
{
    private static readonly Dictionary<string, Func<(Agenda Agenda, UnitSystem Units)>> Mornings = new()
    {
        ["frosty"] = () => (SampleGarden.FrostyMorning(), UnitSystem.Us),
        ["frosty in metric"] = () => (SampleGarden.FrostyMorning(), UnitSystem.Metric),
        ["granules"] = () => (SampleGarden.GranulesBeforeRain(), UnitSystem.Metric),
        ["hot and busy"] = () => (SampleGarden.HotAfternoon(), UnitSystem.Us),
        ["gaps"] = () => (Gaps(), UnitSystem.Us),
        ["frost every night"] = () => (FrostEveryNight(), UnitSystem.Us),
        ["wet and busy"] = () => (WetAndBusy(), UnitSystem.Metric),
        ["spring forward"] = () => (SpringForward(), UnitSystem.Us),
        ["large garden"] = () => (LargeGarden(), UnitSystem.Metric),
        ["beds without sizes"] = () => (BedsWithoutSizes(), UnitSystem.Us),
        ["beds without places"] = () => (BedsWithoutPlaces(), UnitSystem.Us),
        ["hostile"] = () => (HostileGarden.Agenda(), UnitSystem.Us),
        ["overgrown"] = () => (HostileGarden.Overgrown(), UnitSystem.Metric),
    };

    public static TheoryData<string, bool> Names
    {
        get
        {
            var names = new TheoryData<string, bool>();
            foreach (string name in Mornings.Keys)
            {
                names.Add(name, false);
                names.Add(name, true);
            }
            return names;
        }
    }

    internal static ImmutableArray<Picture> Of(string name, bool wide)
    {
        var (agenda, units) = Mornings[name]();
        return Of(agenda, units, wide ? Frame.Page : Frame.Mail);
    }

    internal static ImmutableArray<Picture> Of(Agenda agenda, UnitSystem units, Frame frame)
    {
        var words = new Words(new Speech(units, agenda.Zone), agenda.Date, agenda.AsOf);
        var lines = new JobLines(words);
        foreach (var standing in (Standing[])[Standing.Now, Standing.Soon, Standing.Waiting])
            lines.Rows([.. agenda.Jobs.Where(job => job.Standing == standing).OrderByDescending(job => job.Protects)], 8, "more");
        var gallery = new Gallery(agenda, words, lines, frame);
        ImmutableArray<Picture?> drawn = [gallery.Day(), gallery.HoursAhead(), gallery.Week(), gallery.Beds()];
        Assert.Empty(gallery.Told([]));
        return [.. drawn.OfType<Picture>()];
    }

    /// <summary>A forecast that ends on Saturday, with a day missing before.</summary>
    public static Agenda Gaps()
    {
        var week = SampleGarden.FrostyWeek();
        var nothing = new DayAhead(week[2].Date, null, null, null, null, null, null, null, null, null);
        return SampleGarden.FrostyMorning() with
        {
            Week = [week[0], week[1], nothing, week[3] with { HighC = null }, week[4] with { RainMm = null, RainChance = null }, nothing with { Date = week[5].Date }, nothing with { Date = week[6].Date }],
        };
    }

    private static Agenda FrostEveryNight() => SampleGarden.FrostyMorning() with
    {
        Week = [.. Enumerable.Range(0, 7).Select(i => SampleGarden.Day(SampleGarden.Tuesday.PlusDays(i), -2 - i, 4 + i % 2) with
        {
            LeafLowC = -5 - i, FrostChance = 0.99, RainMm = 3, RainChance = 0.97,
            RainSpell = new(SampleGarden.At(SampleGarden.Tuesday.PlusDays(i), 4), SampleGarden.At(SampleGarden.Tuesday.PlusDays(i), 20)),
        })],
    };

    private static Agenda WetAndBusy()
    {
        var date = SampleGarden.Tuesday;
        var jobs = Enumerable.Range(0, 9).Select(i => SampleGarden.Job($"j{i}", i % 3 == 0 ? JobKind.Cover : JobKind.Thin, $"Do the long thing number {i} to the beans", i % 2 == 0 ? "low bed" : "kitchen bed", i < 7 ? Standing.Now : Standing.Soon) with
        {
            ActBy = i % 3 == 0 ? SampleGarden.At(date, 9 + i, 15) : null,
            UndoAt = i % 3 == 0 ? SampleGarden.At(date.PlusDays(1), 7 + i / 3) : null,
            Windows = i % 3 == 0 ? [] : [SampleGarden.Between(date, 5 + i, 0, 8 + i, 0), SampleGarden.Between(date, 18, 0, 20, 0)],
        });
        return SampleGarden.FrostyMorning() with
        {
            Jobs = [.. jobs],
            Week = [.. Enumerable.Range(0, 7).Select(i => SampleGarden.Day(date.PlusDays(i), 12, 13) with { RainMm = 40, RainChance = 0.4 + i * 0.1, RainSpell = new(SampleGarden.At(date.PlusDays(i), 0), SampleGarden.At(date.PlusDays(i + 1), 0)) })],
        };
    }

    /// <summary>The night in which 2 am is followed by 3 am.</summary>
    private static Agenda SpringForward()
    {
        var saturday = new LocalDate(2026, 3, 7);
        return SampleGarden.On(saturday, SampleGarden.CoverTomatoes(saturday), SampleGarden.SowRadish(saturday)) with
        {
            Week = [.. Enumerable.Range(0, 7).Select(i => SampleGarden.Day(saturday.PlusDays(i), 0, 12) with { FrostChance = i == 0 ? 0.4 : 0 })],
        };
    }

    private static Agenda LargeGarden() => SampleGarden.FrostyMorning() with
    {
        Beds = [.. Enumerable.Range(0, 14).Select(i => new BedOutlook(
            i == 0 ? "low" : i == 1 ? "kitchen" : $"b{i}", $"bed by the long wall {i}", 12, 5, 3, 1, null, null, (2.4, i == 13 ? 0.3 : 6), (i % 5 * 3.2, i / 5 * 6.8)))],
    };

    private static Agenda BedsWithoutSizes() => SampleGarden.FrostyMorning() with
    {
        Beds = [.. SampleGarden.FrostyMorning().Beds.Select(bed => bed with { Size = null, At = null }), new("sill", "sill", null, null, null, null, null, null)],
    };

    private static Agenda BedsWithoutPlaces() => SampleGarden.FrostyMorning() with
    {
        Beds = [.. SampleGarden.FrostyMorning().Beds.Select(bed => bed with { At = null }), new("pot", "big pot", null, null, null, null, null, null)],
    };
}
