using GardenWatch.Acceptance.Trials;
using NodaTime;

namespace GardenWatch.Acceptance;

/// <summary>Plan edited while running: picked up when valid; when not, the old one stays and the digest says what is wrong and where.</summary>
public class PlanEditedTests
{
    /// <summary>Four knocks: a change is taken when it has been at rest from one to the next.</summary>
    private static readonly Duration BeforeTheDigest = Duration.FromSeconds(60);

    [Fact]
    public async Task A_valid_edit_is_taken_while_the_service_runs()
    {
        await using var house = await TrialHouse.Open();
        await using var service = house.Run(TrialHouse.Morning(12) - BeforeTheDigest);
        await service.Knocked();

        await File.WriteAllTextAsync(house.PlanFile, TrialPlan.For("lee@example.org", "sam@example.org"), TestContext.Current.CancellationToken);

        Assert.Equal(["lee@example.org", "sam@example.org"], (await house.MailsCome(2)).SelectMany(mail => mail.To).Order());
        Assert.Equal(0, (await service.Stop()).Code);
        Assert.Equal(2, house.Mail.Kept.Count);
    }

    [Fact]
    public async Task A_broken_edit_changes_nothing_and_the_digest_says_where_it_is_broken()
    {
        await using var house = await TrialHouse.Open();
        await using var service = house.Run(TrialHouse.Morning(12) - BeforeTheDigest);
        await service.Knocked();

        string broken = TrialPlan.For("lee@example.org").Replace("crop: radish", "crop: radisch", StringComparison.Ordinal);
        await File.WriteAllTextAsync(house.PlanFile, broken, TestContext.Current.CancellationToken);

        var mail = Assert.Single(await house.MailsCome(1));
        Assert.Equal("pat@example.org", Assert.Single(mail.To));
        Assert.Contains(Place(broken, "radisch"), mail.Words(), StringComparison.Ordinal);
        Assert.Contains("the one of before is in force", mail.Words(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("half-saved")]
    [InlineData("tab")]
    [InlineData("unknown crop")]
    [InlineData("empty")]
    [InlineData("gone")]
    [InlineData("no text")]
    public async Task After_a_restart_with_a_broken_file_the_plan_of_before_is_still_in_force(string fault)
    {
        await using var house = await TrialHouse.Open();
        await house.Live(TrialHouse.Morning(12), mails: 1);
        Break(house.PlanFile, fault);
        if (fault == "gone")
        {
            // Without any plan file the service does not start, and says so.
            await using var service = house.Run(TrialHouse.Morning(13));
            var ended = await service.End();
            Assert.Equal(2, ended.Code);
            Assert.Contains("There is no plan in", ended.WithoutStackTrace().All, StringComparison.Ordinal);
            return;
        }

        string said = await house.Live(TrialHouse.Morning(13), mails: 1);

        Assert.Contains("the plan of before stays in force", said, StringComparison.Ordinal);
        Assert.Equal("pat@example.org", Assert.Single(house.Mail.Kept[1].To));
        Assert.Matches(@"garden\.yaml:\d+:\d+", house.Mail.Kept[1].Words());

        await File.WriteAllTextAsync(house.PlanFile, TrialPlan.For("pat@example.org"), TestContext.Current.CancellationToken);
        await house.Live(TrialHouse.Morning(14), mails: 1);
        Assert.DoesNotContain("the one of before is in force", house.Mail.Kept[2].Words(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task One_broken_plan_does_not_cost_another_garden_its_digest()
    {
        await using var house = await TrialHouse.Open();
        Directory.CreateDirectory(Path.Combine(house.Folder, "gardens"));
        await File.WriteAllTextAsync(Path.Combine(house.Folder, "gardens", "other.yaml"), "garden: [", TestContext.Current.CancellationToken);

        string said = await house.Live(TrialHouse.Morning(12), mails: 1);

        Assert.Contains("other.yaml cannot be used, and there is no plan of before", said, StringComparison.Ordinal);
    }

    private static void Break(string file, string fault)
    {
        string plan = File.ReadAllText(file);
        switch (fault)
        {
            case "half-saved":
                File.WriteAllText(file, plan[..plan.IndexOf("winter squash", StringComparison.Ordinal)]);
                break;
            case "tab":
                File.WriteAllText(file, plan.Replace("  - { bed: low", "\t- { bed: low", StringComparison.Ordinal));
                break;
            case "unknown crop":
                File.WriteAllText(file, plan.Replace("crop: tomato", "crop: tomahto", StringComparison.Ordinal));
                break;
            case "empty":
                File.WriteAllText(file, "");
                break;
            case "no text":
                File.WriteAllBytes(file, [0, 255, 254, 7, 0, 1, 2, 3]);
                break;
            default:
                File.Delete(file);
                break;
        }
    }

    /// <summary>"garden.yaml:12:11", where a word of the text stands.</summary>
    private static string Place(string text, string word)
    {
        string[] lines = text.Split('\n');
        int line = Array.FindIndex(lines, each => each.Contains(word, StringComparison.Ordinal));
        return $"garden.yaml:{line + 1}:{lines[line].IndexOf(word, StringComparison.Ordinal) + 1}";
    }
}
