using GardenWatch.Setup;
using GardenWatch.Web;

namespace GardenWatch.Tests.Setup;

public sealed class WebPeopleTests : IDisposable
{
    private readonly TemporaryFolder _config = new();

    public WebPeopleTests() => _config.Write("page-password", PagePassword.Of("four words for pat").Written() + "\n");

    public void Dispose() => _config.Dispose();

    private SettingsOutcome Outcome(string yaml)
    {
        _config.Write("gardenwatch.yaml", yaml);
        return SettingsFile.Read(new(_config.Path), new Dictionary<string, string>());
    }

    private string Fault(string yaml) => Assert.Single(Assert.IsType<SettingsOutcome.Faulty>(Outcome(yaml)).Faults).ToString();

    [Fact]
    public void People_are_read_with_their_gardens_and_no_password_is_shown()
    {
        var read = Assert.IsType<SettingsOutcome.Read>(Outcome(
            """
            web:
              listen: "0.0.0.0:8710"
              address: https://garden.example.org
              people:
                - { name: pat, password file: page-password }
                - { name: sam, password file: page-password, gardens: [far-row] }
            """));
        Assert.Equal(["pat", "sam"], read.Settings.People.Select(person => person.Name));
        Assert.True(read.Settings.People[0].Sees("mill-bank"));
        Assert.False(read.Settings.People[1].Sees("mill-bank"));
        Assert.True(read.Settings.People[1].Sees("far-row"));
        Assert.True(read.Settings.People[0].Password.Fits("four words for pat"));
        Assert.False(read.Settings.People[0].Password.Fits("four words for sam"));
        Assert.Contains(new ShownSetting("web: people", "sam (far-row)", "gardenwatch.yaml"), read.Shown);
        Assert.DoesNotContain(read.Shown, shown => shown.Value.Contains("pbkdf2", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("web: { listen: \"0.0.0.0:8710\" }", "asks nobody for a password", "gardenwatch password page-password")]
    [InlineData("web: { listen: \"192.0.2.7:8710\" }", "asks nobody for a password", "listen: 127.0.0.1:8710")]
    [InlineData("web: { listen: \"[::]:8710\" }", "asks nobody for a password", "people:")]
    [InlineData("web: { address: https://garden.example.org }", "asks nobody for a password", "people:")]
    [InlineData("web: { people: [ { name: pat } ] }", "no password file", "name: pat, password file: page-password")]
    [InlineData("web: { people: [ { name: pat, password file: none } ] }", "cannot be read", "gardenwatch password none")]
    [InlineData("web: { people: [ { name: pat, password file: gardenwatch.yaml } ] }", "holds no password of the page", "gardenwatch password gardenwatch.yaml")]
    [InlineData("web: { people: [ { name: pat, password file: page-password, garden: far-row } ] }", "has no `garden`", "name, password file, gardens")]
    [InlineData("web: { people: [ { name: pat, password file: page-password }, { name: Pat, password file: page-password } ] }", "twice", "a name of its own")]
    [InlineData("web: { people: pat }", "lists nobody", "name: pat, password file: page-password")]
    public void What_would_leave_the_page_open_is_refused_with_what_to_write(string yaml, string problem, string remedy)
    {
        string fault = Fault(yaml);
        Assert.Contains(problem, fault, StringComparison.Ordinal);
        Assert.Contains(remedy, fault, StringComparison.Ordinal);
        Assert.Contains("gardenwatch.yaml:1:", fault, StringComparison.Ordinal);
    }

    [Fact]
    public void On_this_machine_alone_the_page_asks_for_nothing()
    {
        Assert.Empty(Assert.IsType<SettingsOutcome.Read>(Outcome("web: { listen: \"[::1]:8710\", address: \"http://localhost:8710\" }")).Settings.People);
        Assert.IsType<SettingsOutcome.Read>(Outcome("web: { listen: \"0.0.0.0:8710\", open: yes }"));
    }

    [Theory]
    [InlineData("hunter22")]
    [InlineData("pbkdf2-sha256 1 AAAAAAAAAAAAAAAAAAAAAA== AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=")]
    [InlineData("pbkdf2-sha256 600000 AAAA AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA=")]
    [InlineData("")]
    public void What_the_command_did_not_write_is_no_password(string written) => Assert.False(PagePassword.TryRead(written, out _));
}
