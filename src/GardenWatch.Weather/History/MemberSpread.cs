using System.Collections.Immutable;
using GardenWatch.Agronomy.Frost;
using GardenWatch.Agronomy.Light;
using GardenWatch.Agronomy.Series;
using GardenWatch.Weather.OpenMeteo;
using NodaTime;

namespace GardenWatch.Weather.History;

/// <summary>Part of a date: the local day, or the night that begins on it.</summary>
public enum SpreadPart { Day, Night }

/// <summary>Where 10, 25, 50, 75 and 90 % of the members lie below; NaN when fewer than five know the whole part.</summary>
public readonly record struct Spread(double P10, double P25, double P50, double P75, double P90)
{
    private const int LeastMembers = 5;

    /// <summary>Quantiles of type 7; members that are NaN are left out.</summary>
    public static Spread Of(ReadOnlySpan<double> members)
    {
        double[] known = [.. members];
        known = Array.FindAll(known, value => !double.IsNaN(value));
        return known.Length < LeastMembers
            ? new(double.NaN, double.NaN, double.NaN, double.NaN, double.NaN)
            : new(At(0.10), At(0.25), At(0.50), At(0.75), At(0.90));

        double At(double share) => FrostDates.Quantile(known, share);
    }
}

/// <summary>What is kept of a member pull for good, to hold against what came: the spread of one day or night.</summary>
/// <param name="LeadDays">Days from the local date of the pull to the date.</param>
public sealed record MemberSpread(LocalDate Date, SpreadPart Part, int LeadDays, Spread LowC, Spread HighC, Spread RainMm)
{
    /// <summary>Of each day and night that lies wholly within the pull, in order.</summary>
    public static ImmutableArray<MemberSpread> Of(MemberPull pull, LocalCalendar calendar)
    {
        var spreads = ImmutableArray.CreateBuilder<MemberSpread>();
        var pulledOn = calendar.DateOf(pull.FetchedAt);
        for (var date = calendar.DateOf(pull.Start); date <= calendar.DateOf(pull.LastStamp); date = date.PlusDays(1))
            foreach (var part in new[] { SpreadPart.Day, SpreadPart.Night })
            {
                var span = part == SpreadPart.Day ? calendar.DayOf(date) : calendar.NightOf(date);
                int first = (int)Math.Ceiling((span.Start - pull.Start).TotalHours);
                int last = (int)Math.Floor((span.End - pull.Start).TotalHours);
                if (first >= 0 && last < pull.Hours && first < last)
                    spreads.Add(Of(pull, date, part, Period.DaysBetween(pulledOn, date), first, last));
            }
        return spreads.ToImmutable();
    }

    private static MemberSpread Of(MemberPull pull, LocalDate date, SpreadPart part, int lead, int first, int last)
    {
        var low = new double[pull.Members.Length];
        var high = new double[low.Length];
        var rain = new double[low.Length];
        for (int i = 0; i < low.Length; i++)
        {
            (low[i], high[i], _) = Figures(pull.Members[i].GetValueOrDefault(WeatherVariable.Air), first, last);
            // Rain is of the hour that ends at the stamp: the first stamp's fell before.
            (_, _, rain[i]) = Figures(pull.Members[i].GetValueOrDefault(WeatherVariable.Rain), first + 1, last);
        }
        return new(date, part, lead, Spread.Of(low), Spread.Of(high), Spread.Of(rain));
    }

    private static (double Low, double High, double Total) Figures(PulledColumn? column, int first, int last)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity, total = 0;
        for (int hour = first; hour <= last; hour++)
        {
            double value = column?[hour] ?? double.NaN;
            if (double.IsNaN(value))
                return (double.NaN, double.NaN, double.NaN);
            (low, high, total) = (Math.Min(low, value), Math.Max(high, value), total + value);
        }
        return (low, high, total);
    }
}
