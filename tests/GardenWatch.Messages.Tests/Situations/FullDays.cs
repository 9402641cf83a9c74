using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>Days with much to do, and days after a silence. Situations of the trade, by their numbers; the weather is invented.</summary>
public sealed class FullDays
{
    [Fact]
    public void S05_Away_three_weeks()
    {
        var days = Scenes.AwayThreeWeeks();
        var back = Morning.Of(days[^1].Agenda);
        var sunday = Morning.Of(days[^2].Agenda);

        // What is alive comes first, then what now fits.
        Assert.StartsWith("Growing, by all that is known:", back.Digest.Lead, StringComparison.Ordinal);
        foreach (string crop in (string[])["radish", "lettuce", "pea", "carrot", "garlic"])
            Assert.Contains(crop, back.Digest.Lead, StringComparison.Ordinal);
        Assert.True(back.Asks(JobKind.Sow));
        Assert.All(back.Agenda.Jobs.Where(job => job.Kind == JobKind.Sow).GroupBy(job => job.SubjectId), jobs => Assert.Single(jobs));
        // Sowings of the weeks between are one line, with what takes their place.
        string left = Assert.Single(back.Digest.Sections.SelectMany(section => section.Rows).OfType<Letters.SayingRow>(), row => row.Label == "Left out").Text;
        Assert.Contains("batch 5 takes its place", left, StringComparison.Ordinal);
        Assert.DoesNotContain(back.Digest.Sections.SelectMany(section => section.Rows).OfType<Letters.SayingRow>(), row => row.Label != "Left out" && row.Text.Contains("left out", StringComparison.OrdinalIgnoreCase));

        // No pile of old jobs; one question, once a week.
        Assert.DoesNotContain("Still open", back.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("One question", back.Text, StringComparison.Ordinal);
        Assert.Matches(@"One question, as it has been quiet: is this done, or off: \d+ start tomatoes indoors\.", sunday.Text);
        Assert.DoesNotContain(back.Agenda.Jobs, job => job.Standing == Standing.Missed);
        foreach (string scolding in (string[])["overdue", "forgot", "should have", "did not", "late "])
            Assert.DoesNotContain(scolding, back.Text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(back.Agenda.Sowings, sowing => sowing.Crop == "tomato" && sowing.Stage == "set out");
        Assert.Contains(back.Agenda.Sowings, sowing => sowing.Crop == "pea" && sowing.Stage == "up");
    }

    [Fact]
    public void S17_Blight_weather()
    {
        var told = Morning.Of(Scenes.BlightWeather());
        var look = told.The(JobKind.Look);

        Assert.Equal(Standing.Now, look.Standing);
        Assert.Contains("For late blight", told.Text, StringComparison.Ordinal);
        Assert.Contains("brown patches with a pale rim, white below", told.Text, StringComparison.Ordinal);
        Assert.Contains("If so: take struck parts out at once, not on the heap", told.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(told.Agenda.Jobs, job => job.Kind == JobKind.Spray);
        Assert.DoesNotContain("spray the", told.Text, StringComparison.OrdinalIgnoreCase);
        // Who looked today is not asked again tomorrow.
        Assert.DoesNotContain(Morning.Of(Scenes.BlightWeather().Done(look.Id, daysAgo: 1)).Agenda.Jobs, job => job.Kind == JobKind.Look);
    }

    [Fact]
    public void S20_Thirty_one_jobs_on_a_Saturday()
    {
        var told = Morning.Of(Scenes.ThirtyOneJobsOnASaturday());
        Assert.True(told.Agenda.Jobs.Count(job => job.Standing == Standing.Now) >= 31);
        Job[] inFull = [.. told.Digest.Numbers.Take(8).Select(number => told.Agenda.Jobs.Single(job => job.Id == number.JobId))];

        var onions = told.The(JobKind.Harvest, "onions");
        Assert.True(told.TimeOf(onions.ActBy!.Value) <= new LocalTime(16, 0));
        Assert.Equal(JobKind.Cover, inFull[0].Kind);
        int lift = Array.IndexOf(inFull, onions), pick = Array.FindIndex(inFull, job => job.SubjectId == "beans" && job.Kind == JobKind.Harvest);
        Assert.True(lift > 0 && pick > lift, string.Join(", ", inFull.Select(job => job.Name)));
        Assert.Contains("Lift the onion sets in dry weather (top bed) by 16:00", told.Text, StringComparison.Ordinal);
        Assert.Contains("under a roof if rain is near", told.Text, StringComparison.Ordinal);

        var rows = told.Digest.Sections.Where(section => section.Title is "Before it’s too late" or "Today suits").SelectMany(section => section.Rows).ToList();
        Assert.InRange(rows.OfType<Letters.JobRow>().Count(), 5, 8);
        Assert.DoesNotContain(inFull.Take(lift + 1), job => job.Name.StartsWith("Weed", StringComparison.Ordinal));
        Assert.Contains("Any day soon will do:", told.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void S21_Heat_index_37()
    {
        var told = Morning.Of(Scenes.HeatIndex37());
        var lift = told.The(JobKind.Harvest, "potatoes");

        Assert.Contains("It will feel like 36 °C: work early, drink and rest in the shade.", told.Text, StringComparison.Ordinal);
        Assert.True(told.TimeOf(lift.Best!.Value.Until) <= new LocalTime(9, 0));
        Assert.DoesNotContain(lift.Windows, window => told.TimeOf(window.From) < new LocalTime(18, 0) && told.TimeOf(window.Until) > new LocalTime(9, 0));
        // Picking and watering are still offered, early.
        Assert.True(told.TimeOf(told.The(JobKind.Harvest, "beans").Best!.Value.Until) <= new LocalTime(9, 0));
        Assert.All(told.Agenda.Jobs.Where(job => job.Kind == JobKind.Water), water => Assert.True(told.TimeOf(water.Best!.Value.Until) <= new LocalTime(10, 0)));
        Assert.Contains(told.Agenda.Jobs, job => job.Kind == JobKind.Water);
    }

    [Fact]
    public void S23_Squash_and_the_cold_week()
    {
        var told = Morning.Of(Scenes.SquashAndTheColdWeek());
        var cut = told.The(JobKind.Harvest);

        Assert.Equal(Standing.Now, cut.Standing);
        Assert.Equal(told.Agenda.Date, told.DateOf(cut.ActBy!.Value)); // while it is dry: rain comes with the cold
        Assert.Contains("cut the winter squash by 19:00", told.Subject, StringComparison.Ordinal);
        Assert.Contains("Coldest air of the next 5 nights 3 °C", told.Text, StringComparison.Ordinal);
        Assert.Contains("in a warm place under a roof", told.Text, StringComparison.Ordinal);
        Assert.Single(told.Agenda.Jobs, job => job.SubjectId == "squash" && job.Kind == JobKind.Cover); // the cold nights are one line
    }
}
