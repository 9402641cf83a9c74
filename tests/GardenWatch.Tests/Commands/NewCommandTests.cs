using System.Globalization;
using System.Text.Json.Nodes;
using GardenWatch.Commands;
using GardenWatch.Peers.OpenMeteo;
using GardenWatch.Planning.Plans;
using GardenWatch.Setup;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;
using NodaTime.Testing;

namespace GardenWatch.Tests.Commands;

/// <summary>`new` as a new gardener answers it, line by line, against a weather service of this machine.</summary>
[Collection(nameof(OneTerminal))]
public sealed class NewCommandTests : IAsyncLifetime
{
    private const string Secret = "four words nobody guesses";

    private static readonly Instant Now = Instant.FromUtc(2026, 4, 20, 9, 0);

    private static readonly string[] Torontos =
    [
        """{"id":1,"name":"Newfield","latitude":43.70643,"longitude":-79.39864,"elevation":161.0,"country_code":"CA","timezone":"America/Toronto","population":2794356,"country":"Canada","admin1":"Ontario"}""",
        """{"id":2,"name":"Newfield","latitude":40.46423,"longitude":-80.60091,"elevation":214.0,"country_code":"US","timezone":"America/New_York","population":4882,"country":"United States","admin1":"Ohio"}""",
    ];

    private readonly TemporaryFolder _folder = new();
    private WeatherStandIn _service = null!;

    private string Garden => Path.Combine(_folder.Path, "garden");

    public async ValueTask InitializeAsync()
    {
        _service = await WeatherStandIn.Start(Mild, Now, TestContext.Current.CancellationToken);
        _service.Towns = Torontos;
        Settings();
    }

    public async ValueTask DisposeAsync()
    {
        await _service.DisposeAsync();
        _folder.Dispose();
    }

    private static double? Mild(Instant at, string variable) => variable switch
    {
        "temperature_2m" or "soil_temperature_6cm" or "soil_temperature_18cm" => 12,
        "relative_humidity_2m" => 70,
        "dew_point_2m" => 7,
        _ => 0,
    };

    private void Settings()
    {
        Directory.CreateDirectory(Garden);
        File.WriteAllText(Path.Combine(Garden, "gardenwatch.yaml"), $$"""
            data: records
            weather: { geocoding: {{_service.Geocoding}}, forecast: {{_service.Forecast}}, elevation: {{_service.Elevation}}, ensemble: {{_service.Ensemble}}, archive: {{_service.Archive}}, ensemble calls per day: 0 }

            """);
    }

    private static readonly NewOptions Nothing = new(null, null, null, null, null, null, null, null, null, false);

    private async Task<(int Code, string Out, string Errors)> Run(NewOptions options, params string[] lines)
    {
        var (usual, usualErrors) = (Console.Out, Console.Error);
        using var told = new StringWriter();
        using var errors = new StringWriter();
        using var answers = new StringReader(string.Join('\n', lines) + (lines.Length > 0 ? "\n" : ""));
        try
        {
            Console.SetOut(told);
            Console.SetError(errors);
            int code = await NewCommand.Run(
                new(new FakeClock(Now), Garden, null, null, Json: false), options, new(answers, told, options.Yes, _ => answers.ReadLine()),
                ServiceLine.Handler(), TestContext.Current.CancellationToken);
            return (code, told.ToString().Replace('\u00A0', ' '), errors.ToString());
        }
        finally
        {
            Console.SetOut(usual);
            Console.SetError(usualErrors);
        }
    }

    private string Read(string name) => File.ReadAllText(Path.Combine(Garden, name));

    private Plan Sound()
    {
        var household = Household.Open(Garden, null, out var faults);
        Assert.Empty(faults);
        var file = Assert.Single(GardenFile.ReadAll(household!.Folder, household.Crops, null, Now, household.Settings.ChannelsSetUp));
        Assert.Empty(file.Faults);
        Assert.Empty(file.Remarks);
        return file.Plan!;
    }

