using System.Text.Json;
using CsCheck;
using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

/// <summary>
/// Published rules at, just below and just above their limits. Rows of the file are named where they are checked. Not
/// reproduced: D136, D138, D140, D142 (daily infection values of leaf spot on beets: four cells of a table that was not at
/// hand) and D152 (how well a tuned limit does, told in <see cref="LeafWetness"/>).
/// </summary>
public class DiseaseRuleTests
{
    private const string File = "disease-rules.csv";

    [Theory] // D048 to D056: Krause, Massie and Hyre 1975. D051 (6 values) follows the printed matrix.
    [InlineData("D048", 4, 3, BlightWeek.Nothing)]
    [InlineData("D049", 4, 4, BlightWeek.Warning)]
    [InlineData("D050", 4, 5, BlightWeek.EverySevenDays)]
    [InlineData("D051", 4, 6, BlightWeek.EverySevenDays)]
    [InlineData("D052", 4, 7, BlightWeek.EveryFiveDays)]
    [InlineData("D053", 5, 2, BlightWeek.Nothing)]
    [InlineData("D054", 5, 3, BlightWeek.Warning)]
    [InlineData("D055", 5, 4, BlightWeek.EverySevenDays)]
    [InlineData("D056", 5, 5, BlightWeek.EveryFiveDays)]
    public void A_week_asks_for_what_the_printed_matrix_says(string id, int favourableDays, int severity, BlightWeek expected)
    {
        Assert.Equal(expected, LateBlight.Week(favourableDays, severity));
        string printed = PublishedTable.Case(File, "id", id)["expected"];
        Assert.StartsWith(
            expected switch { BlightWeek.Nothing => "no spray", BlightWeek.Warning => "warning", BlightWeek.EverySevenDays => "7-day", _ => "5-day" },
            printed, StringComparison.Ordinal);
    }

    [Theory] // D041 (18 to 20: the lower is taken), D047
    [InlineData(9, 17, false)]
    [InlineData(10, 0, true)]
    [InlineData(0, 18, true)]
    public void The_first_forecast_comes_at_ten_favourable_days_or_eighteen_values(int days, int severity, bool expected) =>
        Assert.Equal(expected, LateBlight.FirstForecast(days, severity));

    [Theory] // D001 and D008: both limits count
    [InlineData(10, 6, true, false)]
    [InlineData(9.99, 24, false, false)]
    [InlineData(10, 5, false, false)]
    [InlineData(10, 11, true, true)]
    public void Two_days_at_the_limits_make_a_period(double low, double humid, bool hutton, bool smith)
    {
        var day = new BlightDay(low, humid);
        Assert.Equal(hutton, LateBlight.Hutton(day, day));
        Assert.Equal(smith, LateBlight.Smith(day, day));
    }

    [Theory] // D042
    [InlineData(25.49, 30, 7.2, true)]
    [InlineData(25.5, 30, 7.2, false)]
    [InlineData(25.49, 29.9, 7.2, false)]
    [InlineData(25.49, 30, 7.1, false)]
    public void A_rain_favourable_day_keeps_all_three_limits(double mean, double rain, double low, bool expected) =>
        Assert.Equal(expected, LateBlight.HyreFavourable(mean, rain, low));

    [Theory]
    [InlineData("D076", 13.0, 18.0)]
    [InlineData("D077", 18.1, 21.0)]
    [InlineData("D078", 21.1, 26.0)]
    [InlineData("D079", 26.1, 35.0)]
    public void Each_limit_that_is_passed_adds_a_value_in_the_continuous_bands(string id, double from, double until)
    {
        using var json = JsonDocument.Parse(PublishedTable.Case(File, "id", id)["inputs_json"]);
        double[] limits = [.. json.RootElement.GetProperty("wet_hours_must_exceed").EnumerateArray().Select(h => h.GetDouble())];
        foreach (double air in (double[])[from, (from + until) / 2, until])
        {
            for (int i = 0; i < limits.Length; i++)
            {
                Assert.Equal(i, EarlyBlight.Severity(limits[i], air));
                Assert.Equal(i + 1, EarlyBlight.Severity(limits[i] + 0.1, air));
            }
        }
        Assert.Equal(0, EarlyBlight.Severity(24, 12.9));
    }

    [Fact]
    public void Sums_at_which_to_act_are_the_published_ones()
    {
        Assert.Equal("15 to 20", PublishedTable.Case(File, "id", "D099")["expected"]);
        Assert.Equal((15, 20), (EarlyBlight.ActFrom, EarlyBlight.ActBy));
        Assert.Equal(EarlyBlight.ActBy, PublishedTable.Case(File, "id", "D100").Number("expected"));
        Assert.Equal(EarlyBlight.FirstAtPhysiologicalDays, PublishedTable.Case(File, "id", "D101").Number("expected"));
    }

    [Fact] // D113; the means of D114 (4.2 h, sunrise near six) and D115 (1.9 h) fall on either side
    public void Lettuce_that_is_wet_at_ten_is_open_to_mildew()
    {
        Assert.True(DownyMildew.LettuceByDrying(10));
        Assert.False(DownyMildew.LettuceByDrying(9.9));
        Assert.True(DownyMildew.LettuceByDrying(6 + 4.2));
        Assert.False(DownyMildew.LettuceByDrying(6 + 1.9));
        Assert.Null(DownyMildew.LettuceByDrying(double.NaN));
    }

