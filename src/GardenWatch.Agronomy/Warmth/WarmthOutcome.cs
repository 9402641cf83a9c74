using GardenWatch.Agronomy.Climate;
using NodaTime;

namespace GardenWatch.Agronomy.Warmth;

/// <summary>When gathered warmth comes to what a stage needs.</summary>
public abstract record WarmthOutcome
{
    private WarmthOutcome() { }

    /// <summary>On the last of the days that it took.</summary>
    public sealed record Reached(LocalDate Date) : WarmthOutcome;

    /// <summary>Not within the days at hand. Unknown days are counted as the mean of the known.</summary>
    public sealed record NotYet(double GatheredCd, double StillNeededCd) : WarmthOutcome;

    /// <summary>More than one day in ten is not known, and the known ones do not suffice.</summary>
    public sealed record Unknown(int UnknownDays, int Days) : WarmthOutcome;
}

/// <summary>When what is needed is likely reached. All dates are one where known and forecast days suffice.</summary>
/// <param name="SoFar">What the known and forecast days say.</param>
/// <param name="Past">How past years went on, where they were asked.</param>
/// <param name="Early">In one past year in ten sooner; null where it is not known, or where too few years came to it.</param>
/// <param name="Middle">In half of the past years sooner.</param>
/// <param name="Late">In one past year in ten later or never.</param>
public sealed record WarmthDates(WarmthOutcome SoFar, UsualDate? Past, LocalDate? Early, LocalDate? Middle, LocalDate? Late);
