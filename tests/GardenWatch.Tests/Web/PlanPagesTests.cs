using System.Net;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Journals;
using GardenWatch.Setup;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Tests.Web;

/// <summary>The plan changed by forms: shown first, written into the file with all else kept, taken at a knock.</summary>
public sealed partial class PlanPagesTests
{
    private const string Garden = "/gardens/mill-bank";

    private static async Task<(HttpStatusCode Status, string Page)> Sent(HttpClient browser, string form, params (string Name, string Value)[] fields)
    {
        string token = PageBench.TokenIn(await PageBench.Read(browser, Garden + "/plan/sow"));
        using var answer = await PageBench.Send(browser, $"{Garden}/plan/{form}", [("token", token), .. fields]);
        return (answer.StatusCode, WebUtility.HtmlDecode(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)));
    }

    /// <summary>What the preview would send on, and the step that writes.</summary>
    private static (string, string)[] Confirmed(string preview) =>
        [.. Hidden().Matches(preview).Select(match => (match.Groups[1].Value, match.Groups[2].Value)).Where(field => field.Item1 != "token"), ("step", "write")];

    private static readonly (string, string)[] Lettuce = [("crop", "lettuce"), ("bed", "low bed"), ("how", "in place"), ("when", "25 April"), ("plants", "12")];

    [Fact]
    public async Task A_sowing_is_shown_line_by_line_and_only_then_written_and_taken()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string before = await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken);

        var (status, preview) = await Sent(browser, "sow", Lettuce);
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("<td>in</td><td><code>  - { crop: lettuce, bed: low bed, sown: 25 April, plants: 12 }</code>", preview, StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken));

        (status, _) = await Sent(browser, "sow", Confirmed(preview));
        Assert.Equal(HttpStatusCode.SeeOther, status);
        string after = await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken);
        Assert.Equal(before.Replace("sown: late October last year }\n", "sown: late October last year }\n  - { crop: lettuce, bed: low bed, sown: 25 April, plants: 12 }\n", StringComparison.Ordinal), after);
        Assert.Equal(before, await File.ReadAllTextAsync(bench.PlanFile + ".before", TestContext.Current.CancellationToken));
        string written = await PageBench.Read(browser, Garden + "/plan?written=yes");
        Assert.Contains("It is written into garden.yaml", written, StringComparison.Ordinal);
        Assert.Contains("The last change made here", written, StringComparison.Ordinal);

        await bench.Knock(Duration.FromMinutes(1));
        await bench.Knock(Duration.FromMinutes(2));
        Assert.Contains("lettuce-low-bed", bench.House.Round!.OnDuty.First(garden => garden.Plan.GardenId == "mill-bank").Plan.Plantings.Select(each => each.Id));
    }

    [Fact]
    public async Task What_can_t_be_read_is_told_on_the_form_which_keeps_what_was_written()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string before = await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken);
        var (status, page) = await Sent(browser, "sow", ("crop", "lettice"), ("bed", "low bed"), ("when", "4/5"), ("step", "write"), ("print", "none"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        (status, page) = await Sent(browser, "sow", ("crop", "lettice"), ("bed", "low bed"), ("when", "4/5"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("did you mean lettuce?", page, StringComparison.Ordinal);
        Assert.Contains("can mean 4 May or 5 April", page, StringComparison.Ordinal);
        Assert.Contains("value=\"lettice\"", page, StringComparison.Ordinal);
        (_, page) = await Sent(browser, "chore", ("name", "Oil <the> gate"), ("when", "air low tonight at most 3 mm"));
        Assert.Contains("°C", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<the>", await Raw(browser, "chore", ("name", "Oil <the> gate"), ("when", "nonsense")), StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken));
    }

    private static async Task<string> Raw(HttpClient browser, string form, params (string, string)[] fields)
    {
        string token = PageBench.TokenIn(await PageBench.Read(browser, Garden + "/plan/sow"));
        using var answer = await PageBench.Send(browser, $"{Garden}/plan/{form}", [("token", token), .. fields]);
        return await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task A_file_that_was_changed_by_hand_in_between_is_not_written_over()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        var (_, preview) = await Sent(browser, "new-bed", ("name", "south wall"), ("size", "1 m x 3 m"));
        await File.AppendAllTextAsync(bench.PlanFile, "\n# by hand\n", TestContext.Current.CancellationToken);
        string byHand = await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken);
        var (status, page) = await Sent(browser, "new-bed", Confirmed(preview));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("was changed since you opened the form", page, StringComparison.Ordinal);
        Assert.Equal(byHand, await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken));
    }

    [Theory]
    [InlineData("planting", "tomato-low-bed", "when=22 April;bed=kitchen bed", "bed: kitchen bed, set out: 22 April")]
    [InlineData("bed", "low-bed", "name=hollow", "bed: hollow, size: 4 ft x 8 ft, at: 6 ft x 0 ft, cover: light fleece, id: low-bed")]
    [InlineData("chore", "", "name=Feed the citrus;every=3 weeks;minutes=10;when=air high today at least 15 °C", "when:")]
    [InlineData("away", "", "from=12 July;to=26 July;sitter=robin@example.org", "{ from: 12 July, to: 26 July, sitter: robin@example.org }")]
    [InlineData("hour", "", "who=pat@example.org;at=6:45", "{ who: pat@example.org, at: \"6:45\" }")]
    public async Task Each_form_writes_what_it_says(string form, string id, string fields, string written)
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        (string, string)[] filled = [("id", id), .. fields.Split(';').Select(field => (field.Split('=')[0], field.Split('=')[1]))];
        var (status, preview) = await Sent(browser, form, filled);
        Assert.True(status == HttpStatusCode.OK, preview);
        (status, string page) = await Sent(browser, form, Confirmed(preview));
        Assert.True(status == HttpStatusCode.SeeOther, page);
        Assert.Contains(written, await File.ReadAllTextAsync(bench.PlanFile, TestContext.Current.CancellationToken), StringComparison.Ordinal);
        var jobsBefore = bench.House.Round!.OnDuty.First(garden => garden.Plan.GardenId == "mill-bank").Plan;
        await bench.Knock(Duration.FromMinutes(1));
        await bench.Knock(Duration.FromMinutes(2));
        var after = bench.House.Round!.OnDuty.First(garden => garden.Plan.GardenId == "mill-bank").Plan;
        Assert.NotSame(jobsBefore, after);
        Assert.Equal(jobsBefore.Plantings.Select(each => each.Id), after.Plantings.Select(each => each.Id));
        Assert.Equal(jobsBefore.Beds.Select(each => each.Id), after.Beds.Select(each => each.Id));
    }

    [Fact]
    public async Task A_batch_is_ended_by_an_answer_of_the_journal()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        string page = WebUtility.HtmlDecode(await PageBench.Read(browser, Garden + "/plan/planting?id=radish-kitchen-bed"));
        Assert.Contains("Radish: It is over, the bed is cleared", page, StringComparison.Ordinal);
        string job = Job().Match(page).Groups[1].Value;
        using var answer = await PageBench.Send(browser, Garden + "/answer", ("token", PageBench.TokenIn(page)), ("job", job), ("answer", "done"));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var entry = Assert.Single(bench.Store.Journal.AsOf("mill-bank", bench.Clock.GetCurrentInstant()));
        Assert.Equal((EntryKind.Done, "mill-bank/radish-kitchen-bed/clear/1"), (entry.Kind, entry.JobId));
    }

    [Fact]
    public async Task Nobody_changes_the_plan_of_a_garden_that_is_not_theirs_nor_without_the_form()
    {
        await using var bench = await PageBench.Open(
            new WebPerson("pat", PagePassword.Of("four words for pat"), ["mill-bank"]), new WebPerson("sam", PagePassword.Of("four words for sam"), ["far-row"]));
        using var sam = await bench.SignedIn("sam", "four words for sam");
        string token = PageBench.TokenIn(await PageBench.Read(sam, "/gardens/far-row/plan/new-bed"));
        using var foreign = await PageBench.Send(sam, Garden + "/plan/new-bed", ("token", token), ("name", "mine"));
        Assert.Equal(HttpStatusCode.NotFound, foreign.StatusCode);
        using var pat = await bench.SignedIn("pat", "four words for pat");
        using var withoutToken = await PageBench.Send(pat, Garden + "/plan/new-bed", ("name", "mine"));
        Assert.Equal(HttpStatusCode.Forbidden, withoutToken.StatusCode);
        await PageBench.Read(sam, Garden + "/plan", HttpStatusCode.NotFound);
    }

    [Fact]
    public async Task A_plan_with_faults_is_shown_with_them_and_not_changed()
    {
        await using var bench = await PageBench.Open();
        using var browser = bench.Browser();
        await File.AppendAllTextAsync(bench.PlanFile, "\nbedz: []\n", TestContext.Current.CancellationToken);
        Assert.Contains("is not known here", await PageBench.Read(browser, Garden + "/plan"), StringComparison.Ordinal);
        var (status, page) = await Sent(browser, "sow", Lettuce);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("is not known here", page, StringComparison.Ordinal);
    }

    [GeneratedRegex("<input type=\"hidden\" name=\"([^\"]+)\" value=\"([^\"]*)\">")]
    private static partial Regex Hidden();

    [GeneratedRegex("name=\"job\" value=\"([^\"]+)\"")]
    private static partial Regex Job();
}
