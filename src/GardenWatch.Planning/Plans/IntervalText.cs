using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.Plans;

/// <summary>What reading a written interval gave.</summary>
public abstract record IntervalReading
{
    private IntervalReading() { }

    public sealed record Ok(int Days) : IntervalReading;

    public sealed record Fault(string Problem, string? Instead) : IntervalReading;
}

/// <summary>How often, or after how long: "every 6 weeks", "10 days", "a fortnight", "monthly".</summary>
public static class IntervalText
{
    /// <summary>A month of an interval is thirty days: nothing in a garden is due to the day of a month.</summary>
    private const int DaysInMonth = 30;
    private const int Longest = 730;

    public static IntervalReading Read(string text)
    {
        string plain = text.Length > 80 ? "" : WrittenNumber.Plain(text);
        string span = plain.StartsWith("every ", StringComparison.Ordinal) ? plain[6..] : plain;
        int? named = span switch
        {
            "day" or "daily" => 1,
            "other day" or "second day" => 2,
            "week" or "weekly" => 7,
            "other week" or "second week" or "fortnight" or "fortnightly" => 14,
            "month" or "monthly" or "a month" => DaysInMonth,
            "other month" => 2 * DaysInMonth,
            "year" or "yearly" or "once a year" or "a year" => 365,
            _ => null,
        };
        if (named is { } days)
            return new IntervalReading.Ok(days);
        return QuantityText.Read(span, Dimension.Days) switch
        {
            QuantityReading.Ok(var q) when q.Value < 1 || q.Value > Longest =>
                new IntervalReading.Fault($"`{text.Trim()}` is not between a day and two years", "such as `6 weeks`"),
            QuantityReading.Ok(var q) when q.Value % 1 != 0 =>
                new IntervalReading.Fault($"`{text.Trim()}` is not a whole number of days", $"`{Math.Round(q.Value)} days`"),
            QuantityReading.Ok(var q) => new IntervalReading.Ok((int)q.Value),
            QuantityReading.Fault(var problem, var instead) => new IntervalReading.Fault(problem, instead),
            _ => new IntervalReading.Fault($"`{text.Trim()}` is not an interval", "such as `6 weeks`"),
        };
    }
}
