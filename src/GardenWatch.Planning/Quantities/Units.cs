namespace GardenWatch.Planning.Quantities;

/// <summary>A unit as people write it: kept value = written × <paramref name="Factor"/> + <paramref name="Offset"/>.</summary>
internal sealed record Unit(Dimension Dimension, double Factor, double Offset, params string[] Spellings);

/// <summary>All units the files may use.</summary>
/// <remarks>Inch, foot, mile and US gallon are exact by the international yard (1959) and the US gallon of 231 cubic inches; knots by the nautical mile of 1852 m; the pound of 453.59237 g (1959).</remarks>
internal static class Units
{
    private static readonly string[] Fahrenheit = ["°f", "° f", "f", "degf", "deg f", "degree f", "degrees f", "degrees fahrenheit", "degree fahrenheit", "fahrenheit"];
    private static readonly string[] Celsius = ["°c", "° c", "c", "degc", "deg c", "degree c", "degrees c", "degrees celsius", "degree celsius", "celsius", "degrees centigrade", "centigrade"];
    private static readonly string[] Inches = ["in", "in.", "inch", "inches", "\"", "''"];
    private static readonly string[] Millimetres = ["mm", "millimetre", "millimetres", "millimeter", "millimeters"];
    private static readonly string[] Centimetres = ["cm", "centimetre", "centimetres", "centimeter", "centimeters"];
    private static readonly string[] Metres = ["m", "metre", "metres", "meter", "meters"];
    private static readonly string[] AnHour = ["/h", "/hr", "/hour", " per hour", " an hour", " /h", " / h", " h-1"];

    public static readonly Unit[] All =
    [
        new(Dimension.Temperature, 1 / 1.8, -32 / 1.8, Fahrenheit),
        new(Dimension.Temperature, 1, 0, Celsius),
        new(Dimension.TemperatureDifference, 1 / 1.8, 0, [.. Fahrenheit, "fahrenheit degrees"]),
        new(Dimension.TemperatureDifference, 1, 0, [.. Celsius, "k", "kelvin", "kelvins"]),
        new(Dimension.WaterDepth, 1, 0, [.. Millimetres, "l/m²", "l/m2", "litres per square metre", "liters per square meter", "litres a square metre"]),
        new(Dimension.WaterDepth, 10, 0, Centimetres),
        new(Dimension.WaterDepth, 25.4, 0, Inches),
        new(Dimension.RainRate, 1, 0, Per(Millimetres)),
        new(Dimension.RainRate, 10, 0, Per(Centimetres)),
        new(Dimension.RainRate, 25.4, 0, Per(Inches)),
        new(Dimension.Speed, 1, 0, "m/s", "mps", "metres per second", "meters per second", "metres a second"),
        new(Dimension.Speed, 1 / 3.6, 0, "km/h", "kmh", "kph", "km/hr", "kilometres per hour", "kilometers per hour", "kilometres an hour"),
        new(Dimension.Speed, 0.44704, 0, "mph", "mi/h", "miles per hour", "miles an hour"),
        new(Dimension.Speed, 1852.0 / 3600, 0, "kn", "kt", "kts", "knot", "knots"),
        new(Dimension.Length, 0.001, 0, Millimetres),
        new(Dimension.Length, 0.01, 0, Centimetres),
        new(Dimension.Length, 1, 0, Metres),
        new(Dimension.Length, 0.0254, 0, Inches),
        new(Dimension.Length, 0.3048, 0, "ft", "ft.", "foot", "feet", "'"),
        new(Dimension.Length, 0.9144, 0, "yd", "yard", "yards"),
        new(Dimension.Area, 1, 0, "m²", "m2", "m^2", "sq m", "sqm", "square metre", "square metres", "square meter", "square meters"),
        new(Dimension.Area, 0.09290304, 0, "sq ft", "sqft", "ft²", "ft2", "ft^2", "square foot", "square feet"),
        new(Dimension.Volume, 1, 0, "l", "litre", "litres", "liter", "liters"),
        new(Dimension.Volume, 0.001, 0, "ml", "millilitre", "millilitres", "milliliter", "milliliters"),
        new(Dimension.Volume, 3.785411784, 0, "gal", "gal.", "gallon", "gallons", "us gal", "us gallons"),
        new(Dimension.Volume, 4.54609, 0, "imp gal", "imperial gallon", "imperial gallons", "uk gallons"),
        new(Dimension.Volume, 0.946352946, 0, "qt", "quart", "quarts"),
        new(Dimension.Share, 0.01, 0, "%", "percent", "per cent", "pct"),
        new(Dimension.Hours, 1, 0, "h", "hr", "hrs", "hour", "hours"),
        new(Dimension.Hours, 1 / 60.0, 0, "min", "mins", "minute", "minutes"),
        new(Dimension.Hours, 24, 0, "d", "day", "days"),
        new(Dimension.Days, 1, 0, "d", "day", "days"),
        new(Dimension.Days, 7, 0, "wk", "wks", "week", "weeks"),
        new(Dimension.Days, 14, 0, "fortnight", "fortnights"),
        new(Dimension.Days, 1 / 24.0, 0, "h", "hr", "hrs", "hour", "hours"),
        new(Dimension.Warmth, 1, 0, "°c days", "°c day", "°c·d", "°cd", "c days", "degree-days c", "degree days c", "celsius degree-days", "°c degree-days"),
        new(Dimension.Warmth, 1 / 1.8, 0, "°f days", "°f day", "°f·d", "°fd", "f days", "degree-days f", "degree days f", "fahrenheit degree-days", "°f degree-days"),
        new(Dimension.Severity, 1, 0, "values", "value", "severity values", "severity value"),
        new(Dimension.Mass, 1, 0, "g", "gr", "gram", "grams", "gramme", "grammes"),
        new(Dimension.Mass, 1000, 0, "kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"),
        new(Dimension.Mass, 28.349523125, 0, "oz", "oz.", "ounce", "ounces"),
        new(Dimension.Mass, 453.59237, 0, "lb", "lb.", "lbs", "lbs.", "pound", "pounds"),
        new(Dimension.Radiation, 1, 0, "w/m²", "w/m2", "w/m^2", "watts per square metre", "watts per square meter"),
    ];

