using GardenWatch.Planning.Conditions;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class FaultTests
{
    private const string Window = "a window is wanted here: past or next so many hours, days or nights, today, tonight, tomorrow or since";
    private const string Comparison = "a comparison is wanted here: at least, at most, above, below or between";

    [Theory]
    [InlineData("", 1, "a condition is missing", "such as `rain total next 24 hours at least 6 mm`")]
    [InlineData("sol at 4 in mean past 3 days at least 62 °F", 1, "`sol`: no such measure; did you mean soil?", "`soil at 4 in mean past 3 days at least 62 °F`")]
    [InlineData("rainfall total next 24 hours at least 6 mm", 1, "`rainfall`: no such measure; did you mean rain?", "`rain total next 24 hours at least 6 mm`")]
    [InlineData("  dew pont low tonight at most 0 °C", 3, "`dew pont`: no such measure; did you mean dew point?", "`dew point low tonight at most 0 °C`")]
    [InlineData("rain mean next 24 hours at least 6 mm", 6, "rain has no mean; total or peak fit", "`rain total next 24 hours at least 6 mm`")]
    [InlineData("gust peak today at most 12 m/s", 6, "gust has no peak; high fits", "`gust high today at most 12 m/s`")]
    [InlineData("days low since sown at least 7 days", 6, "days takes no `low`, it has one value a day", "`days since sown at least 7 days`")]
    [InlineData("air tonight at most 2 °C", 5, "air needs to say what of the window counts: low, high or mean", "such as `air low tonight at most 2 °C`")]
    [InlineData("air lowest tonight at most 2 °C", 5, "`lowest`: neither a statistic nor a window of air; did you mean low?", "`air low tonight at most 2 °C`")]
    [InlineData("air at 5 cm low tonight at most 2 °C", 5, "only soil has a depth; air has none", null)]
    [InlineData("soil at 5 m mean today at least 10 °C", 6, "soil is known from the surface down to 2 m", null)]
    [InlineData("soil at low today at least 3 °C", 9, "a quantity is missing here", "such as `4 ft` or `1.2 m`")]
    [InlineData("soil at least 10 °C", 6, "`at`: " + Window, "such as `soil at 10 cm mean past 3 days at least 16 °C`")]
    [InlineData("rain total nxt 24 hours at least 6 mm", 12, "`nxt`: " + Window + "; did you mean next?", "`rain total next 24 hours at least 6 mm`")]
    [InlineData("rain total last 24 hours at least 6 mm", 12, "`last`: " + Window + "; did you mean past?", "`rain total past 24 hours at least 6 mm`")]
    [InlineData("rain total", 11, "the phrase ends before its window", "such as `rain total next 24 hours between 6 mm and 15 mm`")]
    [InlineData("rain total next 5 months at least 6 mm", 19, "`months`: a window counts hours, days or nights", "such as `next 24 hours` or `next 3 days`")]
    [InlineData("rain total next 0 hours at least 6 mm", 17, "a window is of 1 to 8784 hours", null)]
    [InlineData("air low next 900 nights at most 2 °C", 14, "a window is of 1 to 366 nights", null)]
    [InlineData("days past 3 days at least 2 days", 6, "`past 3 days` does not fit days; `since sown` or `until sown` would", "such as `days since sown at least 14 days`")]
    [InlineData("days until lst spring frost at most 40 days", 12, "`lst spring frost`: neither a moment nor a date; did you mean last spring frost?", "`days until last spring frost at most 40 days`")]
    [InlineData("days since 31 February at least 2 days", 12, "`31 February` is no date; the month has 29 days", null)]
    [InlineData("days since 29 February 2027 at least 2 days", 12, "`29 February 2027` is no date; the month has 28 days", null)]
    [InlineData("rain total next 24 hours at leest 6 mm", 26, "`at leest`: " + Comparison + "; did you mean at least?", "`rain total next 24 hours at least 6 mm`")]
    [InlineData("rain total next 24 hours 6 mm", 26, "`6`: " + Comparison, null)]
    [InlineData("rain total next 24 hours", 25, "the phrase ends without a comparison and a quantity", "at least, at most, above, below or between, then a quantity")]
    [InlineData("rain total next 24 hours at least", 34, "a quantity is missing here", "such as `6 mm` or `1/4 in`")]
    [InlineData("soil mean past 3 days at least 62", 32, "`62` has no unit; a temperature is wanted", "`62 °F` or `62 °C`")]
    [InlineData("rain total next 24 hours at least 6 °C", 35, "`6 °C` is not a depth of rain or water", "`6 mm` or `6 in`")]
    [InlineData("rain total next 24 hours between 15 mm and 6 mm", 34, "the first quantity of `between` is the larger one, so nothing can lie between", "`rain total next 24 hours between 6 mm and 15 mm`")]
    [InlineData("rain total next 24 hours between 6 mm", 38, "`between` wants two quantities with `and` in the middle", "such as `between 6 mm and 15 mm`")]
    [InlineData("rain total next 24 hours at least {enough 6 mm", 35, "a named number has no closing brace", "such as `{enough: 6 mm}`")]
    [InlineData("rain total next 24 hours at least {enough}", 35, "`{enough}` has no number here", "`{enough: ...}` with the number it starts from")]
    [InlineData("rain total next 24 hours at least {enough: 6}", 44, "`6` has no unit; a depth of rain or water is wanted", "`6 mm` or `6 in`")]
    [InlineData("rain total next 24 hours at least {: 6 mm}", 35, "a named number is a name of letters, a colon and a quantity", "such as `{enough: 6 mm}`")]
    [InlineData("rain today between {enough: 6 mm} and {enough: 9 mm}", 20, "both ends of `between` are named enough, so tuning would make them one", "two names, such as `between {enough: 6 mm} and {too much: 15 mm}`")]
    [InlineData("air low tonight at most 2 °C with luck", 35, "after `with` comes `chance at least` and a share", "such as `with chance at least 70 %`")]
    [InlineData("air low tonight at most 2 °C with chance 20 %", 42, "a chance is asked as `chance at least` and a share", "`air low tonight at most 2 °C with chance at least 20 %`")]
    [InlineData("air low tonight at most 2 °C with chance at least 0 %", 51, "a chance of nothing asks nothing", "leave the chance out")]
    [InlineData("rain today at least 6 mm; rain tomorrow at least 6 mm", 25, "one condition ends here", "each condition on its own line, or `all of (...; ...)`")]
    [InlineData("any of (rain today at least 6 mm", 33, "a semicolon or a closing bracket is wanted here", "`any of (rain today at least 6 mm)`")]
    [InlineData("warmth total since 1 March at least 100 °C days", 8, "warmth wants its base, the temperature above which it counts", "such as `warmth base 5 °C total since 1 March at least 190 °C days`")]
    [InlineData("warmth base 10 °C ceiling 50 °F total today at least 5 °C days", 19, "the ceiling is not above the base, so no warmth would ever count", null)]
    [InlineData("rain today at least 6 mm, then rain tomorrow at least 6 mm", 25, "`then` goes on from the end of a window such as `next 2 hours`; this one has no such end", null)]
    [InlineData("air mean of lows today at least 3 °C", 18, "`today` does not fit air mean of lows; `past 3 days`, `past 3 nights`, `next 3 days` or `next 3 nights` would", "such as `air low tonight at most 2 °C`")]
    [InlineData("sol lowest lst night at mots 2 °C", 1, "`sol`: no such measure; did you mean soil?", "`soil`")]
    [InlineData("sol lowest last 3 days at mots 2 °C", 1, "`sol`: no such measure; did you mean soil?", "`soil low past 3 days at most 2 °C`")]
    public void A_broken_phrase_is_told_where_what_and_what_instead(string phrase, int column, string problem, string? instead) =>
        Assert.Equal(new ConditionReading.Fault(column, problem, instead), ConditionText.Read(phrase));

    [Theory]
    [InlineData("RAIN Total  NEXT 24\tHours AT LEAST 6 MM", "rain total next 24 hours at least 6 mm")]
    [InlineData("rain next 24 hours >= 6mm", "rain total next 24 hours at least 6 mm")]
    [InlineData("rain next 24 hours ≤ 6 mm", "rain total next 24 hours at most 6 mm")]
    [InlineData("rain next day > 6 mm", "rain total next 1 day above 6 mm")]
    [InlineData("rain past two weeks < 6 mm", "rain total past 14 days below 6 mm")]
    [InlineData("leaf tonight under 0 °C", "leaf low tonight below 0 °C")]
    [InlineData("soil past 72 hrs over 15,5 °C", "soil at 5 cm mean past 72 hours above 15.5 °C")]
    [InlineData("air low tonight at most 2 °C with chance >= 20 %", "air low tonight at most 2 °C with chance at least 20 %")]
    [InlineData("days since usual last spring frost at least 3 days", "days since last spring frost at least 3 days")]
    [InlineData("rain since 2026-03-01 at least 6 mm", "rain total since 1 March 2026 at least 6 mm")]
    [InlineData("rain since March 1 at least 6 mm", "rain total since 1 March at least 6 mm")]
    [InlineData("rain between {enough: 6 mm} and {too much: 15 mm}", null)]
    [InlineData("rain today between { Enough :6 mm } and {too  much: 15 mm}", "rain total today between {enough: 6 mm} and {too much: 15 mm}")]
    [InlineData("warmth base 50 °F total since sown at least 90 degree-days", "warmth base 10 °C total since sown at least 50 °C days")]
    [InlineData("dry next 2 hours, then rain next 24 hours at least 6 mm", "rain total next 2 hours at most 0.2 mm, then rain total next 24 hours at least 6 mm")]
    [InlineData("rain today at least 1/3 in", "rain total today at least 8.466666667 mm")]
    [InlineData("days since sown at least 45 hours", "days since sown at least 1.8750 days")]
    [InlineData("all of (rain today at least 6 mm; none of (air low tonight at most 2 °C))", "all of (rain total today at least 6 mm; none of (air low tonight at most 2 °C))")]
    public void What_people_may_write_is_printed_in_one_way(string written, string? printed) =>
        Assert.Equal(printed, ConditionText.Read(written) is ConditionReading.Ok(var condition) ? ConditionText.Print(condition) : null);

    [Fact]
    public void A_name_that_a_profile_binds_needs_no_number()
    {
        Assert.IsType<ConditionReading.Fault>(ConditionText.Read("leaf low tonight at most {leaf}"));
        var read = Assert.IsType<ConditionReading.Ok>(ConditionText.Read("leaf low tonight at most {leaf}", "leaf"));
        Assert.Equal("leaf low tonight at most {leaf}", ConditionText.Print(read.Condition));
    }

    [Fact]
    public void The_reference_page_has_every_word_of_the_definition()
    {
        string page = ConditionReference.Markdown();
        Assert.All(ConditionLanguage.Measures, row => Assert.Contains($"`{row.Example}`", page, StringComparison.Ordinal));
        Assert.All(ConditionLanguage.Statistics.SelectMany(row => row.Words), words => Assert.Contains(words, page, StringComparison.Ordinal));
        Assert.All(ConditionLanguage.Comparisons.SelectMany(row => row.Words), words => Assert.Contains($"`{words}`", page, StringComparison.Ordinal));
        Assert.All(ConditionLanguage.Milestones, row => Assert.Contains(row.Words[0], page, StringComparison.Ordinal));
        Assert.DoesNotContain("{", page.Replace("{enough: 6 mm}", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }
}
