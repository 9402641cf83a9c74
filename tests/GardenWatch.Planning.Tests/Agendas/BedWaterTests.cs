using GardenWatch.Agronomy.Series;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Tests.Agendas;

/// <summary>How dry a bed is depends on what it is made of and on whether rain gets to it. The weather is invented.</summary>
public class BedWaterTests
{
    private static double DeficitOf(string bed)
    {
        var job = Assert.Single(Scenario.On(2026, 6, 10).Plan($$"""
            beds:
              - { bed: the bed{{bed}} }
            chores:
              - chore: Look at the bed
                bed: the bed
                when:
                  - soil water deficit mean past 24 hours at least {dry: 500 mm}
            """)
            .Hourly(WeatherVariable.ReferenceEvapotranspiration, at => at.Hour is > 7 and < 19 ? 0.4 : 0)
            .Days(WeatherVariable.Rain, -30, -30, _ => 3)
            .Days(WeatherVariable.Rain, -3, -3, _ => 0.8)
            .At().Jobs, job => job.Kind == JobKind.Look);
        return Assert.Single(job.Needs).Value ?? double.NaN;
    }

    [Fact]
    public void Rain_fills_an_open_bed_and_passes_over_one_under_glass() =>
        Assert.True(DeficitOf(", soil: loam, over: tunnel") > DeficitOf(", soil: loam") + 5);

    [Fact]
    public void Sand_and_a_pot_run_out_sooner_than_loam()
    {
        Assert.True(DeficitOf(", soil: sand, over: tunnel") < DeficitOf(", soil: silt loam, over: tunnel"));
        Assert.NotEqual(DeficitOf(", container: 40 litres"), DeficitOf(", soil: loam"));
    }
}
