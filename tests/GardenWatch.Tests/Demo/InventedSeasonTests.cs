using System.Buffers.Binary;
using System.Security.Cryptography;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Demo;
using NodaTime;
using static GardenWatch.Tests.Demo.InventedYear;
using static GardenWatch.Agronomy.Series.WeatherVariable;

namespace GardenWatch.Tests.Demo;

public class InventedSeasonTests
{
    [Theory]
    [InlineData(1, -7, 3)]
    [InlineData(4, 7, 14)]
    [InlineData(7, 20, 27)]
    [InlineData(10, 7, 15)]
    public void Months_are_as_warm_as_a_temperate_place_has_them(int month, double atLeast, double atMost) =>
        Assert.InRange(MeanOfMonth(Air, month), atLeast, atMost);

    [Fact]
    public void Winters_freeze_and_the_warm_months_do_not()
    {
        int FrostDays(int month) => DatesOf(month).Count(date => OfDay(Air, date).Min() <= 0);

        Assert.InRange(FrostDays(1), 12, 31);
        Assert.InRange(FrostDays(4), 1, 10);
        Assert.Equal(0, FrostDays(6) + FrostDays(7) + FrostDays(8));
        Assert.InRange(Enumerable.Range(1, 12).Sum(FrostDays), 60, 140);
    }

    [Fact]
    public void Rain_comes_as_often_and_as_hard_as_it_does_outdoors()
    {
        double[] days = [.. Dates.Select(date => OfDay(Rain, date).Sum())];
        double[] hours = [.. Dates.SelectMany(date => OfDay(Rain, date))];

        Assert.InRange(days.Sum(), 600, 1200);
        Assert.InRange(days.Count(mm => mm >= 1), 80, 140);
        Assert.InRange(hours.Max(), 8, 25);
        Assert.InRange(hours.Count(mm => mm >= 0.1), 350, 1000);
    }

    [Fact]
    public void Days_are_warmer_than_nights_most_so_in_summer()
    {
        double Range(int month) => DatesOf(month).Average(date => OfDay(Air, date).Max() - OfDay(Air, date).Min());

        Assert.InRange(Range(1), 4, 10);
        Assert.InRange(Range(7), 9, 15);
    }

    [Fact]
    public void The_low_of_a_clear_night_comes_near_sunrise()
    {
        double FromSunrise(LocalDate date)
        {
            double[] night = OfNight(Air, date);
            var low = Invented.StampOf(Invented.FirstAtOrAfter(Calendar.NightOf(date).Start) + Array.IndexOf(night, night.Min()));
            return (low - Sun.Course(InventedSeason.Place, date.PlusDays(1), Calendar.Zone).Rise!.Value).TotalHours;
        }

        double[] clear = [.. Dates.Where(date => OfNight(CloudCover, date).Max() <= 30).Select(FromSunrise)];

        // Not all: a front, or air that turns milder in the night, moves some.
        Assert.InRange(clear.Length, 10, 150);
        Assert.InRange(clear.Count(hours => hours is > -3 and < 2), clear.Length * 2 / 3, clear.Length);
    }

    [Fact]
    public void Cloudy_nights_cool_less_than_clear_ones()
    {
        double Cooling(Func<double, bool> cloudy) => Dates
            .Where(date => cloudy(OfNight(CloudCover, date).Average()))
            .Average(date => OfNight(Air, date)[0] - OfNight(Air, date).Min());

        Assert.InRange(Cooling(cloud => cloud < 25) / Cooling(cloud => cloud > 85), 1.5, 5);
    }

    [Fact]
    public void The_values_of_an_hour_agree_with_each_other()
    {
        for (int hour = 0; hour < Invented.Hours; hour++)
        {
            double air = Invented[Air][hour], rain = Invented[Rain][hour], cloud = Invented[CloudCover][hour];
            double radiation = Invented[Radiation][hour];
            var stamp = Invented.StampOf(hour);
            Assert.True(Invented[DewPoint][hour] <= air, $"dew above air at {stamp}");
            Assert.True(Invented[Gust][hour] >= Invented[Wind][hour], $"gust below wind at {stamp}");
            Assert.InRange(Invented[RelativeHumidity][hour], 5, 100);
            Assert.InRange(cloud, rain > 0 ? 70 : 0, 100);
            Assert.InRange(Invented[Wind][hour], 0, 25);
            Assert.InRange(radiation, 0, 1050);
            if (Sun.AltitudeDegrees(stamp, InventedSeason.Place) < 0 && Sun.AltitudeDegrees(stamp - Duration.FromHours(1), InventedSeason.Place) < 0)
                Assert.Equal(0, radiation);
            Assert.InRange(Invented[ReferenceEvapotranspiration][hour], 0, 1);
            Assert.Equal(rain >= 0.1, Invented[WeatherCode][hour] >= 50);
            Assert.True(Invented[Snowfall][hour] == 0 || air < 1, $"snow at {air} °C at {stamp}");
        }
    }

    [Fact]
    public void Soil_lags_behind_the_air_and_more_so_deeper_down()
    {
        double Swing(WeatherVariable variable) => DatesOf(7).Average(date => OfDay(variable, date).Max() - OfDay(variable, date).Min());

        Assert.True(Swing(Air) > Swing(SoilAt6Cm));
        Assert.True(Swing(SoilAt6Cm) > 2 * Swing(SoilAt18Cm));
        Assert.InRange(MeanOfMonth(SoilAt6Cm, 7) - MeanOfMonth(Air, 7), -1, 4);
        Assert.InRange(MeanOfMonth(SoilAt18Cm, 1), -3, 4);
    }

    [Fact]
    public void An_hour_is_the_same_whatever_the_span_asked_for()
    {
        var from = Instant.FromUtc(2026, 6, 1, 0, 0);
        var until = Instant.FromUtc(2026, 6, 20, 0, 0);
        var part = InventedSeason.Between(NotableMornings.Seed, from, until);

        foreach (var variable in new[] { Air, DewPoint, Rain, CloudCover, Wind, Radiation, WeatherCode })
            Assert.Equal(Within(Invented, variable, new(from, until)), Within(part, variable, new(from, until)));
        // Soil remembers longest; three months of run-up leave less than the last printed digit.
        Assert.All(
            Within(Invented, SoilAt18Cm, new(from, until)).Zip(Within(part, SoilAt18Cm, new(from, until))),
            pair => Assert.Equal(pair.First, pair.Second, tolerance: 0.11));
    }

    [Fact]
    public void Another_seed_gives_another_year()
    {
        var from = Instant.FromUtc(2026, 6, 1, 0, 0);
        var one = InventedSeason.Between(1, from, from + Duration.FromDays(10), []);
        var two = InventedSeason.Between(2, from, from + Duration.FromDays(10), []);

        Assert.NotEqual(one[Air].ToArray(), two[Air].ToArray());
    }

    [Fact]
    public void The_demo_year_is_the_same_on_every_machine()
    {
        using var sum = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> bytes = stackalloc byte[4];
        foreach (var variable in Enum.GetValues<WeatherVariable>())
            foreach (double value in Invented[variable])
            {
                BinaryPrimitives.WriteInt32LittleEndian(bytes, (int)Math.Round(value * 100));
                sum.AppendData(bytes);
            }

        Assert.Equal("a131d2d347f9e9df", Convert.ToHexStringLower(sum.GetHashAndReset())[..16]);
    }
}
