using CsCheck;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Quantities;
using MathNet.Numerics.Integration;
using NodaTime;

namespace GardenWatch.Agronomy.Tests.Light;

public class SkyLightTests
{
    [Theory]
    [InlineData(1, 1037.2)] // Haurwitz 1945, sun overhead: 1098 e^-0.057
    [InlineData(0.5, 489.9)]
    [InlineData(0, 0)]
    [InlineData(-0.3, 0)]
    public void A_clear_sky_follows_the_published_formula(double sine, double watts) =>
        Assert.Equal(watts, SkyLight.Clear(sine), 0.1);

    [Theory]
    [InlineData(0, 1)]
    [InlineData(0.5, 0.929)] // Kasten and Czeplak 1980: 1 - 0.75 (N / 8)^3.4
    [InlineData(1, 0.25)]
    public void Cloud_leaves_the_published_share(double cloud, double share) =>
        Assert.Equal(share, SkyLight.UnderCloud(1, cloud), 0.0005);

    [Fact]
    public void A_clear_day_brings_what_FAO_56_says_within_a_tenth()
    {
        // Two independent clear skies: Haurwitz added up over the day against 0.75 of what comes to the top of the air.
        foreach (double latitude in new[] { -35.0, 0, 25, 40, 50 })
            foreach (int day in new[] { 80, 172, 264 })
            {
                var midnight = Instant.FromUtc(2023, 1, 1, 0, 0) + Duration.FromDays(day - 1);
                double joules = SimpsonRule.IntegrateComposite(
                    hour => 3600 * SkyLight.Clear(Sine(midnight + Duration.FromSeconds(Math.Round(3600 * hour)), latitude)), 0, 24, 480);
                double fao = SolarRadiation.ClearSky(SolarRadiation.Extraterrestrial(latitude, day), 0);
                Assert.InRange(joules / 1e6 / fao, 0.9, 1.1);
            }

        static double Sine(Instant instant, double latitude) =>
            Math.Sin(Sun.AltitudeDegrees(instant, new GeoPosition(latitude, 0, 0)) * Math.PI / 180);
    }

    [Fact]
    public void More_cloud_never_brings_more_and_a_higher_sun_never_less() =>
        Gen.Select(Gen.Double[0, 0.99], Gen.Double[0, 0.99]).Sample((sine, cloud) =>
        {
            Assert.True(SkyLight.Clear(sine + 0.01) >= SkyLight.Clear(sine));
            Assert.True(SkyLight.UnderCloud(800, cloud + 0.01) <= SkyLight.UnderCloud(800, cloud));
        });

    [Fact]
    public void Cloud_in_per_cent_is_an_error_and_unknown_cloud_is_unknown()
    {
        Assert.Contains("from 0 to 1", Assert.Throws<ArgumentOutOfRangeException>(() => SkyLight.UnderCloud(800, 75)).Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentOutOfRangeException>(() => SkyLight.Clear(40));
        Assert.Equal(double.NaN, SkyLight.UnderCloud(800, double.NaN));
        Assert.Equal(double.NaN, SkyLight.Clear(double.NaN));
    }
}
