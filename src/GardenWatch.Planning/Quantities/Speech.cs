using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Runtime.CompilerServices;
using GardenWatch.Planning.Tongues;
using NodaTime;

namespace GardenWatch.Planning.Quantities;

/// <summary>
/// The one place where sentences, numbers, units, dates and hours are made, in the garden's language, units and zone. A
/// number and its unit are joined by a no-break space.
/// </summary>
/// <param name="tongue">Null for English.</param>
public sealed class Speech(UnitSystem units, DateTimeZone zone, Tongue? tongue = null)
{
    private const char Joined = '\u00A0';
    /// <summary>Far below what is measured, far above what arithmetic loses.</summary>
    private const double SameNumber = 1e-6;

    public UnitSystem Units { get; } = units;

    public DateTimeZone Zone { get; } = zone;

    public Tongue Tongue { get; } = tongue ?? Tongue.English;

    /// <summary>A sentence or a part of one: its literal text is the template, each value a hole.</summary>
    public string Say([InterpolatedStringHandlerArgument("")] Said said) => said.Spoken(Tongue);

    /// <summary>The same without holes.</summary>
    public string Say([ConstantExpected] string words) => Tongue.Word(words);

    /// <summary>A text that is English in the program's own files: a crop's name, a job's, a line of advice.</summary>
    public string Word(string english) => Tongue.Word(english);

    /// <summary>One of two sentences by a number; hole {0} is the number, the others follow it.</summary>
    public string Many(int count, [ConstantExpected] string one, [ConstantExpected] string many, params ReadOnlySpan<string> holes) =>
        Tongue.Counted(count, one, many, [Tongue.Number(count, 0), .. holes]);

    private bool Us => Units == UnitSystem.Us;

    /// <summary>"41 °F", "5 °C".</summary>
    public string Temperature(double celsius) => Whole(Us ? celsius * 1.8 + 32 : celsius) + TemperatureUnit;

    public string TemperatureUnit => Joined + (Us ? "°F" : "°C");

    /// <summary>"2 °F", "1 °C", "1.5 °C": halves are kept in metric.</summary>
    public string Difference(double kelvins) =>
        (Us ? Whole(kelvins * 1.8) : Trimmed(Math.Round(kelvins * 2, MidpointRounding.AwayFromZero) / 2, 1)) + TemperatureUnit;

    /// <summary>"0.3 in", "8 mm"; less than can be measured is "a trace".</summary>
    public string Water(double mm)
    {
        string number = Us ? Trimmed(mm / 25.4, mm < 2.54 ? 2 : 1) : Trimmed(mm, mm < 1 ? 1 : 0);
        return mm > 0 && number == "0" ? Say("a trace") : number + UnitOf(Dimension.WaterDepth);
    }

    /// <summary>"0.1 in an hour", "3 mm an hour".</summary>
    public string RainRate(double mmPerHour) => Say($"{Water(mmPerHour)} an hour");

    /// <summary>"25 mph", "40 km/h".</summary>
    public string Speed(double metresPerSecond) =>
        Us ? Whole(metresPerSecond / 0.44704) + Joined + Say("mph") : Whole(metresPerSecond * 3.6) + Joined + "km/h";

    /// <summary>Depths and spacings: "2 in", "5 cm", "1.5 m", "4 ft".</summary>
    public string Length(double metres)
    {
        if (Us)
        {
            double inches = metres / 0.0254;
            return inches < 36 ? Trimmed(Math.Round(inches * 4) / 4, inches < 3 ? 2 : 0) + Joined + Say("in") : Trimmed(metres / 0.3048, 1) + Joined + Say("ft");
        }
        return metres < 1 ? Trimmed(metres * 100, metres < 0.03 ? 1 : 0) + Joined + "cm" : Trimmed(metres, 1) + Joined + "m";
    }

