namespace GardenWatch.Agronomy.Quantities;

/// <summary>Of air, soil or leaf. Celsius inside; other units at the edges only.</summary>
public readonly record struct Temperature(double Celsius) : IComparable<Temperature>
{
    public double Fahrenheit => Celsius * 1.8 + 32;

    public static Temperature FromFahrenheit(double f) => new((f - 32) / 1.8);

    public int CompareTo(Temperature other) => Celsius.CompareTo(other.Celsius);

    public static Temperature operator +(Temperature t, TemperatureDifference d) => new(t.Celsius + d.Kelvins);
    public static Temperature operator -(Temperature t, TemperatureDifference d) => new(t.Celsius - d.Kelvins);
    public static TemperatureDifference operator -(Temperature a, Temperature b) => new(a.Celsius - b.Celsius);
    public static bool operator <(Temperature a, Temperature b) => a.Celsius < b.Celsius;
    public static bool operator >(Temperature a, Temperature b) => a.Celsius > b.Celsius;
    public static bool operator <=(Temperature a, Temperature b) => a.Celsius <= b.Celsius;
    public static bool operator >=(Temperature a, Temperature b) => a.Celsius >= b.Celsius;
}

/// <summary>A frost pocket of 2 °F is 1.1 K, not -16.7 °C.</summary>
public readonly record struct TemperatureDifference(double Kelvins)
{
    public double FahrenheitDegrees => Kelvins * 1.8;

    public static TemperatureDifference FromFahrenheitDegrees(double f) => new(f / 1.8);
}
