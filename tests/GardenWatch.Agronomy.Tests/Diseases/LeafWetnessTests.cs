using GardenWatch.Agronomy.Diseases;

namespace GardenWatch.Agronomy.Tests.Diseases;

public class LeafWetnessTests
{
    [Fact] // D151
    public void Ninety_per_cent_is_wet() => Assert.True(LeafWetness.ByHumidity(90, 0) == true && LeafWetness.ByHumidity(89.9, 0) == false);

    [Fact]
    public void A_wet_hygrometer_shows_more_than_there_can_be() => Assert.True(LeafWetness.ByHumidity(101, 0));
}
