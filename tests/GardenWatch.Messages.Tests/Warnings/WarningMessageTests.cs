using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;

namespace GardenWatch.Messages.Tests.Warnings;

public sealed class WarningMessageTests
{
    [Fact]
    public void A_frost_warning_begins_with_the_frost_and_the_hour()
    {
        var warning = WarningMessage.Of(SampleGarden.FrostyMorning(), [SampleGarden.CoverTomatoes(SampleGarden.Tuesday)], [], SampleGarden.Pat);
        Assert.Equal("Frost tonight: cover the tomatoes by 7:30 pm", warning.Subject);
        Assert.Equal((1, "quarry-lane/tomato/cover/1"), Assert.Single(warning.Numbers));
    }

    [Fact]
    public void A_second_job_is_counted_and_told()
    {
        var cover = SampleGarden.CoverTomatoes(SampleGarden.Tuesday);
        var warning = WarningMessage.Of(SampleGarden.FrostyMorning(), [cover, cover with { Id = "2", Name = "Cover the squash" }], [], SampleGarden.Pat);
        Assert.EndsWith(", 1 more", warning.Subject, StringComparison.Ordinal);
        Assert.Contains("2. Cover the squash", DigestText.Write(warning), StringComparison.Ordinal);
    }

    [Fact]
    public void Heat_is_called_heat()
    {
        var agenda = SampleGarden.HotAfternoon();
        Assert.StartsWith("Heat today: shade the lettuce by 11 am", WarningMessage.Of(agenda, [agenda.Jobs[0]], [], SampleGarden.Pat).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void An_old_forecast_is_said()
    {
        var agenda = SampleGarden.StaleWeather();
        Assert.Contains("The forecast is 41\u00A0hours old.", WarningMessage.Of(agenda, [agenda.Jobs[0]], [], SampleGarden.Pat).Lead, StringComparison.Ordinal);
    }

    [Fact]
    public void A_danger_the_week_does_not_show_is_not_named()
    {
        var agenda = SampleGarden.FrostyMorning() with { Week = [] };
        Assert.StartsWith("Before it’s too late: cover", WarningMessage.Of(agenda, [SampleGarden.CoverTomatoes(SampleGarden.Tuesday)], [], SampleGarden.Pat).Subject, StringComparison.Ordinal);
    }

    [Fact]
    public void There_is_no_warning_about_nothing() =>
        Assert.Throws<ArgumentException>(() => WarningMessage.Of(SampleGarden.FrostyMorning(), [], [], SampleGarden.Pat));

    [Fact]
    public void What_was_asked_for_in_vain_is_called_off_without_an_hour_or_an_answer()
    {
        var cover = SampleGarden.CoverTomatoes(SampleGarden.Tuesday) with
        {
            Standing = Standing.Dropped, ActBy = null, Best = null, Windows = [], Chance = null,
            Reasons = [new("called-off", ImmutableDictionary<string, double>.Empty, "The night has turned milder: leaves near 5\u00A0°C.")],
        };
        var message = WarningMessage.Of(SampleGarden.FrostyMorning(), [], [cover], SampleGarden.Pat);

        Assert.Equal("Called off: cover the tomatoes", message.Subject);
        Assert.Equal("No need to cover the tomatoes tonight", message.Headline);
        Assert.Contains("the night has turned milder", DigestText.Write(message), StringComparison.Ordinal);
        Assert.Empty(message.Numbers);
    }

    [Fact]
    public void A_warning_names_what_is_not_needed_any_more_below_what_is()
    {
        var cover = SampleGarden.CoverTomatoes(SampleGarden.Tuesday);
        var off = cover with { Id = "2", Name = "Cover the squash", Standing = Standing.Dropped };
        string text = DigestText.Write(WarningMessage.Of(SampleGarden.FrostyMorning(), [cover], [off], SampleGarden.Pat));

        Assert.True(text.IndexOf("NOT NEEDED ANY MORE", StringComparison.Ordinal) > text.IndexOf("Cover the tomatoes", StringComparison.Ordinal));
        Assert.Contains("Cover the squash", text, StringComparison.Ordinal);
    }
}
