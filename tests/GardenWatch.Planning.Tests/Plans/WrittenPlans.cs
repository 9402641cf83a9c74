using CsCheck;

namespace GardenWatch.Planning.Tests.Plans;

/// <summary>One plan in the many ways in which people write it: remarks, blank lines, braces or lines, quotation marks, line ends.</summary>
internal static class WrittenPlans
{
    private static readonly (string Key, string Value)[][] Beds =
    [
        [("bed", "kitchen bed"), ("size", "4 ft x 12 ft"), ("soil", "silt loam")],
        [("bed", "low bed"), ("size", "4 ft x 8 ft"), ("frost pocket", "2 °F"), ("cover", "light fleece")],
        [("bed", "sill"), ("over", "windowsill")],
    ];

    private static readonly (string Key, string Value)[][] Plantings =
    [
        [("crop", "radish"), ("bed", "kitchen bed"), ("sowings", "every 10 days until too warm")],
        [("crop", "winter squash"), ("bed", "kitchen bed"), ("start", "sill"), ("after", "radish")],
        [("crop", "tomato"), ("bed", "low bed"), ("bought", "mid May"), ("plants", "6")],
        [("crop", "garlic"), ("bed", "low bed"), ("sown", "late October last year")],
    ];

    private static readonly (string Key, string Value)[][] Chores =
    [
        [("chore", "Turn the compost"), ("every", "6 weeks")],
        [("chore", "Drain the hose"), ("bed", "low bed"), ("when", "air low tonight at most {frost: 0 °C}")],
    ];

    private static readonly string[] Remarks = ["# a remark", "# with\ta tab", "   # it's \"quoted\" {and: more}", "", "  ", "# - { bed: none }", "          # far in"];

    private enum Style { Braces, Lines, Brackets }

    /// <summary>Decisions as they are needed, drawn from one number each.</summary>
    private sealed class Pen(int seed)
    {
        private readonly Random _random = new(seed);

        public int Pick(int of) => _random.Next(of);

        public bool Chance(int oneIn) => _random.Next(oneIn) == 0;

        public string Quoted(string value) => Pick(4) switch { 0 => $"'{value}'", 1 => $"\"{value}\"", _ when value.Contains('{', StringComparison.Ordinal) => $"'{value}'", _ => value };

        public string Behind() => Chance(3) ? (Chance(2) ? "   " : "\t") + Remarks[Pick(2)] : "";
    }

    public static Gen<string> Any { get; } = Gen.Int.Select(Written);

    private static string Written(int seed)
    {
        var pen = new Pen(seed);
        var lines = new List<string> { "garden: Quarry Lane" + pen.Behind(), "id: quarry-lane" };
        lines.Add("place: { town: Lexington, latitude: 38.03, longitude: -84.50, elevation: 295 m }" + pen.Behind());
        lines.Add("units: us");
        if (pen.Chance(2))
            lines.Add("away: [ { from: 12 July, to: 26 July, sitter: sam@example.org } ]" + pen.Behind());
        lines.AddRange(pen.Pick(3) switch
        {
            0 => ["digest: { at: \"06:00\", to: [pat@example.org, { who: kim@example.org, beds: [low bed], at: '7:30' }] }"],
            1 => ["digest:", "  to:", "  - pat@example.org" + pen.Behind(), "  - who: kim@example.org", "    beds: [ \"low bed\" ]"],
            _ => (string[])["digest:", "  at: 6 am   # early", "  to: [ kim@example.org, pat@example.org ]"],
        });
        AddList(lines, "beds", Beds, pen);
        AddList(lines, "plantings", Plantings, pen);
        if (pen.Chance(4))
            lines.Add(pen.Chance(2) ? "chores:" : "chores: []");
        else
            AddList(lines, "chores", Chores, pen);
        string end = pen.Chance(3) ? "\r\n" : "\n";
        return (pen.Chance(6) ? "\uFEFF" : "") + string.Join(end, Scattered(lines, pen)) + (pen.Chance(3) ? "" : end);
    }

    private static void AddList(List<string> lines, string key, (string Key, string Value)[][] items, Pen pen)
    {
        var style = (Style)pen.Pick(3);
        string indent = pen.Chance(3) ? "" : "  ";
        if (style == Style.Brackets)
        {
            string[] braces = [.. items.Select(item => Braces(item, pen))];
            if (pen.Chance(2))
                lines.Add($"{key}: [ {string.Join(", ", braces)} ]{pen.Behind()}");
            else
                lines.AddRange([$"{key}: [", .. braces.Select(brace => $"    {brace},{pen.Behind()}"), "  ]"]);
            return;
        }
        lines.Add(key + ":" + pen.Behind());
        foreach (var item in items)
        {
            if (style == Style.Braces)
                lines.Add($"{indent}- {Braces(item, pen)}{pen.Behind()}");
            else
                lines.AddRange(item.Select((field, i) => $"{indent}{(i == 0 ? "- " : "  ")}{field.Key}:  {pen.Quoted(field.Value)}{pen.Behind()}"));
        }
    }

    private static string Braces((string Key, string Value)[] item, Pen pen) =>
        $"{{{(pen.Chance(2) ? " " : "")}{string.Join(", ", item.Select(field => $"{field.Key}: {pen.Quoted(field.Value)}"))} }}";

    private static IEnumerable<string> Scattered(List<string> lines, Pen pen)
    {
        foreach (string line in lines)
        {
            while (pen.Chance(4))
                yield return Remarks[pen.Pick(Remarks.Length)];
            yield return line;
        }
        while (pen.Chance(2))
            yield return Remarks[pen.Pick(Remarks.Length)];
    }
}
