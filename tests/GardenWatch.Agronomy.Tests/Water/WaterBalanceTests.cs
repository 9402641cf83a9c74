using System.Text.Json;
using CsCheck;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

public class WaterBalanceTests
{
    private const string File = "fao56-water-balance.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void A_worked_example_of_FAO_56_comes_out_as_printed(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        Assert.Equal(row.Number("expected"), Evaluate(row), row.Number("tolerance_recommended") * 1.0001);
    }

    [Fact]
    public void No_water_is_lost_or_made() =>
        Gen.Select(Gen.Double[0, 100], Gen.Double[0, 60], Gen.Double[0, 20], Gen.Double[0, 9]).Sample((depletion, rain, watered, use) =>
        {
            var zone = new RootZone(100, 40);
            var day = zone.Day(depletion, rain, watered, use);
            Assert.Equal(day.DepletionMm - depletion, day.UsedMm + day.DrainedMm - rain - watered, 1e-9);
            Assert.InRange(day.DepletionMm, 0, 100);
            Assert.InRange(day.UsedMm, 0, use);
            Assert.InRange(day.Stress, 0, 1);
        });

    [Fact]
    public void A_drying_crop_slows_and_never_passes_wilting()
    {
        var zone = new RootZone(60, 25);
        double depletion = 0, lastUse = double.MaxValue;
        for (int day = 0; day < 200; day++)
        {
            var after = zone.Day(depletion, 0, 0, 6);
            Assert.True(after.UsedMm <= lastUse);
            (depletion, lastUse) = (after.DepletionMm, after.UsedMm);
        }
        Assert.InRange(depletion, 55, 60);
    }

    [Fact]
    public void An_unknown_rain_or_use_makes_the_day_unknown()
    {
        var zone = new RootZone(60, 25);
        Assert.Equal(double.NaN, zone.Day(10, double.NaN, 0, 4).DepletionMm);
        Assert.Equal(double.NaN, zone.Day(10, 0, 0, double.NaN).DepletionMm);
        Assert.Equal(double.NaN, zone.Day(double.NaN, 0, 0, 4).DepletionMm);
        Assert.Equal(double.NaN, new TopSoil(20, 9).Evaporation(double.NaN, 4, 0));
        Assert.Equal(double.NaN, CropCoefficient.OnDay(double.NaN, (25, 25, 30, 20), 0.4, 1.1, 0.4));
    }

    [Fact]
    public void After_the_season_the_coefficient_stays_at_its_end() =>
        Assert.Equal(0.35, CropCoefficient.OnDay(140, (25, 25, 30, 20), 0.4, 1.15, 0.35));

    private static double Evaluate(PublishedTable.Row row)
    {
        double In(string name) => row.Json("inputs_json", name);
        bool Has(string name) => row.JsonHas("inputs_json", name);
        double[] List(string name)
        {
            using var json = JsonDocument.Parse(row["inputs_json"]);
            return [.. json.RootElement.GetProperty(name).EnumerateArray().Select(item => item.GetDouble())];
        }
        double Season(string name)
        {
            double[] days = List("L"), values = List(name);
            return CropCoefficient.OnDay(In("day"), (days[0], days[1], days[2], days[3]), values[0], values[1], values[2]);
        }
        RootZone Zone() =>
            Has("theta_fc") ? RootZone.Of(In("theta_fc"), In("theta_wp"), In("Zr_m"), Has("p") ? In("p") : 0)
            : Has("RAW_mm") ? new(In("TAW_mm"), In("RAW_mm"))
            : Has("TAW_per_m") ? new(In("TAW_per_m") * In("Zr_m"), In("p") * In("TAW_per_m") * In("Zr_m"))
            : new(In("TAW_mm"), In("p") * In("TAW_mm"));
        // Example 38 states the crop's use with all stress in it; example 37 reckons it.
        RootZoneDay Day() => Has("ETc_mm")
            ? Zone().Day(In("Dr_prev_mm"), In("P_mm"), In("I_mm"), In("ETc_mm"))
            : Zone().Day(In("Dr_start_mm"), 0, 0, In("Kc") * In("ETo_mm"));
        TopSoil Top() => new(In("TEW_mm"), In("REW_mm"));
        double Evaporated() => Top().Evaporation(In("De_start_mm"), In("ETo_mm"), In("Kcb"), In("Kc_max"));
        return row["symbol"] switch
        {
            "Kc_mid" => CropCoefficient.ForClimate(In("Kc_tab"), In("u2_ms"), In("RHmin"), In("h_m")),
            "Kc" => Season("Kc"),
            "Kcb" => Season("Kcb"),
            "Kr" => Top().Reduction(In("De_start_mm")),
            "De_end" => In("De_start_mm") + Evaporated(),
            "ETc" => Evaporated() + In("Kcb") * In("ETo_mm"),
            "TAW" => Zone().TotalMm,
            "RAW" => Zone().EasilyHadMm,
            "Ks" => Zone().Stress(In("Dr_start_mm")),
            "ETc_adj" => Day().UsedMm,
            "Dr_end" => Day().DepletionMm,
            "p" => RootZone.EasyShare(In("p_table"), In("ETc_mm")),
            var other => throw new ArgumentException($"No function for {other}."),
        };
    }
}
