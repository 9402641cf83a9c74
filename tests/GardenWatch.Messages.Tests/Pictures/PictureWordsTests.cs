using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Pictures;
using GardenWatch.Messages.Tests.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>What a picture says to who does not see it, and what is left out of it.</summary>
public sealed class PictureWordsTests
{
    [Fact]
    public void The_day_line_tells_each_job_with_its_hours_and_the_frost()
    {
        string alt = Alt(PictureKind.Day, SampleGarden.FrostyMorning());
        Assert.Equal(
            "The day as a line. Job 1, cover the tomatoes: by 7:30 pm. Off again tomorrow after 8:30 am. "
            + "Job 2, sow radish, batch 3: 5:30 to 7:45 pm. Job 3, thin radish, batch 2: 5:30 to 8 pm. "
            + "Frost, 7 in 10, tonight. All of it is in words below.", alt);
    }

    [Fact]
    public void The_week_tells_its_frosts_its_rain_and_its_warmth()
    {
        string alt = Alt(PictureKind.Week, SampleGarden.FrostyMorning());
        Assert.Equal(
            "The week as a weather log. Frost tonight, 7 in 10. Rain on Thursday, 0.3 in, 8 in 10. Rain on Friday, 0.04 in, 4 in 10. "
            + "Rain on Monday, 0.2 in, 4 in 10. Highs 55 to 71 °F. Nights 37 to 53 °F. Not all is known of Monday. The table below says the same.", alt);
    }

    [Fact]
    public void Days_of_which_nothing_is_known_are_named_and_drawn_as_not_known()
    {
        var picture = PictureSamples.Of("gaps", wide: false).Single(p => p.Kind == PictureKind.Week);
        Assert.Contains("Not all is known of Thursday, Friday, Saturday, Sunday, Monday.", picture.Alt, StringComparison.Ordinal);
        var words = picture.Drawing.Shapes.OfType<Shape.Lettering>().ToArray();
        // Rain of four days, warmth of Thursday, Sunday and Monday.
        Assert.InRange(words.Count(word => word.Text == "known"), 6, 7);
        Assert.DoesNotContain(words, word => word.Text.StartsWith("dry", StringComparison.Ordinal));
    }

    [Fact]
    public void The_plan_of_the_beds_tells_size_and_what_grows()
    {
        string alt = Alt(PictureKind.Beds, SampleGarden.FrostyMorning());
        Assert.Equal(
            "Plan of the beds to scale. Kitchen bed, 4 by 12 ft: radish, batch 1 growing, radish, batch 2 growing, job 2, job 3, job 6. "
            + "Low bed, 4 by 8 ft: tomato, six set out, job 1, job 5.", alt);
    }

    [Fact]
    public void Beds_without_a_size_are_named_under_the_plan()
    {
        var picture = PictureSamples.Of("beds without places", wide: false).Single(p => p.Kind == PictureKind.Beds);
        Assert.StartsWith("Not drawn, for want of a size in the plan: big pot. Sizes are true;", picture.Caption, StringComparison.Ordinal);
        Assert.Equal("Not to scale: the plan gives no sizes.", PictureSamples.Of("beds without sizes", wide: false).Single(p => p.Kind == PictureKind.Beds).Caption);
    }

    [Fact]
    public void Names_that_have_no_room_are_letters_that_the_caption_explains()
    {
        var picture = PictureSamples.Of("large garden", wide: false).Single(p => p.Kind == PictureKind.Beds);
        Assert.Contains("A: bed by the long wall 0,", picture.Caption, StringComparison.Ordinal);
        Assert.Contains(picture.Drawing.Shapes.OfType<Shape.Lettering>(), word => word.Text == "A");
    }

    [Fact]
    public void An_old_forecast_is_not_drawn() =>
        Assert.DoesNotContain(DigestSamples.Of("stale-weather").Pictures, picture => picture.Kind == PictureKind.Week);

    [Theory]
    [InlineData("quiet-morning")]
    [InlineData("missing-weather")]
    public void A_quiet_morning_and_one_without_hours_have_no_picture(string name) =>
        Assert.Empty(DigestSamples.Of(name).Pictures);

    [Fact]
    public void The_beds_are_drawn_again_only_when_a_stage_changed()
    {
        var agenda = SampleGarden.FrostyMorning();
        var same = DigestOccasion.OnTime with { StagesLastSaid = Digest.StagesOf(agenda) };
        Assert.DoesNotContain(Digest.Of(agenda, [], SampleGarden.Pat, same).Pictures, picture => picture.Kind == PictureKind.Beds);
        var changed = same with { StagesLastSaid = same.StagesLastSaid!.SetItem("radish/2", "sown") };
        Assert.Contains(Digest.Of(agenda, [], SampleGarden.Pat, changed).Pictures, picture => picture.Kind == PictureKind.Beds);
    }

    [Fact]
    public void A_warning_draws_the_hours_ahead_and_no_more()
    {
        var picture = Assert.Single(DigestSamples.Of("frost-warning").Pictures);
        Assert.Equal(
            "The hours ahead as a line. Job 1, cover the tomatoes: by 7:30 pm. Off again tomorrow after 8:30 am. "
            + "Frost, 7 in 10, tonight. All of it is in words below.", picture.Alt.Replace('\u00A0', ' '));
    }

    [Fact]
    public void A_fault_in_a_drawing_costs_the_picture_and_not_the_message()
    {
        // An array that was never made can't be walked through.
        var cover = SampleGarden.CoverTomatoes(SampleGarden.Tuesday) with { Windows = default };
        var digest = Digest.Of(SampleGarden.On(SampleGarden.Tuesday, cover) with { Week = SampleGarden.FrostyWeek() }, [], SampleGarden.Pat, DigestOccasion.OnTime);
        Assert.DoesNotContain(digest.Pictures, picture => picture.Kind == PictureKind.Week);
        Assert.Contains("Cover the tomatoes", DigestText.Write(digest), StringComparison.Ordinal);
        Assert.Equal(Gallery.NotDrawn, digest.Foot[^1].Text);
    }

    [Theory]
    [InlineData("frosty-morning")]
    [InlineData("hot-sunday")]
    [InlineData("hostile")]
    public void No_alternative_text_speaks_of_the_drawing_instead_of_the_garden(string name) =>
        Assert.All(DigestSamples.Of(name).Pictures, picture => Assert.DoesNotMatch("(?i)chart|image|picture|graph|%", picture.Alt));

    private static string Alt(PictureKind kind, Agenda agenda) =>
        PictureSamples.Of(agenda, UnitSystem.Us, Frame.Mail).First(picture => picture.Kind == kind).Alt.Replace('\u00A0', ' ');
}
