using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Tests.FirstPlans;

/// <summary>The first, second and fifth answer: where, in which units, to whom.</summary>
public sealed class PlaceSaidTests
{
    [Theory]
    [InlineData("48.1, 11.5", 48.1, 11.5)]
    [InlineData("48.1,11.5", 48.1, 11.5)]
    [InlineData("48.1 11.5", 48.1, 11.5)]
    [InlineData("48,1, 11,5", 48.1, 11.5)]
    [InlineData("48,1 11,5", 48.1, 11.5)]
    [InlineData("48,1; 11,5", 48.1, 11.5)]
    [InlineData("-33.87, 151.2", -33.87, 151.2)]
    [InlineData("33.87 S, 151.2 E", -33.87, 151.2)]
    [InlineData("38.03N 84.5W", 38.03, -84.5)]
    [InlineData("N 38.03 W 84.5", 38.03, -84.5)]
    [InlineData("84.5W 38.03N", 38.03, -84.5)]
    [InlineData("48° 8' N, 11° 34' E", 48.1333, 11.5667)]
    [InlineData("48°08′12″N 11°34′30″E", 48.1367, 11.575)]
    [InlineData("lat 48.1, lon 11.5", 48.1, 11.5)]
    [InlineData("latitude: 48.1, longitude: 11.5", 48.1, 11.5)]
    [InlineData("0, 0", 0, 0)]
    [InlineData("−33,9 ; 18,4", -33.9, 18.4)]
    public void Latitude_and_longitude_are_read_as_people_copy_them(string text, double latitude, double longitude)
    {
        var position = Assert.IsType<PlaceSaid.Position>(PlaceSaid.Read(text));
        Assert.Equal(latitude, position.LatitudeDegrees, 4);
        Assert.Equal(longitude, position.LongitudeDegrees, 4);
    }

    [Theory]
    [InlineData("Toronto", "Toronto", null)]
    [InlineData("  Toronto,  Ohio ", "Toronto", "Ohio")]
    [InlineData("Toronto (Ohio)", "Toronto", "Ohio")]
    [InlineData("St. Anne's", "St. Anne's", null)]
    [InlineData("東京", "東京", null)]
    [InlineData("Frankfurt, Hessen, Germany", "Frankfurt", "Hessen")]
    public void Anything_else_with_letters_is_a_town(string text, string name, string? within)
    {
        Assert.Equal(new PlaceSaid.Town(name, within), PlaceSaid.Read(text));
    }

    [Theory]
    [InlineData("", "no place is said")]
    [InlineData("11.5", "no town")]
    [InlineData("151.2, -33.9", "`-33.9, 151.2`, if they were turned round")]
    [InlineData("91 N, 200 E", "nowhere on the earth")]
    [InlineData("48 N, 11 N", "not one latitude and one longitude")]
    [InlineData("X", "no name of a town")]
    public void What_is_no_place_is_told_with_what_to_write(string text, string told)
    {
        var fault = Assert.IsType<PlaceSaid.Fault>(PlaceSaid.Read(text));
        Assert.Contains(told, $"{fault.Problem}; {fault.Instead}", StringComparison.Ordinal);
    }

    [Fact]
    public void What_was_said_beside_a_town_chooses_among_namesakes()
    {
        var town = new PlaceSaid.Town("Toronto", "ohio");
        Assert.True(town.IsWithin("Ohio", "United States", "US"));
        Assert.False(town.IsWithin("Ontario", "Canada", "CA"));
        Assert.True(new PlaceSaid.Town("Toronto", "CA").IsWithin("Ontario", "Canada", "CA"));
        Assert.True(new PlaceSaid.Town("Toronto", null).IsWithin(null, null, null));
    }

    [Theory]
    [InlineData("US", "America/New_York", UnitSystem.Us)]
    [InlineData("CA", "America/Toronto", UnitSystem.Metric)]
    [InlineData("GB", "Europe/London", UnitSystem.Metric)]
    [InlineData(null, "America/Denver", UnitSystem.Us)]
    [InlineData(null, "America/Toronto", UnitSystem.Metric)]
    [InlineData(null, null, UnitSystem.Metric)]
    public void Units_are_the_countrys(string? country, string? zone, UnitSystem units) => Assert.Equal(units, UnitsSaid.Usual(country, zone));

    [Theory]
    [InlineData("metric", UnitSystem.Metric)]
    [InlineData("°C", UnitSystem.Metric)]
    [InlineData("US", UnitSystem.Us)]
    [InlineData("U.S.", UnitSystem.Us)]
    [InlineData("fahrenheit", UnitSystem.Us)]
    public void Units_have_several_names(string text, UnitSystem units) => Assert.Equal(units, UnitsSaid.Read(text));

    [Fact]
    public void Other_units_are_not_guessed() => Assert.Null(UnitsSaid.Read("kelvin"));

    [Fact]
    public void Whom_to_tell_is_a_mail_address_a_push_or_nobody()
    {
        Assert.Equal("smtp.example.org", Assert.IsType<ToldSaid.ByMail>(ToldSaid.Read(" pat@example.org ")).UsualServer);
        Assert.Equal(new ToldSaid.ByMail("pat@example.org"), ToldSaid.Read("mailto:pat@example.org"));
        Assert.Equal(new ToldSaid.ByPush(new("https://push.example.org/garden-4f1c9")), ToldSaid.Read("https://push.example.org/garden-4f1c9"));
        foreach (string nobody in (string[])["", "terminal", "None", "nobody", "here"])
            Assert.IsType<ToldSaid.Nobody>(ToldSaid.Read(nobody));
    }

    [Theory]
    [InlineData("pat at example.org", "no address")]
    [InlineData("pat", "no address")]
    [InlineData("https://push.example.org/", "names no topic")]
    [InlineData("a@example.org, b@example.org", "several addresses")]
    [InlineData("a@example.org\nbcc: b@example.org", "no address")]
    public void What_is_no_address_is_told(string text, string told) =>
        Assert.Contains(told, Assert.IsType<ToldSaid.Fault>(ToldSaid.Read(text)).Problem, StringComparison.Ordinal);

    [Theory]
    [InlineData("smtp.example.org", "smtp.example.org", null, "starttls")]
    [InlineData("SMTP.example.org:465", "smtp.example.org", 465, "tls")]
    [InlineData("smtp.example.org:587", "smtp.example.org", 587, "starttls")]
    [InlineData("localhost", "localhost", null, "none")]
    [InlineData("127.0.0.1:2525", "127.0.0.1", 2525, "none")]
    public void A_mail_server_may_come_with_its_port(string text, string host, int? port, string security)
    {
        var server = MailServerSaid.Read(text)!;
        Assert.Equal((host, port, security), (server.Host, server.Port, server.Security));
    }

    [Theory]
    [InlineData("")]
    [InlineData("smtp.example.org:0")]
    [InlineData("smtp.example.org:587 }\nx: y")]
    [InlineData("two words")]
    public void What_is_no_server_is_refused(string text) => Assert.Null(MailServerSaid.Read(text));
}
