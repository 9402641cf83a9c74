using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>Cold nights, from the plan to the words of the digest. Situations of the trade, by their numbers; the weather is invented.</summary>
public sealed class ColdNights
{
    [Fact]
    public void S01_Two_cold_nights()
    {
        var told = Morning.Of(Scenes.TwoColdNights());
        var cover = told.The(JobKind.Cover);

        // One job, by sunset, that names both nights and the double layer.
        Assert.Equal((Standing.Now, true), (cover.Standing, cover.Protects));
        Assert.Equal(new LocalDate(2026, 5, 7), told.DateOf(cover.ActBy!.Value));
        Assert.InRange(told.TimeOf(cover.ActBy.Value), new LocalTime(19, 0), new LocalTime(20, 15));
        Assert.Contains("even in two layers: lay both", told.Text, StringComparison.Ordinal);
        Assert.Contains("The night after may need it too; it may stay on between (11 °C by day).", told.Text, StringComparison.Ordinal);
        Assert.Contains("air -1 °C", told.Text, StringComparison.Ordinal);
        Assert.Contains("in a low place", told.Text, StringComparison.Ordinal);
        Assert.True(cover.DecidingValue <= -2, $"{cover.DecidingValue}"); // the bed lies a degree under the place
        Assert.Equal(new LocalDate(2026, 5, 9), told.DateOf(cover.UndoAt!.Value));
        Assert.InRange(told.TimeOf(cover.UndoAt.Value), new LocalTime(8, 0), new LocalTime(10, 0));

        Assert.True(cover.Reasons.Single(reason => reason.Code == "cover-worth").Values["worthK"] <= 3);
        Assert.DoesNotContain("safe", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(told.Agenda.Jobs, job => job.Kind == JobKind.Uncover);
    }

    [Fact]
    public void S11_Blossom_after_a_warm_spell()
    {
        var told = Morning.Of(Scenes.BlossomAfterAWarmSpell());

        foreach (string subject in (string[])["strawberries", "wall-pear"])
        {
            var cover = told.The(JobKind.Cover, subject);
            Assert.Equal(Standing.Now, cover.Standing);
            Assert.True(told.TimeOf(cover.ActBy!.Value) <= new LocalTime(19, 30), "by sunset");
            Assert.NotNull(cover.UndoAt);
            Assert.Contains("bees", cover.How, StringComparison.Ordinal);
        }
        Assert.DoesNotContain(told.Agenda.Jobs, job => job.SubjectId == "tall-pear" && job.Standing == Standing.Now);
        Assert.DoesNotContain("ladder", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("is lost", told.Text, StringComparison.OrdinalIgnoreCase);
        // It is the flowers that were seen, not the calendar: without them nothing is covered so early.
        Assert.DoesNotContain(Morning.Of(Scenes.BlossomAfterAWarmSpell(seen: false)).Agenda.Jobs, job => job.Kind == JobKind.Cover);
    }

    [Fact]
    public void S11_Two_days_after_the_frost_the_tall_tree_is_looked_at_and_no_more()
    {
        var told = Morning.Of(Scenes.TwoDaysAfterThatFrost());

        var look = told.The(JobKind.Look, "tall-pear");
        Assert.Contains("within reach", look.Reasons[0].Text, StringComparison.Ordinal);
        Assert.Contains("a part of them is enough for a crop", look.Reasons[0].Text, StringComparison.Ordinal);
        Assert.DoesNotContain("ladder", told.Text, StringComparison.OrdinalIgnoreCase);
        Assert.Single(told.Agenda.Jobs, job => job.SubjectId == "tall-pear" && job.Standing == Standing.Now);
    }

    [Fact]
    public void S12_Same_low_two_skies()
    {
        var clear = Morning.Of(Scenes.ThreeDegreesClear());
        var clouded = Morning.Of(Scenes.ThreeDegreesClouded());

        var cover = clear.Agenda.Jobs[0];
        Assert.Equal((JobKind.Cover, Standing.Now), (cover.Kind, cover.Standing));
        Assert.True(clear.TimeOf(cover.ActBy!.Value) <= new LocalTime(20, 15));
        Assert.Contains("air 3 °C", clear.Text, StringComparison.Ordinal);
        Assert.Contains("frost on the leaves is likely", clear.Text, StringComparison.Ordinal);

        Assert.DoesNotContain(clouded.Agenda.Jobs, job => job.Kind == JobKind.Cover);
        Assert.Contains("3 °C tonight, but a clouded, windy night keeps leaves about as warm", clouded.Text, StringComparison.Ordinal);
        Assert.Contains("lay it where that is easy", clouded.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("frost", clouded.Text, StringComparison.OrdinalIgnoreCase);
        Assert.NotEqual(clear.Subject, clouded.Subject);
    }

    [Fact]
    public void S13_One_in_seven()
    {
        var told = Morning.Of(Scenes.OneInSeven());

        Assert.Equal(Standing.Now, told.The(JobKind.Cover, "peppers").Standing);
        Assert.DoesNotContain(told.Agenda.Jobs, job => job.SubjectId == "kale" && job.Protects);
        Assert.DoesNotContain("-2", told.Subject, StringComparison.Ordinal);
        Assert.DoesNotContain("frost", told.Subject, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S14_No_forecast_for_tonight()
    {
        var told = Morning.Of(Scenes.NoForecastForTonight());
        var cover = told.The(JobKind.Cover);

        Assert.Equal(Standing.Now, cover.Standing);
        Assert.Contains("Frost can't be judged for this night", told.Text.Replace('’', '\''), StringComparison.Ordinal);
        Assert.Contains("Cover if the evening is clear and still.", told.Text, StringComparison.Ordinal);
        Assert.Contains("40 hours old", told.Subject, StringComparison.Ordinal);
        Assert.Contains("The forecast is 40 hours old", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("no frost", told.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S15_Moving_freeze()
    {
        var told = Morning.Of(Scenes.MovingFreeze());

        foreach (string subject in (string[])["tomatoes", "peppers"])
        {
            var cover = told.The(JobKind.Cover, subject);
            Assert.StartsWith("Pick, then cover", cover.Name, StringComparison.Ordinal); // picking comes first
            Assert.Contains(cover.Reasons, reason => reason.Code == "wind-takes-cover" && reason.Text.Contains("weigh every edge", StringComparison.Ordinal));
            Assert.DoesNotContain(cover.Reasons, reason => reason.Code == "cover-worth");
            var pick = told.The(JobKind.Harvest, subject);
            Assert.True(told.DateOf(pick.ActBy!.Value) == told.Agenda.Date && told.TimeOf(pick.ActBy.Value) <= new LocalTime(18, 30), "tonight");
        }
        Assert.Contains("pick", told.Subject, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("a cover does little", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("fleece gives", told.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S16_Cold_night_hot_noon()
    {
        var told = Morning.Of(Scenes.ColdNightHotNoon());
        var cover = told.The(JobKind.Cover);

        Assert.Equal(Standing.Now, cover.Standing);
        Assert.True(told.TimeOf(cover.UndoAt!.Value) <= new LocalTime(7, 30), $"undone {told.TimeOf(cover.UndoAt.Value)}, when the gardener has left");
        var open = told.The(JobKind.Vent);
        Assert.Equal(new LocalDate(2026, 5, 8), told.DateOf(open.ActBy!.Value));
        Assert.True(told.TimeOf(open.ActBy.Value) <= new LocalTime(7, 30));
        Assert.Contains("open the sides before you leave at 07:30", told.Text, StringComparison.Ordinal);
        Assert.Contains("plants cook", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S19_Potatoes_just_through()
    {
        var told = Morning.Of(Scenes.PotatoesJustThrough());
        var cover = told.Agenda.Jobs[0];

        Assert.Equal((JobKind.Cover, Standing.Now), (cover.Kind, cover.Standing));
        Assert.Equal("Draw soil over the potato shoots", cover.Name);
        Assert.True(told.TimeOf(cover.ActBy!.Value) <= new LocalTime(20, 0));
        Assert.Contains("they push through again", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(cover.Reasons, reason => reason.Text.Contains("leece", StringComparison.Ordinal));
        Assert.StartsWith("Pull soil", cover.How, StringComparison.Ordinal); // fleece is only what to do instead
        Assert.DoesNotContain("replant", told.Text, StringComparison.OrdinalIgnoreCase);
    }

    [Fact]
    public void S22_Warning_at_17_00()
    {
        var morning = Scenes.TomatoNight(9).At();
        Assert.DoesNotContain(morning.Jobs, job => job.Kind == JobKind.Cover);
        var said = LastSaid.Nothing.After(morning);

        var now = Scenes.TomatoNight(1).At("17:00");
        var news = Threats.NewOrWorse(now, said);
        var warning = WarningMessage.Of(now, [.. news], [], new Addressee("you@example.org", UnitSystem.Metric), lastSaid: said);
        string text = string.Join(' ', DigestText.Write(warning).Split((char[])[' ', '\n', '\r', '\u00A0'], StringSplitOptions.RemoveEmptyEntries));

        Assert.Equal(JobKind.Cover, Assert.Single(news).Kind);
        Assert.Contains("over the tomatoes", text, StringComparison.Ordinal);
        Assert.InRange(now.Jobs[0].ActBy!.Value.InZone(now.Zone).TimeOfDay, new LocalTime(17, 30), new LocalTime(20, 15));
        Assert.Single(warning.Sections);
        Assert.DoesNotContain("GROWING", text, StringComparison.Ordinal);

        // The same at seven is no news; colder by a step is.
        var warned = said.After(now);
        Assert.Empty(Threats.NewOrWorse(Scenes.TomatoNight(1).At("19:00"), warned));
        Assert.Empty(Threats.NewOrWorse(Scenes.TomatoNight(0.7).At("19:00"), warned));
        Assert.Single(Threats.NewOrWorse(Scenes.TomatoNight(-1.5).At("19:00"), warned));
    }
}
