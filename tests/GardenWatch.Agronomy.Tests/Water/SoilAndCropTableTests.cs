using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

/// <summary>The shipped tables of soils and crops, held against what their sources print beside them.</summary>
public class SoilAndCropTableTests
{
    private const string File = "soil-water.csv";

    private static IEnumerable<PublishedTable.Row> Rows(string set) => PublishedTable.Rows(File).Where(row => row["set"] == set);

    [Fact]
    public void A_soil_of_table_19_holds_and_loses_what_the_table_prints()
    {
        foreach (var row in Rows("FAO-56 table 19"))
        {
            var soil = SoilTexture.Named(row["texture"])!;
            Assert.InRange(soil.FieldCapacity, row.Number("fc_min"), row.Number("fc_max"));
            Assert.InRange(soil.WiltingPoint, row.Number("wp_min"), row.Number("wp_max"));
            Assert.InRange(soil.AvailableMmPerMetre, row.Number("aw_min"), row.Number("aw_max"));
            Assert.InRange(soil.TopSoil().EvaporableMm, row.Number("tew_min"), row.Number("tew_max")); // eq. 73
            Assert.InRange(soil.TopSoil().FreelyMm, row.Number("rew_min"), row.Number("rew_max"));
        }
    }

    [Fact]
    public void A_soil_of_the_irrigation_file_has_its_intake_and_its_available_water()
    {
        string[] ofFaoInstead = [.. Rows("FAO-56 table 19").Select(row => row["texture"])];
        foreach (var row in Rows("NMSU"))
        {
            var soil = SoilTexture.Named(row["texture"])!;
            Assert.Equal(row.Number("intake_mm_h"), soil.IntakeMmPerHour);
            // 1000 (FC - WP), printed beside them; FC and WP are rounded to a thousandth.
            Assert.Equal(row.Number("aw_min"), RootZone.Of(row.Number("fc_min"), row.Number("wp_min"), 1, 0.5).TotalMm, 1.01);
            if (!ofFaoInstead.Contains(row["texture"]))
                Assert.Equal(row.Number("aw_min"), soil.AvailableMmPerMetre, 1.01);
        }
        Assert.Equal(12, SoilTexture.All.Count);
        Assert.Null(SoilTexture.Named("mud"));
    }

    [Theory]
    [InlineData("sandy", "sand", 0.15)]
    [InlineData("loamy", "loam", 0.15)]
    [InlineData("clayey", "clay", 0.45)] // the broadcast says 4 to 5 inches; by table 19 clay holds no more than loam
    public void An_inch_wets_about_as_deep_as_gardeners_are_told(string told, string texture, double share)
    {
        double metres = Rows("wetting depth").Single(row => row["texture"] == told).Number("wetted_cm_per_inch") / 100;
        Assert.Equal(metres, SoilTexture.Named(texture)!.DepthWettedBy(25.4), metres * share);
    }

    [Fact]
    public void Every_crop_of_the_table_rises_to_its_middle_and_ends_at_its_end()
    {
        Assert.Equal(43, CropWater.All.Count);
        foreach (var crop in CropWater.All)
        {
            var curve = crop.Coefficient;
            Assert.InRange(crop.EasyShare, 0.2, 0.65);
            Assert.InRange(crop.RootsMinMetres, 0.2, crop.RootsMaxMetres);
            if (double.IsNaN(curve.Stages.Total))
            {
                curve = crop.On(new(20, 30, 30, 20)).Coefficient;
                Assert.Equal(double.NaN, crop.Coefficient.Stages.InWarmth(new double[100]).Total);
            }
            Assert.Equal(curve.Initial, curve.At(0));
            Assert.Equal(curve.Middle, curve.At(curve.Stages.Initial + curve.Stages.Growth + curve.Stages.Middle / 2), 1e-9);
            Assert.Equal(curve.End, curve.At(curve.Stages.Total), 1e-9);
            Assert.True(double.IsNaN(crop.Basal.Middle) || crop.Basal.Middle < crop.Coefficient.Middle + 1e-9);
        }
    }

    [Theory] // FAO-56 tables 11, 12, 17, 22 and 24
    [InlineData("tomato", 0.6, 1.15, 0.8, 1.10, 145, 0.7, 1.5, 0.40, 1.05)]
    [InlineData("lettuce", 0.7, 1.00, 0.95, 0.90, 75, 0.3, 0.5, 0.30, double.NaN)]
    [InlineData("potato", 0.5, 1.15, 0.75, 1.10, 145, 0.4, 0.6, 0.35, 1.1)]
    [InlineData("sweet corn, fresh", 0.3, 1.15, 1.05, 1.10, 100, 0.8, 1.2, 0.50, 1.25)] // printed total 110
    [InlineData("cowpea, fresh", 0.4, 1.05, 0.60, double.NaN, 100, 0.6, 1.0, 0.45, double.NaN)] // printed total 110
    public void A_crop_has_its_printed_figures(
        string name, double initial, double middle, double end, double basal, double days, double roots, double deepest, double easy, double response)
    {
        var crop = CropWater.Named(name)!;
        Assert.Equal((initial, middle, end), (crop.Coefficient.Initial, crop.Coefficient.Middle, crop.Coefficient.End));
        Assert.Equal(basal, crop.Basal.Middle);
        Assert.Equal(days, crop.Coefficient.Stages.Total);
        Assert.Equal((roots, deepest, easy), (crop.RootsMinMetres, crop.RootsMaxMetres, crop.EasyShare));
        Assert.Equal(response, crop.YieldResponse);
    }

    [Fact] // FAO-56 p. 167
    public void Fine_soil_gives_its_water_up_less_easily_than_coarse() =>
        Assert.True(RootZone.In(SoilTexture.Named("clay")!, 0.5, 0.4).EasilyHadMm / RootZone.In(SoilTexture.Named("clay")!, 0.5, 0.4).TotalMm
            < RootZone.In(SoilTexture.Named("sand")!, 0.5, 0.4).EasilyHadMm / RootZone.In(SoilTexture.Named("sand")!, 0.5, 0.4).TotalMm);
}
