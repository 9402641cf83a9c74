using CsCheck;
using GardenWatch.Agronomy.Humidity;
using GardenWatch.Agronomy.Water;
using static GardenWatch.Agronomy.Light.SolarRadiation;

namespace GardenWatch.Agronomy.Tests.Water;

public class ReferenceEvapotranspirationTests
{
    private const string File = "fao56.csv";

    public static TheoryData<string> Published => PublishedTable.Ids(File, "case_id", _ => true);

    [Theory]
    [MemberData(nameof(Published))]
    public void A_worked_example_of_FAO_56_comes_out_as_printed(string id)
    {
        var row = PublishedTable.Case(File, "case_id", id);
        double ours = Evaluate(row);
        if (row["unit"] == "mm/d" && row["symbol"] != "ETo")
            ours *= MillimetresPerMegajoule;
        Assert.Equal(row.Number("expected"), ours, row.Number("tolerance_recommended") * 1.0001);
    }

    [Fact]
    public void A_year_at_a_dry_station_agrees_with_independent_software()
    {
        var days = PublishedTable.StationRows("fallon_agrimet_et0_daily_2015.csv");
        List<double> errors = [];
        foreach (var day in days)
        {
            double et0 = ReferenceEvapotranspiration.Daily(
                day.Number("tmin_c"), day.Number("tmax_c"), VapourPressure.Saturation(day.Number("tdew_c")),
                day.Number("solar_mj_m2"), ReferenceEvapotranspiration.WindAtTwoMetres(day.Number("wind_3m_m_s"), 3),
                39.4575, 1208.5, Stations.DateOf(day).DayOfYear);
            double published = day.Number("refet_software_eto_mm");
            if (double.IsNaN(day.Number("wind_3m_m_s")))
                Assert.True(double.IsNaN(et0));
            else if (!double.IsNaN(published))
                errors.Add(et0 - published);
        }
        Assert.True(errors.Count >= 360);
        Assert.True(Math.Sqrt(errors.Average(e => e * e)) < 0.055);
        Assert.True(errors.Max(Math.Abs) < 0.15);
    }

    [Fact]
    public void More_sun_or_in_a_breeze_drier_air_never_uses_less_water() =>
        // In still air dry skies cool the grass by more than dry air takes from it.
        Gen.Select(Gen.Double[0, 20], Gen.Double[1, 20], Gen.Double[0.3, 0.9], Gen.Double[2, 25], Gen.Double[3, 8])
            .Sample((min, range, humid, sun, wind) =>
            {
                double Et0(double vapourShare, double sunMegajoules) => ReferenceEvapotranspiration.Daily(
                    min, min + range, vapourShare * VapourPressure.Saturation(min), sunMegajoules, wind, 45, 100, 172);
                Assert.True(Et0(humid - 0.1, sun) > Et0(humid, sun));
                Assert.True(Et0(humid, sun + 1) > Et0(humid, sun));
            });

    [Fact]
    public void The_hours_of_a_day_bring_the_days_radiation() =>
        Gen.Select(Gen.Double[-65, 65], Gen.Int[1, 365]).Sample((latitude, day) =>
        {
            double hours = Enumerable.Range(0, 24).Sum(h => ExtraterrestrialOfHour(latitude, 0, day, h + 0.5));
            Assert.Equal(Extraterrestrial(latitude, day), hours, 0.01);
        });

    [Fact]
    public void What_is_not_known_stays_unknown()
    {
        Assert.Equal(double.NaN, ReferenceEvapotranspiration.Daily(10, 20, double.NaN, 15, 2, 45, 100, 172));
        Assert.Equal(double.NaN, ReferenceEvapotranspiration.Daily(10, 20, 1, 15, double.NaN, 45, 100, 172));
        Assert.Equal(double.NaN, ReferenceEvapotranspiration.Hourly(20, 50, double.NaN, 2, 100, 0.8, true));
        Assert.Equal(double.NaN, ReferenceEvapotranspiration.Hargreaves(double.NaN, 10, 15, 40));
        Assert.Equal(double.NaN, FromTemperatureRange(double.NaN, 20, 40, 0));
    }

