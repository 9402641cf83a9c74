using System.Text.Json;
using GardenWatch.Acceptance.Trials;

namespace GardenWatch.Acceptance;

/// <summary>The commands as someone meets them who has only the program and its help.</summary>
public class CommandsTests
{
    private static readonly string[] Commands = ["new", "check", "today", "run", "done", "skip", "later", "note", "reading", "picked", "undo", "journal", "send-test", "status", "backup", "restore", "demo"];

    [Fact]
    public async Task Help_lists_every_command_and_each_has_help_with_an_example()
    {
        string folder = Path.GetTempPath();
        var help = await TheProgram.Run(folder, "--help");
        Assert.Equal(0, help.Code);
        foreach (string command in Commands)
        {
            Assert.Contains($"  {command}", help.Out, StringComparison.Ordinal);
            var own = await TheProgram.Run(folder, command, "--help");
            Assert.Equal(0, own.Code);
            Assert.Contains($"Example: gardenwatch {command}", own.Out, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("dig")]
    [InlineData("today --as-of yesterdayish")]
    [InlineData("today --colour")]
    [InlineData("done")]
    [InlineData("restore")]
    public async Task A_wrong_word_ends_with_two_and_a_sentence(string line)
    {
        var ended = await TheProgram.Run(Path.GetTempPath(), line.Split(' '));

        Assert.Equal(2, ended.Code);
        Assert.NotEqual("", ended.WithoutStackTrace().Errors.Trim());
    }

    [Fact]
    public async Task Run_without_any_way_out_says_which_there_are()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "gardenwatch.yaml"), "evening look: 17:00\n", TestContext.Current.CancellationToken);

        var ended = await TheProgram.Run(folder.Path, "run", "--config", folder.Path, "--data", folder.Path);

