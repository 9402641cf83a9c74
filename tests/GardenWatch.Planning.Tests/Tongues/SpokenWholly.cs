using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Plans;

namespace GardenWatch.Planning.Tests.Tongues;

/// <summary>Holds an agenda against the same one in a language that marks what it says: nothing may be left in plain English.</summary>
internal static class SpokenWholly
{
    public static void Check(Agenda english, Agenda marked, Plan plan)
    {
        string[] own =
        [
            plan.Name, .. plan.Beds.Select(bed => bed.Name),
            .. plan.Chores.SelectMany(chore => new[] { chore.Name, chore.How, chore.Caution, chore.Otherwise?.Text, chore.Then?.LookFor }.OfType<string>()),
        ];
        foreach (var (said, told) in TextsOf(english).Zip(TextsOf(marked)))
        {
            Assert.True(MarkedTongue.Outside(told, own) is [], $"not looked up: {string.Join(", ", MarkedTongue.Outside(told, own))} in: {told}");
            // One form for one and many is all that the marked language has.
            Assert.Equal(Singular(said), Singular(MarkedTongue.Unmarked(told)), ignoreCase: true);
        }
        Assert.Equal(TextsOf(english).Count(), TextsOf(marked).Count());
    }

    private static string Singular(string text) => text.Replace("hours", "hour", StringComparison.Ordinal).Replace("days", "day", StringComparison.Ordinal)
        .Replace("nights", "night", StringComparison.Ordinal).Replace("the past 1 ", "the past ", StringComparison.Ordinal).Replace("the next 1 ", "the next ", StringComparison.Ordinal).Replace(" are missing", " is missing", StringComparison.Ordinal);

    private static IEnumerable<string> TextsOf(Agenda agenda) =>
    [
        .. agenda.Jobs.SelectMany(TextsOf),
        .. agenda.Sowings.SelectMany(sowing => new[] { sowing.Name, sowing.Sentence }),
        .. agenda.Beds.Select(bed => bed.Sentence ?? ""),
        .. agenda.Notes,
    ];

    private static IEnumerable<string> TextsOf(Job job) =>
    [
        job.Name, job.How ?? "", job.Otherwise ?? "",
        .. job.Reasons.Select(reason => reason.Text), .. job.Cautions, .. job.Needs.Select(need => need.Sentence),
    ];
}
