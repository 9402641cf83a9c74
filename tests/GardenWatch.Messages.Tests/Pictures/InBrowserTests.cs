using GardenWatch.Messages.Tests.Digests;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>Messages as a browser shows them, on the smallest phone and on dark paper.</summary>
public sealed class InBrowserTests
{
    [Theory]
    [InlineData("frosty-morning")]
    [InlineData("frost-warning")]
    [InlineData("hostile")]
    public async Task Nothing_is_wider_than_a_phone_of_320_px(string name)
    {
        Assert.SkipWhen(Browser.Installed is null, "chromium is not installed");
        string wide = await Browser.Installed.Ask(
            Browser.Page(DigestSamples.Of(name)), 320, "d.documentElement.scrollWidth+' '+[...d.images].every(i=>i.complete&amp;&amp;i.naturalWidth===656&amp;&amp;i.width===288)",
            dark: false, TestContext.Current.CancellationToken);
        Assert.Equal("320 true", wide);
    }

    [Theory]
    [InlineData(false, "rgb(251, 252, 250) day.png")]
    [InlineData(true, "rgb(27, 34, 38) day-dark.png")]
    public async Task Paper_and_pictures_follow_the_readers_colours(bool dark, string shown)
    {
        Assert.SkipWhen(Browser.Installed is null, "chromium is not installed");
        var letter = DigestSamples.Of("frosty-morning");
        string darkPicture = Convert.ToBase64String([.. letter.Opening!.Png(dark: true)]);
        string answer = await Browser.Installed.Ask(
            Browser.Page(letter), 360,
            $"w.getComputedStyle(d.body).backgroundColor+' '+(d.images[0].currentSrc.endsWith('{darkPicture}')?'day-dark.png':'day.png')",
            dark, TestContext.Current.CancellationToken);
        Assert.Equal(shown, answer);
    }

    [Fact]
    public async Task With_pictures_off_the_facts_stand_in_their_place()
    {
        Assert.SkipWhen(Browser.Installed is null, "chromium is not installed");
        var letter = DigestSamples.Of("frosty-morning");
        string page = GardenWatch.Messages.Digests.DigestHtml.Write(letter);
        string answer = await Browser.Installed.Ask(page, 320, "d.documentElement.scrollWidth+' '+d.images.length+' '+d.images[0].alt", dark: false, TestContext.Current.CancellationToken);
        Assert.Equal($"320 3 {letter.Opening!.Alt}", answer.Replace("&nbsp;", "\u00A0", StringComparison.Ordinal));
    }
}