    /// <summary>"8 gallons", "40 litres".</summary>
    public string Volume(double litres) => Us
        ? Counted(Math.Max(1, Math.Round(litres / 3.785411784)), "gallon")
        : Counted(Math.Max(1, Math.Round(litres)), "litre");

    /// <summary>Water for a bed, no finer than a can or a hose gives it: "7 litres", "40 litres", "120 litres".</summary>
    public string WaterToGive(double litres)
    {
        double own = InUnits(litres, Dimension.Volume), step = own < 20 ? 1 : own < 100 ? 5 : 10;
        return Volume(Math.Max(1, Math.Round(own / step) * step) * (Us ? 3.785411784 : 1));
    }

    /// <summary>The same where nobody knows how big the bed is: "12 litres for each square metre".</summary>
    public string WaterToGiveOn(double mm) => Us
        ? Say($"{WaterToGive(mm * 9.290304)} for each 100 square feet")
        : Say($"{WaterToGive(mm)} for each square metre");

    /// <summary>What was picked: "1.2 kg", "350 g", "2.6 lb", "9 oz".</summary>
    public string Weight(double grams) => Us
        ? grams < 453.59237 ? Trimmed(grams / 28.349523125, 1) + Joined + Say("oz") : Trimmed(grams / 453.59237, 1) + Joined + Say("lb")
        : grams < 1000 ? Trimmed(grams, 0) + Joined + "g" : Trimmed(grams / 1000, 2) + Joined + "kg";

    /// <summary>"380 degree-days", in the units' own degrees.</summary>
    public string Warmth(double celsiusDays) => Whole(Us ? celsiusDays * 1.8 : celsiusDays) + Joined + Say("degree-days");

    /// <summary>"7 in 10"; never a bare per cent, and never certainty.</summary>
    public string Chance(double share) => Tongue.Chance(share);

    /// <summary>
    /// "57 of 62 °F": rounded so that the sentence stays true. When what is and what is needed would print alike
    /// although they differ, decimals are kept; when even two would hide it, the value is rounded away from the need.
    /// </summary>
    public string Of(double value, double needed, Dimension dimension)
    {
        var (v, n) = (InUnits(value, dimension), InUnits(needed, dimension));
        // Whole inches of rain would be no news.
        bool fine = Us && dimension is Dimension.WaterDepth or Dimension.RainRate;
        for (int decimals = fine ? 2 : 0; decimals <= 2; decimals++)
        {
            var (a, b) = (Trimmed(v, decimals), Trimmed(n, decimals));
            bool stillTrue = a == b
                ? Math.Abs(v - n) < SameNumber
                : Math.Sign(Rounded(v, decimals) - Rounded(n, decimals)) == Math.Sign(v - n);
            if (stillTrue)
                return Say($"{a} of {b}") + UnitOf(dimension);
        }
        double apart = Rounded(n, 2) + (v < n ? -0.01 : 0.01);
        return Say($"{Trimmed(apart, 2)} of {Trimmed(n, 2)}") + UnitOf(dimension);
    }

    /// <summary>A quantity as a phrase or a message writes it, exact to what a gardener types; reads back as itself.</summary>
    public string Quantity(Quantity quantity)
    {
        string number = Trimmed(InUnits(quantity.Value, quantity.Dimension), 2);
        string unit = UnitOf(quantity.Dimension);
        return number + (number == "1" ? UnitOfOne(quantity.Dimension) : unit);
    }

    /// <summary>The unit after a 1: "hour", "day"; most are no different.</summary>
    public string UnitOfOne(Dimension dimension) => dimension switch
    {
        Dimension.Volume => Joined + (Us ? Say("gallon") : Say("litre")),
        Dimension.Hours => Joined + Say("hour"),
        Dimension.Days => Joined + Say("day"),
        Dimension.Severity => Joined + Say("severity value"),
        _ => UnitOf(dimension),
    };

