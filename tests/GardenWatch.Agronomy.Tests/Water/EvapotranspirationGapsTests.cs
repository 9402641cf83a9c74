using CsCheck;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using GardenWatch.Agronomy.Water;

namespace GardenWatch.Agronomy.Tests.Water;

/// <summary>Days of which something is missing, by the advice of FAO-56 chapter 3, and days that are given in other ways.</summary>
public class EvapotranspirationGapsTests
{
    private const string File = "fao56-figure18.csv";
    private static readonly GeoPosition Lyon = new(45.7167, 4.8, 200);
    private static readonly GeoPosition Uccle = new(50.8, 4.35, 100);

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void A_month_at_Cabinda_comes_out_as_printed_or_as_near_as_its_rounded_inputs_allow(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double In(string name) => row.Json("inputs_json", name);
        var month = new EvapotranspirationDay(In("Tmin_C"), In("Tmax_C"))
        {
            MeanHumidityPercent = In("RHmean"),
            WindMetresPerSecond = In("wind2m_km_d") / 86.4,
            SunshineHours = In("n_h"),
        };
        var ours = month.Reference(new(In("lat_deg"), 12, In("z_m")), (int)In("J"));
        Assert.Equal(EvapotranspirationGaps.None, ours.Gaps);
        Assert.Equal(row.Number("expected"), ours.Mm, row.Number("tolerance") * 1.0001);
        bool asPrinted = Math.Abs(ours.Mm - row.Number("expected")) <= 0.05;
        Assert.Equal(row["within_printed_rounding"] == "yes", asPrinted);
    }

    [Fact] // FAO-56 example 20, p. 77: temperatures only, 4.56 mm/d with 2 m/s and radiation of 0.16
    public void Temperatures_alone_give_the_printed_day_and_say_what_was_guessed()
    {
        var july = new EvapotranspirationDay(14.8, 26.6).Reference(Lyon, 196);
        Assert.Equal(4.56, july.Mm, 0.05);
        Assert.Equal(EvapotranspirationGaps.Humidity | EvapotranspirationGaps.Wind | EvapotranspirationGaps.Radiation, july.Gaps);
        Assert.Equal(5.0, ReferenceEvapotranspiration.Hargreaves(14.8, 26.6, 20.7, SolarRadiation.Extraterrestrial(Lyon.LatitudeDegrees, 196)), 0.05);
    }

    [Fact] // FAO-56 example 18, p. 72: Uccle, 6 July, 3.9 mm/d
    public void The_known_day_of_Uccle_comes_out_and_each_thing_left_out_moves_it_little()
    {
        var day = new EvapotranspirationDay(12.3, 21.5)
        {
            LowestHumidityPercent = 63,
            HighestHumidityPercent = 84,
            WindMetresPerSecond = ReferenceEvapotranspiration.WindAtTwoMetres(10 / 3.6, 10),
            SunshineHours = 9.25,
        };
        Assert.Equal(3.9, day.Reference(Uccle, 187).Mm, 0.05);
        var gaps = new (EvapotranspirationDay Day, EvapotranspirationGaps Gaps)[]
        {
            (day with { LowestHumidityPercent = double.NaN }, EvapotranspirationGaps.None),
            (day with { LowestHumidityPercent = double.NaN, HighestHumidityPercent = double.NaN, MeanHumidityPercent = 73.5 }, EvapotranspirationGaps.None),
            (day with { LowestHumidityPercent = double.NaN, HighestHumidityPercent = double.NaN }, EvapotranspirationGaps.Humidity),
            (day with { WindMetresPerSecond = double.NaN }, EvapotranspirationGaps.Wind),
            (day with { SunshineHours = double.NaN }, EvapotranspirationGaps.Radiation),
        };
        foreach (var (without, expected) in gaps)
        {
            var estimate = without.Reference(Uccle, 187);
            Assert.Equal(expected, estimate.Gaps);
            Assert.Equal(3.88, estimate.Mm, 0.9); // FAO-56 ch. 3: still a usable estimate
        }
    }

    [Fact]
    public void The_best_that_is_known_of_humidity_is_used()
    {
        var day = new EvapotranspirationDay(10, 24) { SunMegajoules = 22, WindMetresPerSecond = 2, MeanHumidityPercent = 60 };
        double dewPoint = ReferenceEvapotranspiration.Daily(10, 24, VapourPressure.Saturation(9), 22, 2, 45, 100, 170);
        Assert.Equal(dewPoint, (day with { DewPointC = 9, HighestHumidityPercent = 40 }).Reference(new(45, 5, 100), 170).Mm, 1e-12);
        Assert.True((day with { Arid = true, MeanHumidityPercent = double.NaN }).Reference(new(45, 5, 100), 170).Mm
            > (day with { MeanHumidityPercent = double.NaN }).Reference(new(45, 5, 100), 170).Mm);
    }

    [Fact]
    public void By_the_sea_the_same_warming_means_more_sun()
    {
        var day = new EvapotranspirationDay(14, 20);
        Assert.True((day with { ByTheSea = true }).Reference(Uccle, 187).Mm > day.Reference(Uccle, 187).Mm);
    }

    [Fact]
    public void Air_is_never_guessed_and_what_cant_be_is_an_error()
    {
        Assert.Equal(double.NaN, new EvapotranspirationDay(double.NaN, 20).Reference(Uccle, 187).Mm);
        Assert.Throws<ArgumentException>(() => new EvapotranspirationDay(20, 10).Reference(Uccle, 187));
        var error = Assert.Throws<ArgumentOutOfRangeException>(() =>
            new EvapotranspirationDay(10, 20) { HighestHumidityPercent = 130 }.Reference(Uccle, 187));
        Assert.Contains("0 to 100 %", error.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => ReferenceEvapotranspiration.Daily(10, 20, 1, -1, 2, 45, 100, 170));
        Assert.Throws<ArgumentOutOfRangeException>(() => ReferenceEvapotranspiration.Daily(10, 20, 1, 15, -2, 45, 100, 170));
        Assert.Throws<ArgumentOutOfRangeException>(() => ReferenceEvapotranspiration.Hourly(20, 120, 1, 2, 100, 0.8, true));
        Assert.Throws<ArgumentException>(() => ReferenceEvapotranspiration.Hargreaves(20, 10, 15, 40));
    }

    [Fact]
    public void A_guessed_day_stays_between_no_use_and_what_any_grass_uses() =>
        Gen.Select(Gen.Double[-20, 30], Gen.Double[0, 25], Gen.Double[-65, 65], Gen.Int[1, 366]).Sample((low, range, latitude, day) =>
            Assert.InRange(new EvapotranspirationDay(low, low + range).Reference(new(latitude, 0, 100), day).Mm, -1, 15));
}