    [Theory]
    [InlineData("D116", 4, 20, 22, true)]
    [InlineData("D116", 3.9, 20, 22, false)]
    [InlineData("D119", 5, 20.5, 21, false)]
    [InlineData("D120", 5, 16, 23, false)]
    public void Lettuce_mildew_wants_a_cool_wet_morning(string id, double hours, double first, double next, bool expected)
    {
        Assert.NotNull(PublishedTable.Case(File, "id", id));
        Assert.Equal(expected, DownyMildew.LettuceByWarmth(hours, first, next));
    }

    [Theory]
    [InlineData("D121", 2, 20, Infection.Favoured)]
    [InlineData("D121", 2, 19.9, Infection.None)]
    [InlineData("D122", 6, 10, Infection.Possible)]
    [InlineData("D122", 6, 15, Infection.Favoured)]
    [InlineData("D122", 6, 9.9, Infection.None)]
    [InlineData("D123", 12, 5, Infection.Possible)]
    [InlineData("D123", 12, 10, Infection.Favoured)]
    [InlineData("D123", 12, 4.9, Infection.None)]
    [InlineData("D124", 24, 5, Infection.Favoured)]
    [InlineData("D124", 24, 20, Infection.Favoured)]
    [InlineData("D125", 1.9, 20, Infection.None)]
    [InlineData("D125", 12, 25, Infection.Possible)]
    [InlineData("D125", 12, 25.1, Infection.None)]
    public void Cucumber_mildew_wants_longer_wetness_in_the_cool(string id, double wet, double air, Infection expected)
    {
        Assert.NotNull(PublishedTable.Case(File, "id", id));
        Assert.Equal(expected, DownyMildew.Cucurbit(wet, air));
    }

    [Fact]
    public void Spores_of_cucumber_and_basil_mildew_and_basils_infection_keep_their_limits()
    {
        Assert.True(DownyMildew.CucurbitSpores(6, 15)); // D126
        Assert.False(DownyMildew.CucurbitSpores(5.9, 20));
        Assert.False(DownyMildew.CucurbitSpores(8, 30.1));
        Assert.True(DownyMildew.BasilInfection(4)); // D127
        Assert.False(DownyMildew.BasilInfection(3.9));
        Assert.True(DownyMildew.BasilSpores(7.5)); // D128
        Assert.False(DownyMildew.BasilSpores(7)); // D132
        Assert.True(DownyMildew.BasilSpores(8)); // D133
        Assert.True(DownyMildew.BasilWarmth(11.7)); // D129
        Assert.True(DownyMildew.BasilWarmth(25));
        Assert.False(DownyMildew.BasilWarmth(25.1));
        Assert.Null(DownyMildew.BasilSpores(double.NaN));
        Assert.Null(DownyMildew.Cucurbit(double.NaN, 18));
        Assert.Equal(Infection.None, DownyMildew.Cucurbit(double.NaN, 30)); // too warm whatever the wetness
    }

    [Fact]
    public void Powdery_mildew_likes_mild_days_and_suffers_in_heat()
    {
        Assert.True(PowderyMildew.Favoured(15.6)); // D134
        Assert.True(PowderyMildew.Favoured(26.7));
        Assert.False(PowderyMildew.Favoured(26.8));
        Assert.False(PowderyMildew.Harmed(32.2)); // D135
        Assert.True(PowderyMildew.Harmed(32.3));
        Assert.Null(PowderyMildew.Harmed(double.NaN));
    }

    [Theory]
    [InlineData("D156")]
    [InlineData("D157")]
    [InlineData("D160")]
    public void Wetness_that_a_fungus_needs_agrees_with_worked_cases(string id) // D155 is the equation itself
    {
        var row = PublishedTable.Case(File, "id", id);
        double In(string name) => row.Json("inputs_json", name);
        var needed = new WetnessNeeded(In("Tmin"), In("Topt"), In("Tmax"), In("Wmin_h"), In("Wmax_h"));
        Assert.Equal(row.Number("expected"), needed.HoursAt(In("T_C")), 0.006);
    }

    [Fact]
    public void A_fungus_is_fastest_at_its_best_and_stands_still_outside_its_limits() =>
        Gen.Select(Gen.Double[0, 10], Gen.Double[1, 15], Gen.Double[1, 15], Gen.Double[-5, 45]).Sample((least, toBest, toMost, air) =>
        {
            var fungus = new WetnessNeeded(least, least + toBest, least + toBest + toMost, 6, 40);
            Assert.InRange(fungus.Response(air), 0, 1 + 1e-9);
            Assert.Equal(1, fungus.Response(least + toBest), 1e-9);
            Assert.Equal(air <= least || air >= least + toBest + toMost, double.IsPositiveInfinity(fungus.HoursAt(air)));
        });

    [Fact]
    public void A_fungus_whose_best_is_not_between_its_limits_is_refused() =>
        Assert.Contains("must rise", Assert.Throws<ArgumentException>(() => new WetnessNeeded(20, 10, 30, 6, 40).HoursAt(15)).Message, StringComparison.Ordinal);

    [Fact]
    public void Every_disease_that_weather_is_judged_for_has_signs_and_a_caution()
    {
        Assert.NotEmpty(DiseaseSigns.Of("tomato"));
        Assert.All(DiseaseSigns.All, signs =>
        {
            Assert.NotEmpty(signs.LookFor);
            Assert.NotEmpty(signs.Where);
            Assert.Contains("product label", signs.Caution, StringComparison.Ordinal);
            Assert.Contains(signs.Weather, (string[])[nameof(LateBlight), nameof(EarlyBlight), nameof(DownyMildew), nameof(PowderyMildew)]);
        });
    }
}
