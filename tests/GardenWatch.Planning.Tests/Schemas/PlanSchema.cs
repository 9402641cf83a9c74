using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Tests.Schemas;

/// <summary>
/// The JSON Schemas by which editors complete and check the files, written from the readers' own words: the condition
/// language's tables, the kinds of jobs, and what the readers name when a word is wrong.
/// </summary>
internal static class PlanSchema
{
    private const string Draft = "https://json-schema.org/draft/2020-12/schema";
    private static readonly JsonSerializerOptions Plainly = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static string Garden() => Written(Whole(
        "A garden's plan",
        [
            ("garden", Text("the garden's name, as messages call it")),
            ("id", Slug("fixed: the name may change, the history stays with this")),
            ("place", Map("where the weather is asked for; latitude and longitude are surer than a town", [],
                ("town", Text("the town's name")), ("latitude", Text("degrees north, such as 38.03")), ("longitude", Text("degrees east, such as -84.50")),
                ("elevation", Quantity("height above the sea", "295 m", "970 ft")), ("zone", Text("such as America/New_York; found when left out")))),
            ("units", Word("how messages speak; the file may use either, with units", PlanWords("units: qqqqqqqq"))),
            ("language", Text("the language of messages: en, or the code of a file in the folder languages, such as de")),
            ("in the garden", Map("when someone can be there", [],
                [.. ((string[])["weekdays", "weekends", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"])
                    .Select(day => (day, Text("such as 06:00-07:30 and 17:30-20:30"))),
                    ("minutes", Text("how long you want to work on a day, such as 30")), ("weekend minutes", Text("the same of Saturdays and Sundays"))])),
            ("away", OneOrMany(Map("days without you; a sitter gets the digest", ["from", "to"],
                ("from", Date("first day")), ("to", Date("last day")), ("sitter", Text("a mail address"))))),
            ("digest", Map("the morning's message", [], ("at", Text("such as \"06:00\"; before noon")), ("to", OneOrMany(Either(
                Text("a mail address, or a channel that gardenwatch.yaml sets up: push, webhook, home hub"),
                Map("someone who is told otherwise than the garden", ["who"],
                    ("who", Text("a mail address or a channel")), ("at", Text("the digest's hour, such as \"7:30\"")),
                    ("units", Word("how messages to this one speak", PlanWords("units: qqqqqqqq"))),
                    ("bed", OneOrMany(Text("a bed's name"))), ("beds", OneOrMany(Text("the beds whose jobs are this one's"))))))),
                ("urgent too", OneOrMany(Text("a channel for urgent messages that mail does not take"))), ("quiet", Text("hours without a push, such as 22:00-06:00")),
                ("frost may wake", Word("whether a warning of frost is pushed in the quiet hours", ["yes", "no"])),
                ("calendar", Word("whether a calendar file comes with each digest by mail", ["attach", "no"])),
                ("at rest", Word("how often where nothing grows and nothing is asked for", ["weekly", "daily"])))),
            ("beds", OneOrMany(Map("ground or a container", ["bed"],
                ("bed", Text("the bed's name")), ("size", Text("such as 4 ft x 12 ft")), ("at", Text("east, then south, from any corner: 6 ft x 0 ft")),
                ("container", Quantity("what it holds, if it is one", "40 litres", "10 gal")), ("soil", Word("what it is made of", PlanWords("beds: [{ bed: a, soil: qqqqqqqq }]"))),
                ("mulch", Word("what lies on it", PlanWords("beds: [{ bed: a, mulch: qqqqqqqq }]"))), ("over", Word("what is above it", PlanWords("beds: [{ bed: a, over: qqqqqqqq }]"))),
                ("cover", Word("what is at hand to lay over it", PlanWords("beds: [{ bed: a, cover: qqqqqqqq }]"))),
                ("frost pocket", Quantity("how much colder it is on still clear nights", "2 °F", "1 °C")), ("id", Slug("lets the bed change its name"))))),
            ("plantings", OneOrMany(Map("one crop in one bed", ["crop"],
                ("crop", Text("such as tomato")), ("variety", Text("the variety's name")), ("bed", Text("the bed in which it grows")),
                ("start", Text("the bed in which it is raised")), ("after", Text("the crop of the same bed that goes before")),
                ("sowings", Text("such as every 10 days until too warm")), ("sown", Date("when it was sown, or no")), ("up", Date("when it came up, or no")),
                ("set out", Date("when it was set out, or no")), ("bought", Date("when it comes as young plants, or no")), ("growing", Date("yes, or since when")),
                ("plants", Text("how many")), ("seed of", Text("the year for which the seed was packed, such as 2023")), ("tune", Anything("your own numbers for the crop's jobs: { set out: { soil: 62 °F } }")), ("id", Slug("lets the planting be changed"))))),
            ("chores", OneOrMany(Map("a job that is right only in certain weather", ["chore"],
                ("chore", Text("its name")), ("kind", Word("what kind of job it is", Kinds)), ("bed", OneOrMany(Text("a bed's name"))), ("beds", OneOrMany(Text("a bed's name"))),
                ("every", Text("such as 6 weeks")), ("when", Conditions("all of these must hold")), ("any", Conditions("one of these must hold")),
                ("none", Conditions("none of these may hold")), ("unless", Conditions("any of these blocks it")), ("by", Conditions("any of these ends the season for it")),
                ("wish", Conditions("never needed: of several windows the one is advised in which more of these hold")),
                ("otherwise", Text("such as after 4 days, water in with 6 mm by hand")),
                ("then", Map("what to look for afterwards", ["look for", "after"], ("look for", Text("such as leaf colour")), ("after", Text("such as 10 days")), ("every", Text("then again, such as 10 days; once where it is left out")))),
                ("caution", Text("such as product label")), ("minutes", Text("how long it takes")), ("how", Text("a line")),
                ("tune", Anything("your own numbers for its phrases: { enough: 8 mm }")), ("id", Slug("lets the chore change its name"))))),
            ("tune", Anything("your own numbers for crops and kinds of job in this garden: { tomato: { set out: { soil: 62 °F } }, cover: { leaf: 1 °C } }")),
        ],
        ["garden", "place"]));

    public static string Crop()
    {
        (string, JsonObject)[] job =
        [
            ("name", Text("such as Set out the {plants}")), ("how", Text("a line")), ("minutes", Text("how long it takes")),
            ("from", Word("the stage from which on it is wanted", CropWords("crop: a\nhardiness: hardy\njobs: { thin: { from: qqqqqqqq } }"))), ("every", Text("how long after an answer it is wanted again, such as 4 days")),
            ("when", Conditions("all of these must hold")), ("unless", Conditions("any of these blocks it")), ("by", Conditions("any of these ends the season for it")),
            ("wish", Conditions("never needed: of several windows the one is advised in which more of these hold")),
            ("numbers", Anything("other numbers for those that the phrases name: { soil: 16 °C }")), ("otherwise", Text("what to do if the weather won't come")),
            ("before", Text("so long before that stage is reckoned to come it is wanted already, such as 28 days")), ("after", Word("only where that other job was done in the past year", Kinds)),
            ("where", Word("under cover: only under glass or film", ["under cover", "anywhere"])), ("on occasion", Word("whether it is told only while its weather is there", ["yes", "no"])),
            ("occasions", OneOrMany(Map("weather that is a further reason for it", ["when", "say"], ("when", Conditions("all of these")), ("say", Text("what it means, a sentence")),
                ("again", Text("so long after its last answer it asks for the job again, such as 3 days")), ("before rain", Word("whether it is no use once the rain begins", ["yes", "no"]))))),
            ("stays", Word("whether what was done is left so, as soil drawn over shoots", ["yes", "no"])),
            ("cautions", OneOrMany(Text("a caution"))), ("source", Text("where the deciding numbers are from")),
        ];
        var source = ("source", Text("where the numbers are from"));
        var jobs = Map("the crop's jobs by their kinds", [], [.. Kinds.Select(kind => (kind, Reference("job")))]);
        var whole = Whole("A crop, or what changes of a shipped one",
        [
            ("crop", Text("its name")), ("plants", Text("several of it, such as tomatoes")), ("also called", OneOrMany(Text("another name"))),
            ("botanical", Text("such as Solanum lycopersicum")), ("family", Text("such as Solanaceae")),
            ("hardiness", Word("how it bears frost", CropWords("crop: a\nhardiness: qqqqqqqq"))),
            ("frost", Map("when its leaves need help", [], ("leaf limit", Quantity("leaf temperature at which to act", "2 °C")), source)),
            ("warmth", Map("degree-days it takes", [], ("base", Quantity("below it stands still", "7 °C")), ("ceiling", Quantity("above it gains nothing more", "30 °C")),
                ("emergence", Text("such as 60 to 90 °C days")), ("flowering", Text("such as 600 to 700 °C days")), ("harvest", Text("such as 1100 to 1300 °C days")),
                ("each year", Text("such as 680 to 980 °C days, of what stays for years")), source)),
            ("first picking", Map("days it takes", [], ("after", Text("such as 70 to 90 days")),
                ("counted from", Word("from when", CropWords("crop: a\nhardiness: tender\nfirst picking: { after: 9 days, counted from: qqqqqqqq }"))), source)),
            ("germination", Map("soil in which it comes up", [], ("least", Quantity("coldest", "10 °C")), ("best", Text("such as 15 to 29 °C")), ("most", Quantity("hottest", "35 °C")),
                ("up after", Text("such as 7 to 14 days, in soil of the best range")), ("up by soil", Anything("days by the soil's temperature: { 10 °C: 20 days, 20 °C: 8 days }")), source)),
            ("sowing", Map("how it is sown", [], ("depth", Quantity("how deep", "1.5 cm")), ("spacing", Quantity("how far apart", "30 cm")),
                ("rows", Quantity("from row to row", "45 cm")), ("start", Word("where it is begun", CropWords("crop: a\nhardiness: tender\nsowing: { start: qqqqqqqq }"))), source)),
            ("indoors", Map("how long it is raised inside", [], ("for", Text("such as 6 to 8 weeks")), ("harden off", Text("such as 7 to 10 days")), source)),
            ("habit", Map("how it stands", [], ("form", Word("its shape", CropWords("crop: a\nhardiness: tender\nhabit: { form: qqqqqqqq }"))), ("height", Quantity("when grown", "60 cm")),
                ("life", Word("how long it lives if it is let", CropWords("crop: a\nhardiness: tender\nhabit: { life: qqqqqqqq }"))), source)),
            ("picking", Map("how it is picked", [], ("picked", Word("how often", CropWords("crop: a\nhardiness: tender\npicking: { picked: qqqqqqqq }"))),
                ("over", Text("days from first picking to last, such as 30 to 45 days")), ("signs", Text("what tells that it is ready")), source)),
            ("critical lows", Map("temperature of the part at which frost harms it", [], [.. ((string[])["seedlings", "leaves", "flowers", "fruit", "roots"]).Select(part => (part, Quantity("of these", "-2 °C"))), source])),
            ("growth", Map("monthly mean air", [], ("best", Text("such as 16 to 18 °C")), ("most", Quantity("hottest", "24 °C")), source)),
            ("limits", Map("what heat, cold or the day's length upsets", [], [.. ((string[])["bolting", "no fruit set", "bitterness", "no tubers", "bulbing", "standstill"]).Select(upset => (upset,
                Map("each limit is enough by itself", [], ("days above", Quantity("highs", "27 °C")), ("nights above", Quantity("lows", "21 °C")), ("nights below", Quantity("lows", "13 °C")),
                    ("cold below", Quantity("daily means while young", "10 °C")), ("for", Quantity("so long", "10 days")), ("daylight", Quantity("sunrise to sunset", "14 hours")),
                    ("note", Text("a line")), source)))])),
            ("water", Map("how much it drinks, after FAO-56", [], ("kc first", Text("crop coefficient, such as 0.6")), ("kc full", Text("such as 1.15")), ("kc last", Text("such as 0.8")),
                ("stages", List(Text("days of the first, growing, full and last stage"))), ("roots", Text("such as 0.5 to 1 m")), ("depletion", Quantity("share of the soil's water it can use unharmed", "40 %")), source)),
            ("roots", Map("below ground", [], ("form", Word("their shape", CropWords("crop: a\nhardiness: tender\nroots: { form: qqqqqqqq }"))), ("pot", Quantity("smallest pot", "20 litres")), source)),
            ("successions", Map("for an unbroken supply", [], ("every", Text("such as 14 days; `season` where one sowing lasts")),
                ("last before frost", Quantity("from the last sowing in the open to the usual first frost", "28 days")), source)),
            ("neighbours", OneOrMany(Map("what grows beside it", ["with", "effect"], ("with", Text("a crop")), ("effect", Word("what it does", CropWords("crop: a\nhardiness: tender\nneighbours: { effect: qqqqqqqq, with: b }"))),
                ("what", Text("a line")), ("evidence", Word("how well it is known", CropWords("crop: a\nhardiness: tender\nneighbours: { effect: helps, with: b, evidence: qqqqqqqq }"))), source))),
            ("rotation", Map("years without its family", ["years"], ("years", Text("such as 3")), ("to be sure", Text("with a lasting disease, such as 7")), ("because", Text("a line")), source)),
            .. ((string[])["pests", "diseases"]).Select(threats => (threats, OneOrMany(Map("one of them", ["name"], ("name", Text("such as slugs")), ("sign", Text("what is seen")), ("do", Text("a line")),
                ("base", Quantity("of its degree-days", "10 °C")), ("appears", Quantity("degree-days", "160 °C days")), ("since", Text("such as 1 March")), ("again", OneOrMany(Quantity("degree-days of the next generation", "820 °C days"))), ("strikes", Text("`seed`: it lays at what is freshly sown")), source)))),
            ("seed", Map("kept seed", [], ("years", Text("such as 4")), ("apart", Quantity("from other varieties", "400 m")), ("saving", Text("a line")), ("from", Word("what it is taken from", ["ripe fruit", "plants left standing"])), source)),
            ("without", OneOrMany(Word("a usual job that it does not have", Kinds))), ("jobs", jobs),
            ("usual jobs", List(Map("a job of every crop of a hardiness, form, family or name", [], [("kind", Word("what kind of job", Kinds)),
                ("for", OneOrMany(Text("a hardiness, a form, a family or a crop"))), ("not for", OneOrMany(Text("a hardiness, a form, a family or a crop"))), .. job]))),
            ("usual looks", List(Map("after which weather one looks for a pest or a disease", ["for", "when"], [("for", OneOrMany(Text("names of pests and diseases, as crops have them"))), ("of", OneOrMany(Text("crops that it is meant for; all where it is left out"))),
                .. job.Where(entry => entry.Item1 is "from" or "every" or "when" or "unless" or "by" or "source").Select(entry => (entry.Item1, (JsonObject)entry.Item2.DeepClone()))]))),
        ], []);
        whole["anyOf"] = new JsonArray(Requires("crop"), Requires("usual jobs"), Requires("usual looks"));
        whole["$defs"]!["job"] = Map("when and how a job is done", [], job);
        return Written(whole);
    }

    /// <summary>What every phrase looks like from afar: a measure, a window, a comparison. The reader says the rest.</summary>
    public static string PhrasePattern()
    {
        string measures = Words(ConditionLanguage.Measures.SelectMany(row => row.Words).Distinct());
        string windows = Words(ConditionLanguage.Windows.Select(row => row.Words.Split(' ')[0]).Distinct());
        string comparisons = string.Join('|', ConditionLanguage.Comparisons.SelectMany(row => row.Words).Select(AnyCase));
        return $@"^\s*(?:{Words(["all of", "any of", "none of"])}\s*\([\s\S]*\)|(?:{Words(["dry"])}|{Words(["no"])}\s+{measures})\s+{windows}[\s\S]*"
            + $@"|{measures}\s[\s\S]*{windows}[\s\S]*(?:{comparisons})[\s\S]*)$";
    }

    /// <summary>Any of some words, whole, in any case, parted by any white space.</summary>
    private static string Words(IEnumerable<string> words) => $"(?:{string.Join('|', words.OrderByDescending(w => w.Length).Select(AnyCase))})(?![A-Za-z0-9_'])";

    private static string AnyCase(string words)
    {
        var pattern = new StringBuilder();
        foreach (char c in words)
        {
            if (char.IsAsciiLetter(c))
                pattern.Append('[').Append(char.ToUpperInvariant(c)).Append(c).Append(']');
            else if (c == ' ')
                pattern.Append(@"\s+");
            else
                pattern.Append(c);
        }
        return pattern.ToString();
    }

    private static string[] Kinds => [.. Enum.GetValues<JobKind>().Select(kind => kind.Word())];

    /// <summary>What the plan's reader offers for a word that it does not know.</summary>
    private static string[] PlanWords(string line)
    {
        var reading = PlanFile.Read($"garden: A\nplace: {{ town: B }}\n{line}\n", "garden.yaml", CropShelf.Shipped(ConditionText.Read), [], new LocalDate(2026, 4, 1), ConditionText.Read);
        return Offered(reading.Faults);
    }

    private static string[] CropWords(string lines) => Offered(CropShelf.Read([("crop.yaml", lines)], ConditionText.Read).Faults);

    private static string[] Offered(IEnumerable<FileFault> faults)
    {
        const string oneOf = "one of: ";
        string offer = Assert.Single(faults, fault => fault.Instead?.StartsWith(oneOf, StringComparison.Ordinal) == true).Instead!;
        return offer[oneOf.Length..].Split(", ");
    }

    private static JsonObject Whole(string title, (string Key, JsonObject Value)[] properties, string[] required)
    {
        var whole = Map(title, required, properties);
        whole.Remove("description");
        whole.Insert(0, "$schema", Draft);
        whole.Insert(1, "title", title);
        whole["$defs"] = new JsonObject
        {
            ["phrase"] = new JsonObject
            {
                ["type"] = "string",
                ["description"] = "<measure> [at <depth>] [<statistic>] <window> <comparison> <quantity> [with chance at least <percent>]; see CONDITIONS.md",
                ["pattern"] = PhrasePattern(),
                ["examples"] = new JsonArray([.. ConditionLanguage.Measures.Select(row => (JsonNode)row.Example), "dry next 2 hours"]),
            },
            ["conditions"] = new JsonObject
            {
                ["anyOf"] = new JsonArray(
                    Reference("phrase"),
                    new JsonObject { ["type"] = "array", ["items"] = Reference("conditions") },
                    Map("all of some phrases, any of them, or none", [], ("all", Reference("conditions")), ("any", Reference("conditions")), ("none", Reference("conditions"))),
                    new JsonObject { ["type"] = "null" }),
            },
        };
        return whole;
    }

    private static JsonObject Conditions(string description)
    {
        var reference = Reference("conditions");
        reference["description"] = description;
        return reference;
    }

    private static JsonObject Reference(string name) => new() { ["$ref"] = $"#/$defs/{name}" };

    private static JsonObject Requires(string key) => new() { ["required"] = new JsonArray(key) };

    private static JsonObject Map(string description, string[] required, params (string Key, JsonObject Value)[] properties)
    {
        var map = new JsonObject
        {
            ["type"] = "object",
            ["description"] = description,
            ["additionalProperties"] = false,
            ["properties"] = new JsonObject(properties.Select(p => KeyValuePair.Create(p.Key, (JsonNode?)p.Value.DeepClone()))),
        };
        if (required.Length > 0)
            map["required"] = new JsonArray([.. required.Select(key => (JsonNode)key)]);
        return map;
    }

    private static JsonObject List(JsonObject item) => new() { ["type"] = "array", ["items"] = item };

    private static JsonObject OneOrMany(JsonObject item) =>
        new() { ["anyOf"] = new JsonArray(item.DeepClone(), List((JsonObject)item.DeepClone()), new JsonObject { ["type"] = "null" }) };

    private static JsonObject Either(params JsonNode[] ways) => new() { ["anyOf"] = new JsonArray(ways) };

    private static JsonObject Text(string description) => new() { ["type"] = new JsonArray("string", "number", "null"), ["description"] = description };

    /// <summary>A rough date; "yes" and "no" are words to some editors and truth to others.</summary>
    private static JsonObject Date(string description) => new()
    {
        ["type"] = new JsonArray("string", "number", "boolean", "null"),
        ["description"] = description,
        ["examples"] = new JsonArray("mid April", "2026-04-12", "late October last year"),
    };

    private static JsonObject Slug(string description) => new() { ["type"] = new JsonArray("string", "number"), ["description"] = $"{description}; small letters, digits and hyphens" };

    private static JsonObject Quantity(string description, params string[] examples) => new()
    {
        ["type"] = "string",
        ["description"] = $"{description}; with its unit",
        ["examples"] = new JsonArray([.. examples.Select(example => (JsonNode)example)]),
    };

    private static JsonObject Word(string description, string[] words) => new()
    {
        ["description"] = description,
        ["anyOf"] = new JsonArray(
            new JsonObject { ["enum"] = new JsonArray([.. words.Select(word => (JsonNode)word)]) },
            new JsonObject { ["type"] = "string", ["pattern"] = $"^\\s*{Words(words)}\\s*$" }),
    };

    private static JsonObject Anything(string description) => new() { ["type"] = "object", ["description"] = description };

    private static string Written(JsonObject schema) =>
        string.Create(CultureInfo.InvariantCulture, $"{schema.ToJsonString(Plainly).ReplaceLineEndings("\n")}\n");
}
