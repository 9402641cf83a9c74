using CsCheck;

namespace GardenWatch.Planning.Tests.Plans;

public sealed class PlanFileRobustnessTests
{
    private static readonly string[] Scraps =
    [
        "{", "}", "[", "]", ":", ": ", "-", "- ", "'", "\"", "#", "\t", "\n", "\n  ", "  ", ",", "&a ", "*a", "!", "|", ">", "%", "@", "`", "?", "\\", "\r",
        "---\n", "...\n", "<<: ", "null", "~", "0", "-1", "1,500", "9999999999", "½", "°", "\u00A0", "\u2028", "\uD83C\uDF45", "\uD83C", "id: a\n", "bed: ", "any: [", "{x: 1 mm}", "!!set ", "? a\n",
    ];

    /// <summary>Letters lost, scraps put in, lines doubled, moved, indented: what fingers and editors do.</summary>
    private static readonly Gen<Func<string, string>> Slip = Gen.Select(Gen.Int[0, 6], Gen.Double[0, 1], Gen.Double[0, 1], Gen.Int[0, Scraps.Length - 1])
        .Select<(int, double, double, int), Func<string, string>>(slip => text =>
        {
            var (kind, here, there, scrap) = slip;
            int at = (int)(here * text.Length), length = Math.Min((int)(there * 12), text.Length - at);
            var lines = text.Split('\n').ToList();
            int line = Math.Min((int)(here * lines.Count), lines.Count - 1), other = Math.Min((int)(there * lines.Count), lines.Count - 1);
            switch (kind)
            {
                case 0:
                    return text.Remove(at, length);
                case 1 or 2:
                    return text.Insert(at, Scraps[scrap]);
                case 3:
                    return text[..at] + Scraps[scrap] + text[(at + length)..];
                case 4:
                    (lines[line], lines[other]) = (lines[other], lines[line]);
                    break;
                case 5:
                    lines.Insert(other, lines[line]);
                    break;
                default:
                    lines[line] = there < 0.5 ? " " + lines[line] : lines[line].TrimStart();
                    break;
            }
            return string.Join('\n', lines);
        });

    private static void Holds(string text)
    {
        var reading = PlanFileTests.Read(text);
        Assert.Equal(reading.Plan is null, !reading.Faults.IsEmpty);
        // To YAML a lone carriage return ends a line too.
        string[] lines = text.Split('\n', '\r');
        foreach (var fault in reading.Faults.Concat(reading.Remarks))
        {
            Assert.InRange(fault.Line, 1, lines.Length);
            Assert.InRange(fault.Column, 1, text.Split('\n').Max(line => line.Length) + 2);
            Assert.NotEmpty(fault.Problem);
        }
    }

    [Fact]
    public void A_damaged_plan_gives_faults_with_places_and_never_an_exception() =>
        Slip.Array[1, 6].Sample(slips => Holds(slips.Aggregate(PlanFileTests.Good, (text, slip) => text.Length == 0 ? text : slip(text))), iter: 6000);

    [Fact]
    public void Scraps_alone_do_no_harm_either() =>
        Gen.Int[0, Scraps.Length - 1].Array[0, 40].Sample(scraps => Holds(string.Concat(scraps.Select(i => Scraps[i]))), iter: 6000);

    [Fact]
    public void A_plan_read_again_after_any_slip_keeps_ids_unique() =>
        Slip.Array[1, 3].Sample(slips =>
        {
            var first = PlanFileTests.Read(PlanFileTests.Good);
            var second = PlanFileTests.Read(slips.Aggregate(PlanFileTests.Good, (text, slip) => text.Length == 0 ? text : slip(text)), first.Subjects, new(2026, 6, 1));
            Assert.Equal(second.Subjects.Length, second.Subjects.Select(s => s.Id).Distinct().Count());
            Assert.Subset(second.Subjects.Select(s => s.Id).ToHashSet(), first.Subjects.Select(s => s.Id).ToHashSet());
            if (second.Plan is { } plan)
                Assert.All(plan.Plantings, p => Assert.NotNull(plan.BedOf(p.BedId)));
        }, iter: 2000);
}
