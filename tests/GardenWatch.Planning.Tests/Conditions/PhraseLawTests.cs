using System.Collections.Immutable;
using CsCheck;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Quantities;
using NodaTime;

namespace GardenWatch.Planning.Tests.Conditions;

public sealed class PhraseLawTests
{
    private static readonly Speech Us = new(UnitSystem.Us, DateTimeZone.Utc);
    private static readonly Speech Metric = new(UnitSystem.Metric, DateTimeZone.Utc);

    private static Gen<Quantity> QuantityOf(Dimension dimension)
    {
        (int least, int most, string[] units) = dimension switch
        {
            Dimension.Temperature => (-400, 900, ["°C", "°F"]),
            Dimension.WaterDepth => (0, 900, ["mm", "in"]),
            Dimension.RainRate => (0, 900, ["mm/h", "in/h"]),
            Dimension.Speed => (0, 900, ["m/s", "km/h", "mph"]),
            Dimension.Length => (0, 20, ["cm", "mm", "in"]),
            Dimension.Share => (1, 1000, ["%"]),
            Dimension.Hours => (0, 900, ["hours"]),
            Dimension.Days => (-900, 900, ["days"]),
            Dimension.Warmth => (0, 20000, ["°C days", "°F days"]),
            Dimension.Severity => (0, 900, ["values"]),
            _ => (0, 9000, new[] { "W/m²" }),
        };
        return Gen.Select(Gen.Int[least, most], Gen.OneOf(units), (tenths, unit) =>
            QuantityText.Read(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{tenths / 10.0} {unit}"), dimension) is QuantityReading.Ok(var quantity)
                ? quantity with { Value = Math.Round(quantity.Value, 9) }
                : throw new InvalidOperationException($"{tenths / 10.0} {unit}"));
    }

    private static Gen<Operand> OperandOf(Dimension dimension) =>
        Gen.Select(Gen.OneOf([null, null, "enough", "too much", "leaf"]), QuantityOf(dimension), Gen.Bool,
            (string? name, Quantity quantity, bool bound) => new Operand(name, name == "leaf" && bound ? null : quantity));

    private static readonly Gen<Moment> AnyMoment = Gen.OneOf<Moment>(
        Gen.Enum<Milestone>().Select(m => (Moment)new Moment.Of(m)),
        Gen.Int[0, 40_000].Select(days => (Moment)new Moment.OnDate(new LocalDate(1950, 1, 1).PlusDays(days))),
        Gen.Int[0, 365].Select(days => { var date = new LocalDate(2000, 1, 1).PlusDays(days); return (Moment)new Moment.EachYear(new(date.Month, date.Day)); }));

    private static Gen<TimeWindow> WindowOf(MeasureRow row, Statistic statistic) =>
        Gen.Select(Gen.OneOf([.. Enum.GetValues<WindowKind>().Where(kind => ConditionLanguage.Fits(row, statistic, kind))]), Gen.Int[1, 366], AnyMoment,
            (kind, count, moment) => new TimeWindow(kind, ConditionLanguage.Row(kind).Counted ? count : 0,
                kind is WindowKind.Since or WindowKind.Until ? moment : null));

    private static Gen<Measured> MeasuredOf(MeasureRow row) => row.Measure switch
    {
        Measure.Soil => QuantityOf(Dimension.Length).Select(depth => new Measured(Measure.Soil, depth.Value)),
        Measure.Warmth => Gen.Select(Gen.Int[-5, 20], Gen.Int[1, 30], Gen.Bool, Gen.Enum<WarmthMethod>(),
            (floor, more, capped, method) => new Measured(Measure.Warmth, null, floor,
                capped || ConditionLanguage.Row(method).NeedsCeiling ? floor + more : null, method)),
        _ => Gen.Const(new Measured(row.Measure)),
    };

    private static readonly Gen<Condition.Phrase> Phrase =
        from row in Gen.OneOf([.. ConditionLanguage.Measures])
        from statistic in Gen.OneOf([.. row.Statistics])
        from measured in MeasuredOf(row)
        from level in OperandOf(row.Dimension)
        from window in WindowOf(row, statistic)
        from comparison in Gen.Enum<Comparison>()
        from one in OperandOf(ConditionLanguage.DimensionOf(row.Measure, statistic))
        from other in OperandOf(ConditionLanguage.DimensionOf(row.Measure, statistic))
        from chance in QuantityOf(Dimension.Share)
        from asksChance in Gen.Bool
        // Only its unit tells a share of what is easily had from millimetres.
        where row.Measure != Measure.WaterDeficitShare || (one.Default is not null && other.Default is not null)
        let inOrder = one.Default is { } a && other.Default is { } b && a.Value > b.Value ? (other, one) : (one, other)
        select new Condition.Phrase(measured, statistic, ConditionLanguage.Row(statistic).TakesLevel ? level : null, window, comparison,
            comparison == Comparison.Between ? inOrder.Item1 : one, comparison == Comparison.Between ? OtherName(inOrder.Item1, inOrder.Item2) : null, asksChance ? chance.Value : null);

    private static Operand OtherName(Operand low, Operand high) => high.Name is not null && high.Name == low.Name ? high with { Name = "other" } : high;

    private static readonly Gen<Condition> Any = Gen.Recursive<Condition>((depth, again) =>
    {
        var phrase = Phrase.Select(p => (Condition)p);
        if (depth > 3)
            return phrase;
        var parts = again.Array[0, 3].Select(all => all.ToImmutableArray());
        return Gen.Frequency(
            (6, phrase),
            (1, parts.Select(all => (Condition)new Condition.AllOf(all))),
            (1, parts.Select(all => (Condition)new Condition.AnyOf(all))),
            (1, parts.Select(all => (Condition)new Condition.NoneOf(all))),
            (1, Gen.Select(Phrase, Phrase, (a, b) => (Condition)new Condition.InTurn(Soon(a), Soon(b)))));
    });

    /// <summary>In turn go only windows that end at a known time.</summary>
    private static Condition.Phrase Soon(Condition.Phrase phrase) =>
        ConditionLanguage.Fits(ConditionLanguage.Row(phrase.Of.Measure), phrase.Statistic, WindowKind.NextDays)
            ? phrase with { Window = new(WindowKind.NextDays, 3) }
            : (Condition.Phrase)Scenes.Read("rain total next 2 hours at most 0.2 mm");

    [Fact]
    public void What_is_printed_reads_back_as_the_same_condition() =>
        Any.Sample(condition =>
        {
            foreach (string printed in (string[])[ConditionText.Print(condition), ConditionText.Print(condition, Us), ConditionText.Print(condition, Metric)])
            {
                if (printed.Length > 2000)
                    continue;
                var read = ConditionText.Read(printed, "leaf", "other");
                Assert.True(read is ConditionReading.Ok(var again) && again.Equals(condition), $"{printed}\n{read}");
            }
        }, iter: 10_000);

    [Theory]
    [InlineData("soil at 5 cm mean today at least 62 °F", "soil at 5 cm mean today at least 62 °F", "soil at 5 cm mean today at least 62 °F")]
    [InlineData("soil at 2 in mean today at least 10 °C", "soil at 5.08 cm mean today at least 10 °C", "soil at 2 in mean today at least 50 °F")]
    [InlineData("rain today at least 6 mm", "rain total today at least 6 mm", "rain total today at least 6 mm")]
    [InlineData("rain today at least 1/4 in", "rain total today at least 6.35 mm", "rain total today at least 0.25 in")]
    [InlineData("gust today at most 12 m/s", "gust high today at most 12 m/s", "gust high today at most 12 m/s")]
    [InlineData("gust today at most 25 mph", "gust high today at most 25 mph", "gust high today at most 25 mph")]
    [InlineData("gust today at most 40 km/h", "gust high today at most 40 km/h", "gust high today at most 40 km/h")]
    [InlineData("snow total today at most 1.5 m", "snow total today at most 150 cm", "snow total today at most 150 cm")]
    [InlineData("warmth base 50 °F total since sown at least 900 °F days", "warmth base 10 °C total since sown at least 500 °C days", "warmth base 50 °F total since sown at least 900 °F days")]
    [InlineData("soil water deficit today at least 80 %", "soil water deficit mean today at least 80 %", "soil water deficit mean today at least 80 %")]
    public void Quantities_are_printed_as_a_gardener_would_write_them(string written, string metric, string us)
    {
        var condition = Scenes.Read(written);
        Assert.Equal((metric, us), (ConditionText.Print(condition, Metric), ConditionText.Print(condition, Us)));
    }

    private static readonly string[] Scraps =
    [
        " ", ", then ", "{", "}", ":", "(", ")", ";", "at", "at least", "between", " and ", "with chance at least ", "9999999999", "-1", "½", "°", "62", "6 mm", "\u00A0",
        "\0", "\ud83c", "next", "since", "31 February", "0", "all of (", "none of (", "dry", "base", "{a: ", "at 5 cm", "hours above", "\n", "e+308", "NaN", "∞",
    ];

    private static readonly Gen<string> Mangled =
        from phrase in Gen.OneOf([.. PublishedPhraseTests.Rows.Select(row => row.Phrase)])
        from cuts in Gen.Select(Gen.Int[0, 400], Gen.Int[0, 6], Gen.OneOf(Gen.OneOf(Scraps), Gen.String[Gen.Char, 0, 4], Gen.Const(""))).Array[1, 5]
        select cuts.Aggregate(phrase, (text, cut) =>
        {
            int at = cut.Item1 % (text.Length + 1);
            return string.Concat(text.AsSpan(0, at), cut.Item3, text.AsSpan(Math.Min(at + cut.Item2, text.Length)));
        });

    private static readonly Gen<string> Random = Gen.OneOf(
        Mangled,
        Gen.OneOf(Scraps).Array[0, 30].Select(scraps => string.Join(' ', scraps)),
        Gen.String[Gen.Char, 0, 80]);

    [Fact]
    public void Whatever_is_written_is_understood_or_faulted_at_a_column_of_it() =>
        Random.Sample(text =>
        {
            switch (ConditionText.Read(text))
            {
                case ConditionReading.Fault(var column, var problem, var instead):
                    Assert.InRange(column, 1, text.Length + 1);
                    Assert.NotEmpty(problem);
                    if (instead is ['`', .. var mended, '`'] && !mended.Contains('`', StringComparison.Ordinal) && !mended.Contains("...", StringComparison.Ordinal) && mended.Contains(" at ", StringComparison.Ordinal))
                        Assert.IsType<ConditionReading.Ok>(ConditionText.Read(mended));
                    break;
                case ConditionReading.Ok(var condition):
                    Assert.Equal(new ConditionReading.Ok(condition), ConditionText.Read(ConditionText.Print(condition)));
                    break;
            }
        }, iter: 20_000);

    [Fact]
    public void A_very_long_or_deep_text_is_refused_and_no_more()
    {
        var deep = Assert.IsType<ConditionReading.Fault>(ConditionText.Read(string.Concat(Enumerable.Repeat("all of (", 200))));
        Assert.Equal("this is nested more than 8 deep; put some of it into `any:` or `none:` of the file", deep.Problem);
        var lengthy = Assert.IsType<ConditionReading.Fault>(ConditionText.Read(new string('a', 5000)));
        Assert.Equal(2001, lengthy.Column);
    }
}