        Assert.Equal(2, ended.WithoutStackTrace().Code);
        Assert.Contains("gardenwatch.yaml names no mail server, so there is no way out for a digest. Add `mail:", ended.Errors, StringComparison.Ordinal);
        Assert.Contains("or one of `push:`, `webhook:` and `home hub:`.", ended.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_samples_are_sound()
    {
        string? samples = Above("config-samples");
        Assert.SkipWhen(samples is null, "The samples lie beside the source.");
        using var data = new TemporaryFolder();

        var check = await TheProgram.Run(data.Path, "check", "--config", samples!, "--data", data.Path);

        Assert.Equal(0, check.Code);
        Assert.Contains("Hazel Bank", check.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_broken_plan_is_told_whole_with_every_place()
    {
        using var folder = new TemporaryFolder();
        await File.WriteAllTextAsync(Path.Combine(folder.Path, "garden.yaml"), """
            garden: Mill Bank
            id: mill-bank
            place: { latitude: 152.5, longitude: 9.5, zone: Europe/Berlin }
            digest: { at: "25:00", to: [pat] }
            beds:
              - { bed: long bed, size: 1.2 m by a bit }
            plantings:
              - { crop: radisch, bed: long bed }
              - { crop: radish, bed: lang bed }
            chores:
              - chore: Spread
                when:
                  - rain total next 24 hours at least 6 °C
            """, TestContext.Current.CancellationToken);

        var check = await TheProgram.Run(folder.Path, "check", "--config", folder.Path, "--data", folder.Path);

        Assert.Equal(1, check.WithoutStackTrace().Code);
        foreach (int line in (int[])[3, 4, 6, 8, 9, 13])
            Assert.Matches($@"(?m)^garden\.yaml:{line}:\d+: ", check.Out);
        Assert.Contains("radish", check.Out, StringComparison.Ordinal);
        Assert.Contains("long bed", check.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hostile_files_are_refused_in_sentences()
    {
        using var folder = new TemporaryFolder();
        string plan = Path.Combine(folder.Path, "garden.yaml");
        string bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n" + string.Concat(Enumerable.Range(1, 12).Select(
            i => $"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 9))}]\n"));
        foreach (string text in (string[])[bomb, new string('[', 50_000), "garden: !!exec x", "\0\u0001", "- just\n- a list", "garden: &a [*a]"])
        {
            await File.WriteAllTextAsync(plan, text, TestContext.Current.CancellationToken);
            var check = await TheProgram.Run(folder.Path, "check", "--config", folder.Path, "--data", folder.Path);
            Assert.Equal(1, check.WithoutStackTrace().Code);
            Assert.Contains("garden.yaml:", check.Out, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Today_as_json_has_every_field_that_is_promised()
    {
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty);

        var today = await house.Command(TrialHouse.Morning(12), "today", "--json");

        Assert.Equal(0, today.Code);
        using var json = JsonDocument.Parse(today.Out);
        var root = json.RootElement;
        Assert.Equal(1, root.GetProperty("version").GetInt32());
        Has(root, "garden", "date", "timeZone", "asOf", "weather", "jobs", "week", "sowings", "beds", "notes");
        Has(root.GetProperty("garden"), "id", "name");
        Has(root.GetProperty("weather"), "fetchedAt", "ageHours", "state");
        Assert.Equal("fresh", root.GetProperty("weather").GetProperty("state").GetString());
        foreach (var job in Some(root, "jobs"))
        {
            Has(job, "id", "number", "rank", "name", "kind", "crop", "bed", "sowing", "standing", "minutes", "windows", "best",
                "actBy", "undoAt", "chance", "reasons", "cautions", "needs");
            foreach (var reason in job.GetProperty("reasons").EnumerateArray())
                Has(reason, "code", "values", "text");
            foreach (var need in job.GetProperty("needs").EnumerateArray())
                Has(need, "condition", "holds", "value", "unit", "margin", "chance", "likely");
        }
        Assert.Contains(Some(root, "jobs"), job => job.GetProperty("kind").GetString() == "cover");
        Assert.Equal(7, Some(root, "week").Count);
        Assert.All(Some(root, "week"), day => Has(day, "date", "lowC", "highC", "leafLowC", "rainMm", "rainChance", "frostChance"));
        foreach (var sowing in Some(root, "sowings"))
        {
            Has(sowing, "id", "crop", "variety", "bed", "stage", "warmth", "next", "harvest");
            Has(sowing.GetProperty("warmth"), "gatheredCd", "neededCd");
            Has(sowing.GetProperty("next"), "stage", "from", "until");
        }
        Assert.All(Some(root, "beds"), bed => Has(bed, "id", "name", "soilC", "soilDepthCm", "waterDeficitMm", "waterToGiveL"));
    }

    [Fact]
    public async Task Today_sends_nothing_and_can_be_asked_again()
    {
        await using var house = await TrialHouse.Open();

        var first = await house.Command(TrialHouse.Morning(12), "today");
        int calls = house.Weather.Calls.Count;
        var second = await house.Command(TrialHouse.Morning(12, minutesAfter: 1), "today");

        Assert.Equal(0, first.Code);
        Assert.Contains("TODAY SUITS", first.Out, StringComparison.Ordinal);
        Assert.Equal(JobLines(first), JobLines(second));
        // What is stored is younger than the pull interval.
        Assert.Equal(calls, house.Weather.Calls.Count);
        Assert.Empty(house.Mail.Kept);
        Assert.Equal(0, house.Records.Count("outbox"));
    }

    [Theory]
    [InlineData("today")]
    [InlineData("run")]
    public async Task An_hour_that_the_clocks_left_out_is_no_time(string command)
    {
        await using var house = await TrialHouse.Open();

        var ended = await TheProgram.Run(house.Folder, command, "--config", house.Folder, "--as-of", "2026-03-29 02:30");

        Assert.Equal(2, ended.WithoutStackTrace().Code);
        Assert.Contains("that hour was left out in Europe/Berlin when the clocks went forward", ended.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_local_time_for_run_is_the_gardens_own()
    {
        await using var house = await TrialHouse.Open();
        house.Weather.Now = TrialHouse.Morning(12);
        await using var service = new RunningService(
            TheProgram.Start(house.Folder, new Dictionary<string, string>(), "run", "--config", house.Folder, "--as-of", "2026-05-12 06:00"), house.Port);

        var mail = (await house.MailsCome(1))[0];

        using var message = mail.Parsed();
        Assert.Equal(TrialHouse.Morning(12).ToDateTimeOffset().ToString("yyyy-MM-dd HH", null), message.Date.ToUniversalTime().ToString("yyyy-MM-dd HH", null));
    }

    [Fact]
    public async Task Answers_change_what_is_asked_next()
    {
        await using var house = await TrialHouse.Open(weather: TrialWeather.Frosty);
        await house.Live(TrialHouse.Morning(12), mails: 1);
        var before = await Jobs(house, minutes: 2);
        var numbers = before.Where(job => job.Number is not null).OrderBy(job => job.Number).ToList();
        Assert.True(numbers.Count >= 3, "The morning has too few jobs to try the answers on.");

        Assert.Equal(0, (await house.Command(TrialHouse.Morning(12, 3), "done", "1")).Code);
        Assert.Equal(0, (await house.Command(TrialHouse.Morning(12, 3), "later", "2", "3", "days")).Code);
        Assert.Equal(0, (await house.Command(TrialHouse.Morning(12, 3), "skip", "3")).Code);

        var after = await Jobs(house, minutes: 4);
        foreach (var answered in numbers.Take(3))
            Assert.DoesNotContain(after, job => job.Id == answered.Id && job.Standing is "now" or "soon");
        Assert.Equal(3, house.Records.Count("journal"));

        var none = await house.Command(TrialHouse.Morning(12, 5), "done", "77");
        Assert.Equal(2, none.WithoutStackTrace().Code);
        Assert.Contains("There is no job 77 in the last message", none.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_renamed_bed_keeps_its_history()
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        var sow = (await Jobs(house, 2)).Single(job => job.Name.StartsWith("Sow radish", StringComparison.Ordinal));
        Assert.Equal(0, (await house.Command(TrialHouse.Morning(12, 3), "done", sow.Id)).Code);
        var done = await Jobs(house, 4);
        Assert.DoesNotContain(done, job => job.Id == sow.Id);

        string plan = await File.ReadAllTextAsync(house.PlanFile, TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(house.PlanFile, plan.Replace("long bed", "kitchen bed", StringComparison.Ordinal), TestContext.Current.CancellationToken);

        var renamed = await Jobs(house, 5);
        Assert.Contains(renamed, job => job.Bed == "kitchen bed");
        Assert.Equal(done.Select(job => job.Id), renamed.Select(job => job.Id));
    }

    [Fact]
    public async Task The_demo_writes_the_mails_it_names()
    {
        using var folder = new TemporaryFolder();
        long started = TimeProvider.System.GetTimestamp();

        var demo = await TheProgram.Run(folder.Path, "demo", "--data", folder.Path);

        TestContext.Current.TestOutputHelper?.WriteLine($"demo: {TimeProvider.System.GetElapsedTime(started).TotalSeconds:0.00} s");
        Assert.Equal(0, demo.Code);
        var named = demo.Out.Split('\n').Select(line => line.Trim()).Where(line => line.EndsWith(".eml", StringComparison.Ordinal)).ToList();
        Assert.Equal(5, named.Count);
        foreach (string file in named)
        {
            using var mail = await MimeKit.MimeMessage.LoadAsync(file, TestContext.Current.CancellationToken);
            Assert.NotNull(mail.HtmlBody);
            Assert.InRange(new FileInfo(file).Length, 1000, 100_000);
        }
    }

    private static List<string> JobLines(Ended today) => [.. today.Out.Split('\n').Where(line => line.Length > 3 && char.IsDigit(line[2]))];

    private sealed record OpenJob(string Id, int? Number, string Name, string? Bed, string Standing);

    private static async Task<List<OpenJob>> Jobs(TrialHouse house, int minutes)
    {
        var today = await house.Command(TrialHouse.Morning(12, minutes), "today", "--json");
        Assert.Equal(0, today.Code);
        using var json = JsonDocument.Parse(today.Out);
        return [.. json.RootElement.GetProperty("jobs").EnumerateArray().Select(job => new OpenJob(
            job.GetProperty("id").GetString()!, job.GetProperty("number") is { ValueKind: JsonValueKind.Number } number ? number.GetInt32() : null,
            job.GetProperty("name").GetString()!, job.GetProperty("bed").GetString(), job.GetProperty("standing").GetString()!))];
    }

    private static List<JsonElement> Some(JsonElement root, string name)
    {
        var items = root.GetProperty(name).EnumerateArray().ToList();
        Assert.NotEmpty(items);
        return items;
    }

    private static void Has(JsonElement element, params string[] names)
    {
        foreach (string name in names)
            Assert.True(element.TryGetProperty(name, out _), $"\"{name}\" is missing in {element}");
    }

    private static string? Above(string name)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (Directory.Exists(Path.Combine(folder.FullName, name)))
                return Path.Combine(folder.FullName, name);
        return null;
    }
}
