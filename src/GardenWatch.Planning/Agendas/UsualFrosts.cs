using GardenWatch.Agronomy.Climate;
using GardenWatch.Planning.Conditions;
using NodaTime;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// The frosts that phrases count from: air of 0 °C at two metres, its middle date of the past years. Where fewer than half
/// of the years have one it is not usual, and the warm season has no end. Without past years nothing is known.
/// </summary>
internal static class UsualFrosts
{
    public static Moments With(this Moments moments, ClimateSummary? climate)
    {
        if (climate?.Frosts.FirstOrDefault(frost => !frost.OfLeaf && frost.ThresholdC == 0) is not { } frost)
            return moments;
        var (spring, autumn) = (Usual(frost.LastOfSpring), Usual(frost.FirstOfAutumn));
        return spring is null && autumn is null ? moments.WithoutFrosts() : moments.WithUsualFrosts(spring, autumn);
    }

    private static AnnualDate? Usual(UsualDate date) =>
        date.YearsWith * 2 >= date.Years && date.DateIn(CommonYear, date.MiddleDay) is { } day ? new AnnualDate(day.Month, day.Day) : null;

    // No leap year, nor is the next one.
    private const int CommonYear = 2001;
}
