using GardenWatch.Agronomy.Series;

namespace GardenWatch.Demo;

/// <summary>What is usual at an hour of the day about a date: the mean of that hour in the fortnights around it.</summary>
public sealed class UsualAir
{
    private const int DaysEitherSide = 15;
    private readonly double[] _usual;

    public UsualAir(WeatherSeries truth)
    {
        var air = truth[WeatherVariable.Air];
        _usual = new double[air.Length];
        for (int first = 0; first < Math.Min(24, air.Length); first++)
        {
            double sum = 0;
            int count = 0;
            void Count(double value, int sign)
            {
                if (double.IsNaN(value))
                    return;
                sum += sign * value;
                count += sign;
            }

            for (int hour = first; hour < air.Length && hour < first + 24 * DaysEitherSide; hour += 24)
                Count(air[hour], 1);
            for (int hour = first; hour < air.Length; hour += 24)
            {
                if (hour + 24 * DaysEitherSide < air.Length)
                    Count(air[hour + 24 * DaysEitherSide], 1);
                if (hour - 24 * (DaysEitherSide + 1) >= 0)
                    Count(air[hour - 24 * (DaysEitherSide + 1)], -1);
                _usual[hour] = count > 0 ? sum / count : double.NaN;
            }
        }
    }

    public double At(int hour) => _usual[hour];
}