    private static double Evaluate(PublishedTable.Row row)
    {
        double In(string name) => row.Json("inputs_json", name);
        bool Has(string name) => row.JsonHas("inputs_json", name);
        double Latitude() => In("lat_deg");
        int Day() => (int)In("J");
        double Height() => Has("z_m") ? In("z_m") : 0;
        double Top() => row["unit"].EndsWith("/h", StringComparison.Ordinal) ? TopOfHour() : Extraterrestrial(Latitude(), Day());
        double HourUtc() => In("t_mid_h") + In("lz_west_deg") / 15;
        double TopOfHour() => ExtraterrestrialOfHour(Latitude(), -In("lon_west_deg"), Day(), HourUtc());
        double Sunshine() => Has("n_h") ? In("n_h") : In("sunshine_h_month") / In("days");
        double AtGround() =>
            Has("Rs_MJ") ? In("Rs_MJ")
            : Has("kRs") ? FromTemperatureRange(In("Tmin_C"), In("Tmax_C"), Top(), Height(), In("kRs"))
            : FromSunshine(Sunshine(), DaylightHours(Latitude(), Day()), Top());
        double Clearness() => Has("Rs_Rso_assumed") ? In("Rs_Rso_assumed") : AtGround() / ClearSky(Top(), Height());
        double Vapour() =>
            Has("ea_kPa") ? In("ea_kPa")
            : Has("RHmax") ? ReferenceEvapotranspiration.VapourFromHumidities(In("Tmin_C"), In("Tmax_C"), In("RHmin"), In("RHmax"))
            : Has("RH") ? In("RH") / 100 * VapourPressure.Saturation(In("T_C"))
            : Has("Twet_C") ? VapourPressure.FromWetBulb(In("Tdry_C"), In("Twet_C"), VapourPressure.OfAirAtElevation(Height()))
            : VapourPressure.Saturation(In("Tmin_C"));
        double Wind() =>
            Has("u2_ms") ? In("u2_ms")
            : Has("u2_ms_assumed") ? In("u2_ms_assumed")
            : ReferenceEvapotranspiration.WindAtTwoMetres(In("wind10m_kmh") / 3.6, 10);
        bool hourly = Has("t_mid_h");
        double Longwave() => hourly
            ? NetLongwaveOfHour(In("T_C"), Vapour(), Clearness())
            : NetLongwave(In("Tmin_C"), In("Tmax_C"), Vapour(), Clearness());
        double Net() => NetShortwave(AtGround()) - Longwave();
        double SoilHeat() =>
            hourly ? (In("Rs_MJ") > 0 ? 0.1 : 0.5) * Net()
            : Has("T_next_C") ? ReferenceEvapotranspiration.SoilHeatBetweenMonths(In("T_prev_C"), In("T_next_C"))
            : Has("T_prev_month_C") ? ReferenceEvapotranspiration.SoilHeatSinceMonth(In("T_prev_month_C"), In("T_month_C"))
            : 0;
        double Saturation() => ReferenceEvapotranspiration.MeanSaturation(In("Tmin_C"), In("Tmax_C"));
        return row["symbol"] switch
        {
            "P" => VapourPressure.OfAirAtElevation(Height()),
            "gamma" => VapourPressure.PsychrometricConstant(Has("P_kPa") ? In("P_kPa") : VapourPressure.OfAirAtElevation(Height())),
            "e0(Tmax)" or "e0(Tmin)" or "e0(Tmean)" or "e0(Twet)" or "e0(T)" => VapourPressure.Saturation(In("T_C")),
            "es" => Saturation(),
            "ea" => Vapour(),
            "es-ea" => Saturation() - Vapour(),
            "Delta" => VapourPressure.SaturationSlope(In("T_C")),
            "dr" => InverseDistance(Day()),
            "delta" => Declination(Day()),
            "omega_s" => SunsetHourAngle(Latitude(), Day()),
            "omega" => SolarTimeAngle(-In("lon_west_deg"), Day(), HourUtc()),
            "omega1" => SolarTimeAngle(-In("lon_west_deg"), Day(), HourUtc() - 0.5),
            "Ra" => Top(),
            "N" => DaylightHours(Latitude(), Day()),
            "Rs" => AtGround(),
            "Rso" => ClearSky(Top(), Height()),
            "Rns" => NetShortwave(AtGround()),
            "Rnl" => Longwave(),
            "Rn" => Net(),
            "G" => SoilHeat(),
            "u2" => Wind(),
            "ETo" when hourly => ReferenceEvapotranspiration.Hourly(
                In("T_C"), In("RH"), In("Rs_MJ"), Wind(), Height(), Clearness(), isDay: In("Rs_MJ") > 0),
            "ETo" when row["equation"].Contains("52", StringComparison.Ordinal) => ReferenceEvapotranspiration.Hargreaves(
                In("Tmin_C"), In("Tmax_C"), Has("Tmean_C") ? In("Tmean_C") : (In("Tmin_C") + In("Tmax_C")) / 2, Has("Ra_MJ") ? In("Ra_MJ") : Top()),
            "ETo" => ReferenceEvapotranspiration.Daily(
                In("Tmin_C"), In("Tmax_C"), Vapour(), AtGround(), Wind(), Latitude(), Height(), Day(), SoilHeat()),
            var other => throw new ArgumentException($"No function for {other}."),
        };
    }
}