    public static Unit? Find(string spelling, Dimension dimension) =>
        Array.Find(All, unit => unit.Dimension == dimension && unit.Spellings.Contains(spelling));

    public static bool IsKnown(string spelling) => Array.Exists(All, unit => unit.Spellings.Contains(spelling));

    /// <summary>"a temperature".</summary>
    public static string Noun(Dimension dimension) => dimension switch
    {
        Dimension.Temperature => "a temperature",
        Dimension.TemperatureDifference => "a difference in temperature",
        Dimension.WaterDepth => "a depth of rain or water",
        Dimension.RainRate => "a rate of rain",
        Dimension.Speed => "a wind speed",
        Dimension.Length => "a length",
        Dimension.Area => "an area",
        Dimension.Volume => "a volume",
        Dimension.Share => "a share",
        Dimension.Hours => "a number of hours",
        Dimension.Days => "a number of days",
        Dimension.Warmth => "degree-days",
        Dimension.Severity => "a number of severity values",
        Dimension.Mass => "a weight",
        _ => "sunshine",
    };

    /// <summary>The two or three units one would write, for an error's advice.</summary>
    public static string[] Usual(Dimension dimension) => dimension switch
    {
        Dimension.Temperature or Dimension.TemperatureDifference => ["°F", "°C"],
        Dimension.WaterDepth => ["mm", "in"],
        Dimension.RainRate => ["mm/h", "in/h"],
        Dimension.Speed => ["mph", "km/h", "m/s"],
        Dimension.Length => ["cm", "m", "in", "ft"],
        Dimension.Area => ["m²", "sq ft"],
        Dimension.Volume => ["litres", "gallons"],
        Dimension.Share => ["%"],
        Dimension.Hours => ["hours"],
        Dimension.Days => ["days", "weeks"],
        Dimension.Warmth => ["°C days", "°F days"],
        Dimension.Severity => ["values"],
        Dimension.Mass => ["g", "kg", "oz", "lb"],
        _ => ["W/m²"],
    };

    private static string[] Per(string[] depths) => [.. depths.SelectMany(depth => AnHour.Select(per => depth + per))];
}
