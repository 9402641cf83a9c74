using NodaTime;

namespace GardenWatch.Planning.Plans;

/// <summary>Which way a date without a year looks from the day on which it was first read.</summary>
public enum Looking { Nearest, Back, Ahead }

/// <summary>A date as it stands in the file: often without a year, often a stretch of days. Fixed only from an anchor.</summary>
public abstract record WrittenDate
{
    private WrittenDate() { }

    /// <summary>The days meant, seen from <paramref name="anchor"/>: the date on which the words were first read.</summary>
    public abstract DateRange Resolve(LocalDate anchor, Looking looking = Looking.Nearest);

    /// <summary>Days before or after the anchor: "yesterday", "in two weeks".</summary>
    public sealed record FromAnchor(int Days) : WrittenDate
    {
        public override DateRange Resolve(LocalDate anchor, Looking looking = Looking.Nearest) =>
            new(anchor.PlusDays(Days), anchor.PlusDays(Days));
    }

    /// <summary>Days of a month. Days count from its end when not positive: 0 is the last, -6 the seventh last.</summary>
    /// <param name="Year">The year written, or null.</param>
    /// <param name="YearsOn">"last year" is -1, "this year" 0, "next year" 1, seen from the anchor; null when not said.</param>
    public sealed record OfMonth(int Month, int FromDay, int ToDay, int? Year = null, int? YearsOn = null) : WrittenDate
    {
        public override DateRange Resolve(LocalDate anchor, Looking looking = Looking.Nearest)
        {
            if (Year is { } written)
                return In(written) ?? Days(written, 28);
            if (YearsOn is { } on)
                return In(anchor.Year + on) ?? Days(anchor.Year + on, 28);
            // Four years either way, so that a 29 February is found.
            var years = Enumerable.Range(anchor.Year - 4, 9).Select(In).OfType<DateRange>().ToList();
            return looking switch
            {
                Looking.Back => years.Last(range => range.From <= anchor),
                Looking.Ahead => years.First(range => range.To >= anchor),
                _ => years.MinBy(range => Math.Abs(Period.DaysBetween(anchor, range.Middle))),
            };
        }

        private DateRange? In(int year) =>
            FromDay > CalendarSystem.Iso.GetDaysInMonth(year, Month) ? null : Days(year, CalendarSystem.Iso.GetDaysInMonth(year, Month));

        private DateRange Days(int year, int daysInMonth)
        {
            int from = FromDay > 0 ? FromDay : daysInMonth + FromDay;
            int to = ToDay > 0 ? ToDay : daysInMonth + ToDay;
            return new(new(year, Month, Math.Min(from, daysInMonth)), new(year, Month, Math.Min(to, daysInMonth)));
        }
    }
}

/// <summary>What reading a written date gave.</summary>
public abstract record DateReading
{
    private DateReading() { }

    public sealed record Ok(WrittenDate Date) : DateReading;

    public sealed record Fault(string Problem, string? Instead) : DateReading;
}
