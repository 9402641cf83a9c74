using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;

namespace GardenWatch.Messages.Tests;

/// <summary>Names and sentences that try to break out of their place, and far too many of them.</summary>
internal static class HostileGarden
{
    public const string Name = "<script>alert(1)</script>\r\nBcc: all@example.org\u202Egnp.\u0007\u2066 \"'&amp;]]>--\uD800\uFFFE";

    public static readonly JournalEntry[] Journal =
        [new(EntryKind.Note, new(2025, 4, 21), SampleGarden.At(new(2025, 4, 21), 9), null, null, null, Name + " http://example.org/x")];

    public static Agenda Agenda()
    {
        var job = SampleGarden.CoverTomatoes(SampleGarden.Tuesday) with
        {
            Name = Name,
            BedName = Name,
            How = Name,
            Otherwise = Name,
            Cautions = [Name],
            Reasons = [SampleGarden.Because(Name)],
        };
        return SampleGarden.FrostyMorning() with
        {
            GardenName = Name,
            Jobs = [job, job with { Id = "2", Protects = false, Name = new string('x', 300) }, job with { Id = "3", Standing = Standing.Soon }],
            Sowings = [SampleGarden.Growing("s", Name, "up", Name, new(2026, 5, 1))],
            Beds = [new("b", Name, null, null, null, null, null, Name)],
            Notes = [Name],
        };
    }

    /// <summary>Fifty of everything, each as long-winded as it may be.</summary>
    public static Agenda Overgrown()
    {
        string words = string.Join(' ', Enumerable.Repeat("<&\" endlessly", 200));
        var jobs = from standing in (Standing[])[Standing.Now, Standing.Soon, Standing.Waiting, Standing.Missed]
                   from i in Enumerable.Range(0, 50)
                   select SampleGarden.Job($"{standing}/{i}", JobKind.Cover, words, words, standing) with
                   {
                       Protects = i % 2 == 0,
                       ActBy = SampleGarden.At(SampleGarden.Tuesday, 19),
                       UndoAt = SampleGarden.At(SampleGarden.Tuesday.PlusDays(1), 8),
                       Reasons = [.. Enumerable.Range(0, 6).Select(n => SampleGarden.Because($"{n} {words}"))],
                       Cautions = [words],
                       How = words,
                       Otherwise = words,
                   };
        return SampleGarden.FrostyMorning() with
        {
            GardenName = words,
            Jobs = [.. jobs],
            Sowings = [.. Enumerable.Range(0, 50).Select(i => SampleGarden.Growing($"s{i}", words, "up", words, new(2026, 5, 1)))],
            Beds = [.. Enumerable.Range(0, 50).Select(i => new BedOutlook($"b{i}", words, 1, 1, 1, 1, 1, words))],
            Notes = [.. Enumerable.Range(0, 50).Select(i => $"{i} {words}")],
        };
    }
}