    /// <summary>A value turned into the garden's unit for its dimension.</summary>
    public double InUnits(double value, Dimension dimension) => dimension switch
    {
        Dimension.Temperature => Us ? value * 1.8 + 32 : value,
        Dimension.TemperatureDifference or Dimension.Warmth => Us ? value * 1.8 : value,
        Dimension.WaterDepth or Dimension.RainRate => Us ? value / 25.4 : value,
        Dimension.Speed => Us ? value / 0.44704 : value * 3.6,
        Dimension.Length => Us ? value / 0.0254 : value * 100,
        Dimension.Area => Us ? value / 0.09290304 : value,
        Dimension.Volume => Us ? value / 3.785411784 : value,
        Dimension.Share => value * 100,
        _ => value,
    };

    /// <summary>The unit with the space that joins it.</summary>
    public string UnitOf(Dimension dimension) => dimension switch
    {
        Dimension.Temperature or Dimension.TemperatureDifference => TemperatureUnit,
        Dimension.WaterDepth => Joined + (Us ? Say("in") : "mm"),
        Dimension.RainRate => Joined + (Us ? Say("in/h") : "mm/h"),
        Dimension.Speed => Joined + (Us ? Say("mph") : "km/h"),
        Dimension.Length => Joined + (Us ? Say("in") : "cm"),
        Dimension.Area => Joined + (Us ? Say("sq ft") : "m²"),
        Dimension.Volume => Joined + (Us ? Say("gallons") : Say("litres")),
        Dimension.Share => Joined + "%",
        Dimension.Hours => Joined + Say("hours"),
        Dimension.Days => Joined + Say("days"),
        // Which degrees must be said: 380 of one are 684 of the other.
        Dimension.Warmth => Joined + (Us ? Say("°F days") : Say("°C days")),
        Dimension.Radiation => Joined + "W/m²",
        Dimension.Severity => Joined + Say("severity values"),
        _ => "",
    };

    /// <summary>"7:30 pm", "8 pm"; "19:30" in metric.</summary>
    public string Hour(Instant instant) => Hour(instant.InZone(Zone).TimeOfDay);

    public string Hour(LocalTime time)
    {
        if (Tongue.TwentyFourHours ?? !Us)
            return time.ToString("HH:mm", CultureInfo.InvariantCulture);
        int hour = time.Hour % 12 == 0 ? 12 : time.Hour % 12;
        string half = time.Hour < 12 ? "am" : "pm";
        return (time.Minute == 0 ? $"{hour}" : $"{hour}:{time.Minute:00}") + Joined + half;
    }

    /// <summary>"5:30 to 8 pm", "17:30 to 20:00".</summary>
    public string Hours(Instant from, Instant until)
    {
        string a = Hour(from), b = Hour(until);
        if (a == b)
            return a;
        if (!(Tongue.TwentyFourHours ?? !Us) && a[^2..] == b[^2..])
            a = a[..^3];
        return Say($"{a} to {b}");
    }

    /// <summary>"Tue 21 April".</summary>
    public string Day(LocalDate date) => Tongue.Day(date);

    /// <summary>"21 April".</summary>
    public string Date(LocalDate date) => Tongue.Date(date);

    /// <summary>"6 to 15 May", "29 April to 3 May".</summary>
    public string Dates(LocalDate from, LocalDate to) => Tongue.Dates(from, to);

    /// <summary>"today", "tomorrow", "Thursday", "Thu 30 April": as one says it on a date.</summary>
    public string DayFrom(LocalDate today, LocalDate date) => Tongue.DayFrom(today, date);

    /// <summary>"1 day", "3 days".</summary>
    public string Counted(double count, [ConstantExpected] string noun) => Tongue.Counted(count, noun);

    /// <summary>"3", "2.5".</summary>
    public string Number(double value) => Trimmed(value, 1);

    private string Whole(double value) => Trimmed(value, 0);

    private string Trimmed(double value, int decimals) => Tongue.Number(value, decimals);

    private static double Rounded(double value, int decimals) => Math.Round(value, decimals, MidpointRounding.AwayFromZero);
}
