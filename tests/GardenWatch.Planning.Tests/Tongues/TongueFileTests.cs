using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Tests.Tongues;

public class TongueFileTests
{
    private static readonly CropShelf Crops = CropShelf.Shipped(ConditionText.Read);

    private static TongueReading Read(string rest) => TongueFile.Read("language: eo\n" + rest, "eo.yaml", Phrases.Of(Crops));

    [Fact]
    public void Holes_may_change_places()
    {
        var speech = Speaking("phrases:\n  \"{0} gives about {1}\": \"proksimume {1} de {0}\"\n");
        string wool = "lano";
        Assert.Equal("proksimume 2 de lano", speech.Say($"{wool} gives about {2}"));
    }

    [Fact]
    public void What_is_not_translated_stays_English_and_is_counted()
    {
        var reading = Read("phrases:\n  \"dry\": \"seka\"\n");
        Assert.Equal("rain 8", new Speech(UnitSystem.Metric, DateTimeZone.Utc, reading.Tongue).Say($"rain {8}"));
        Assert.Contains("rain {0}", reading.Missing);
        Assert.DoesNotContain("dry", reading.Missing);
    }

    [Theory]
    [InlineData("phrases:\n  \"drry\": \"seka\"\n", 3, "did you mean `dry`?")]
    [InlineData("phrases:\n  \"rain {0}\": \"pluvo\"\n", 3, "the holes differ")]
    [InlineData("phrases:\n  \"dry\": \"seka {0}\"\n", 3, "the holes differ")]
    [InlineData("phrases:\n  \"dry\": \"seka\"\n  \"dry\": \"sekega\"\n", 4, "said already")]
    [InlineData("counts:\n  \"{0} days\": { one: \"{0} tago\" }\n", 3, "`other` is missing")]
    [InlineData("counts:\n  \"{0} days\": { single: \"{0} tago\", other: \"{0} tagoj\" }\n", 3, "no plural form")]
    [InlineData("months: [januaro]\n", 1, "12 names")]
    [InlineData("date: \"{day}\"\n", 2, "{month}")]
    [InlineData("decimal mark: x\n", 2, "no decimal mark")]
    [InlineData("phrase:\n  \"dry\": \"seka\"\n", 2, "did you mean `phrases`?")]
    public void A_fault_is_told_with_its_line_and_what_to_write(string rest, int line, string told)
    {
        var reading = Read(rest);
        Assert.Null(reading.Tongue);
        Assert.Contains(reading.Faults, fault => fault.Line == line && fault.ToString().Contains(told, StringComparison.Ordinal));
    }

    // Unicode CLDR, plural rules: Polish and Slovenian cardinals.
    [Theory]
    [InlineData("pl", 1, PluralCategory.One)]
    [InlineData("pl", 3, PluralCategory.Few)]
    [InlineData("pl", 5, PluralCategory.Many)]
    [InlineData("pl", 12, PluralCategory.Many)]
    [InlineData("pl", 22, PluralCategory.Few)]
    [InlineData("pl", 1.5, PluralCategory.Other)]
    [InlineData("sl", 101, PluralCategory.One)]
    [InlineData("sl", 2, PluralCategory.Two)]
    [InlineData("ja", 1, PluralCategory.Other)]
    [InlineData("de", 1, PluralCategory.One)]
    [InlineData("de", 0, PluralCategory.Other)]
    [InlineData("fr", 0, PluralCategory.One)]
    public void Plural_forms_go_by_the_language_s_rule(string code, double count, PluralCategory category) =>
        Assert.Equal(category, PluralRule.Of(code, count));

    [Fact]
    public void A_plan_names_its_language_and_one_without_a_file_is_a_fault()
    {
        const string plan = "garden: G\nid: g\nplace: { latitude: 1, longitude: 1 }\nunits: metric\ndigest: { at: \"06:00\", to: [a@example.org] }\nlanguage: eo\n";
        var alone = PlanFile.Read(plan, "garden.yaml", Crops, [], new(2026, 5, 1), ConditionText.Read);
        Assert.Contains(alone.Faults, fault => fault.Line == 6 && fault.ToString().Contains("no file for the language `eo`", StringComparison.Ordinal));

        var spoken = PlanFile.Read(plan, "garden.yaml", Crops.With([Read("name: Esperanto\n").Tongue!]), [], new(2026, 5, 1), ConditionText.Read);
        Assert.Equal("eo", spoken.Plan?.Tongue.Code);
    }

    private static Speech Speaking(string rest)
    {
        var reading = Read(rest);
        Assert.Empty(reading.Faults);
        return new(UnitSystem.Metric, DateTimeZone.Utc, reading.Tongue);
    }
}