    [Fact]
    public async Task Five_answers_write_a_plan_that_check_finds_nothing_in_and_the_first_digest_is_shown()
    {
        var (code, told, errors) = await Run(Nothing,
            "Newfield", "2", "", "two 4x8, a row of pots", "tomatoes, garlic growing, radishes every 10 days", "terminal", "yes");

        Assert.Equal("", errors);
        Assert.Equal(0, code);
        Assert.Contains("Newfield, Ontario, Canada, 2,794,356 people", told, StringComparison.Ordinal);
        Assert.Contains("2. Units, metric or us [us]:", told, StringComparison.Ordinal);
        Assert.Contains("Garlic in ", told, StringComparison.Ordinal);
        Assert.Contains($"Written: {Path.Combine(Garden, "garden.yaml")}.", told, StringComparison.Ordinal);
        Assert.Contains("Home garden, Monday 20 April.", told, StringComparison.Ordinal);
        var plan = Sound();
        Assert.Equal(("America/New_York", 214.0), (plan.Place.ZoneId, plan.Place.ElevationMetres!.Value));
        Assert.Equal(3, plan.Plantings.Length);
        Assert.Empty(plan.Digest.To);
    }

    [Fact]
    public async Task Enter_takes_what_is_usual_and_a_question_mark_explains()
    {
        var (code, told, _) = await Run(Nothing, "?", "Newfield, ontario", "", "", "?", "", "", "no");

        Assert.Equal(0, code);
        Assert.Contains("latitude and longitude do, too", told.Replace("\n  ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Contains("Crops with commas between them", told, StringComparison.Ordinal);
        Assert.Equal(5, Sound().Plantings.Length);
        Assert.DoesNotContain("Which one", told, StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_password_is_in_a_file_that_only_its_owner_reads_and_nowhere_else()
    {
        var (code, told, errors) = await Run(Nothing,
            "Newfield", "1", "metric", "3", "kale growing", "pat@example.org", "127.0.0.1:1", "garden@example.org", Secret, "no", "no");

        Assert.Equal("", errors);
        Assert.Equal(0, code);
        string file = Path.Combine(Garden, "mail-password");
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(file));
        Assert.Equal(Secret, (await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken)).TrimEnd());
        foreach (string other in Directory.EnumerateFiles(Garden, "*", SearchOption.AllDirectories).Where(path => path != file))
            Assert.DoesNotContain(Secret, await File.ReadAllTextAsync(other, TestContext.Current.CancellationToken), StringComparison.Ordinal);
        Assert.DoesNotContain(Secret, told, StringComparison.Ordinal);
        var mail = Household.Open(Garden, null, out _)!.Settings.Mail!;
        Assert.Equal(("127.0.0.1", 1, "garden@example.org", Secret, "garden@example.org"), (mail.Host, mail.Port, mail.User, mail.Password, mail.From));
        Assert.Equal("pat@example.org", Assert.Single(Sound().Digest.To).Address);
        Assert.StartsWith("data: records\nweather: {", Read("gardenwatch.yaml"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_push_is_set_up_with_its_token_apart()
    {
        const string Token = "tk-four-words";
        var (code, told, _) = await Run(Nothing, "Newfield", "1", "", "1", "kale growing", "https://push.example.org/garden-4f1c9", Token, "no", "no");

        Assert.Equal(0, code);
        Assert.DoesNotContain("nothing can be sent", told, StringComparison.Ordinal);
        var settings = Household.Open(Garden, null, out _)!.Settings;
        Assert.Equal((new("https://push.example.org/garden-4f1c9"), Token), (settings.Push!.Address, settings.Push.Token));
        Assert.Equal("push", Assert.Single(Sound().Digest.To).Address);
        Assert.DoesNotContain(Token, Read("gardenwatch.yaml"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_test_message_that_fails_names_the_remedy_and_the_plan_stays()
    {
        var (code, _, errors) = await Run(Nothing, "Newfield", "1", "", "1", "kale growing", "pat@example.org", "127.0.0.1:1", "-", "yes", "no");

        Assert.Equal(3, code);
        Assert.Contains("The mail for pat@example.org was not taken.", errors, StringComparison.Ordinal);
        Assert.Single(Sound().Plantings);
    }

    [Fact]
    public async Task Without_the_service_latitude_longitude_and_zone_are_taken_by_hand()
    {
        _service.Always = new StandInFault.BadRequest("nothing today");
        var (code, told, _) = await Run(Nothing, "Newfield", "48.1, 11.5", "Europe/Berlin", "", "1", "kale", "", "no");

        Assert.Equal(0, code);
        Assert.Contains("Latitude and longitude do as well", told, StringComparison.Ordinal);
        var place = Sound().Place;
        Assert.Equal((null, 48.1, 11.5, null, "Europe/Berlin"), (place.Town, place.LatitudeDegrees!.Value, place.LongitudeDegrees!.Value, place.ElevationMetres, place.ZoneId));
    }

    [Fact]
    public async Task With_the_service_latitude_and_longitude_bring_height_and_zone()
    {
        _service.ZoneName = "Australia/Adelaide";
        _service.ElevationMetres = 50;
        var (code, _, _) = await Run(Nothing, "34.9 S, 138.6 E", "", "1", "kale", "", "no");

        Assert.Equal(0, code);
        var place = Sound().Place;
        Assert.Equal((-34.9, 50.0, "Australia/Adelaide"), (place.LatitudeDegrees!.Value, place.ElevationMetres!.Value, place.ZoneId));
    }

    [Fact]
    public async Task What_is_not_understood_is_asked_again_and_never_dropped()
    {
        var (code, told, _) = await Run(Nothing,
            "11", "Newfield", "7", "1", "kelvin", "", "900 x 900 m", "2", "radishs, kale, dahlias xyz, letuce", "", "-", "lettuce growing", "pat", "terminal", "no");

        Assert.Equal(0, code);
        Assert.Contains("did you mean `radish`?", told, StringComparison.Ordinal);
        Assert.Equal(["kale", "radish", "lettuce"], Sound().Plantings.Select(planting => planting.Crop.Name));
        Assert.Equal(Origin.Growing, Sound().Plantings[^1].Origin);
        Assert.Contains("# Left out, since no crop of that name is known: dahlias xyz.", Read("garden.yaml"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(6)]
    [InlineData(8)]
    public async Task Whoever_stops_before_the_end_has_written_nothing(int answers)
    {
        string[] all = ["Newfield", "1", "", "1", "kale", "pat@example.org", "127.0.0.1:1", "garden"];
        string before = Read("gardenwatch.yaml");
        var (code, _, errors) = await Run(Nothing, all[..answers]);

        Assert.Equal(2, code);
        Assert.Contains("nothing was written", errors, StringComparison.Ordinal);
        Assert.Equal([Path.Combine(Garden, "gardenwatch.yaml")], Directory.EnumerateFileSystemEntries(Garden));
        Assert.Equal(before, Read("gardenwatch.yaml"));
    }

    [Fact]
    public async Task Called_off_while_it_asks_it_ends_at_once_and_has_written_nothing()
    {
        using var off = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        using var told = new StringWriter();
        var asked = new TaskCompletionSource();
        using var never = new NeverRead(asked);
        var running = NewCommand.Run(
            new(new FakeClock(Now), Garden, null, null, Json: false), Nothing, new(never, told, takesUsual: false, _ => null), ServiceLine.Handler(), off.Token);
        await asked.Task;
        await off.CancelAsync();

        Assert.Equal(1, await running);
        never.Release();
        Assert.Equal([Path.Combine(Garden, "gardenwatch.yaml")], Directory.EnumerateFileSystemEntries(Garden));
    }

    [Fact]
    public async Task A_plan_that_is_there_stays_untouched_and_another_may_stand_beside_it()
    {
        string plan = Path.Combine(Garden, "garden.yaml");
        const string Mine = "garden: Mine\nid: mine\nplace: { town: Newfield, latitude: 43.7, longitude: -79.4 }\nunits: us\ndigest: { to: [] }\nbeds: [ { bed: one } ]\n";
        await File.WriteAllTextAsync(plan, Mine, TestContext.Current.CancellationToken);
        var options = Nothing with { Town = "Newfield, Ohio", Beds = "1", Crops = "kale", To = "terminal", Yes = true };

        var (code, _, errors) = await Run(options);
        Assert.Equal(2, code);
        Assert.Contains($"There is a plan already, {plan}; it stays as it is.", errors, StringComparison.Ordinal);
        Assert.Contains("gardenwatch new --name \"Far Row\"", errors, StringComparison.Ordinal);

        Assert.Equal(2, (await Run(options with { Name = "Mine" })).Code);
        Assert.Equal(0, (await Run(options with { Name = "Far Row" })).Code);
        Assert.Equal(Mine, await File.ReadAllTextAsync(plan, TestContext.Current.CancellationToken));
        Assert.Contains("id: far-row", Read("gardens/far-row.yaml"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_script_gives_all_answers_as_options_and_is_asked_nothing()
    {
        string secret = Path.Combine(_folder.Path, "handed-over");
        await File.WriteAllTextAsync(secret, Secret + "\n", TestContext.Current.CancellationToken);
        var all = new NewOptions("Newfield, Ohio", "metric", "two 1.2 x 3 m", "kale growing", "pat@example.org", "127.0.0.1:1", "garden", secret, "Mill Bank", true);

        Assert.Equal(2, (await Run(all with { Crops = "radishs" })).Code);
        Assert.Equal(2, (await Run(all with { SecretFile = null })).Code);
        Assert.False(File.Exists(Path.Combine(Garden, "garden.yaml")));
        Assert.Equal(0, (await Run(all)).Code);
        Assert.Equal("mill-bank", Sound().GardenId);
        Assert.Equal(Secret, Household.Open(Garden, null, out _)!.Settings.Mail!.Password);
    }

    [Fact]
    public async Task Without_the_service_a_script_is_told_by_the_exit_code()
    {
        _service.Always = new StandInFault.TooMany(StandInFault.TooMany.Hourly);
        Assert.Equal(3, (await Run(Nothing with { Town = "Newfield", Yes = true })).Code);
    }

    [Fact]
    public async Task A_secret_that_lies_there_is_left_alone()
    {
        await File.WriteAllTextAsync(Path.Combine(Garden, "mail-password"), "another's", TestContext.Current.CancellationToken);
        Assert.Equal(0, (await Run(Nothing, "Newfield", "1", "", "1", "kale", "pat@example.org", "127.0.0.1:1", "garden", Secret, "no", "no")).Code);
        Assert.Equal("another's", Read("mail-password"));
        Assert.Equal(Secret, Household.Open(Garden, null, out _)!.Settings.Mail!.Password);
    }

    [Fact]
    public async Task Settings_that_take_no_more_lines_stay_as_they_are()
    {
        string flow = $"{{ data: records, weather: {{ geocoding: {_service.Geocoding} }} }}\n";
        await File.WriteAllTextAsync(Path.Combine(Garden, "gardenwatch.yaml"), flow, TestContext.Current.CancellationToken);
        var (code, _, errors) = await Run(Nothing, "48.1, 11.5", "Europe/Berlin", "", "1", "kale", "pat@example.org", "127.0.0.1:1", "garden", Secret);

        Assert.Equal(2, code);
        Assert.Contains("could not be written", errors, StringComparison.Ordinal);
        Assert.Equal(flow, Read("gardenwatch.yaml"));
        Assert.Equal([Path.Combine(Garden, "gardenwatch.yaml")], Directory.EnumerateFileSystemEntries(Garden));
    }

    [Fact]
    public async Task Recorded_answers_of_the_service_are_understood()
    {
        string? data = Environment.GetEnvironmentVariable("GARDENWATCH_TEST_DATA");
        string recorded = Path.Combine(data ?? "", "open-meteo", "fixtures", "geocoding-search-toronto.json");
        Assert.SkipUnless(data is not null && File.Exists(recorded), "GARDENWATCH_TEST_DATA names no folder with recorded answers.");
        var towns = JsonNode.Parse(await File.ReadAllTextAsync(recorded, TestContext.Current.CancellationToken))!["results"]!.AsArray();
        _service.Towns = [.. towns.Select(town => town!.ToJsonString())];
        var (code, told, _) = await Run(Nothing, "Toronto", string.Create(CultureInfo.InvariantCulture, $"{towns.Count}"), "", "1", "kale", "", "no");

        Assert.Equal(0, code);
        Assert.Contains("Toronto, South Dakota, United States, 210 people", told, StringComparison.Ordinal);
        Assert.Equal("America/Chicago", Sound().Place.ZoneId);
    }

    /// <summary>A terminal at which nobody types.</summary>
    private sealed class NeverRead(TaskCompletionSource asked) : TextReader
    {
        private readonly ManualResetEventSlim _released = new();

        public void Release() => _released.Set();

        public override string? ReadLine()
        {
            asked.TrySetResult();
            _released.Wait(TestContext.Current.CancellationToken);
            return null;
        }

        protected override void Dispose(bool disposing)
        {
            _released.Set();
            base.Dispose(disposing);
        }
    }
}
