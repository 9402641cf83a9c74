using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

/// <summary>The days to the first picking that a packet tells, in the weather that the batch has: cold days count in part, and days in a pot that wait for the bed not at all.</summary>
internal static class PacketDays
{
    // A packet's days of more than five months have a winter in them already.
    private const int WithoutWinterDays = 150;
    // Packets speak of spring and summer, whose days have about three quarters of the warmth at which a crop's best range begins. Common practice.
    private const double UsualShareOfBest = 0.75;
    // What is set out has to root first, however long it was raised. Common practice.
    private const int LeastAfterSettingOutDays = 14;

    /// <param name="begun">From when its crop's packet counts.</param>
    /// <returns>Null for a crop without such days.</returns>
    public static DateInterval? Of(Season season, Sowing sowing, DateInterval begun)
    {
        var crop = sowing.Planting.Crop;
        if (crop.Days is not { } days)
            return null;
        if (crop.WeeksIndoors is var (least, most) && days.Counted == CountedFrom.Sowing && SetOut(sowing) is { } setOut)
            // Of plants whose age nobody told, the late date counts none of it.
            return Reached(setOut, (After(days.From, most), After(days.To, sowing.SownOn is null ? 0 : least)));
        return Reached(begun, (days.From, days.To));

        DateInterval Reached(DateInterval since, (int From, int To) wanted)
        {
            var early = Counted(season, sowing.Planting, since.Start, wanted.From);
            return new(early, LocalDate.Max(early, Counted(season, sowing.Planting, since.End, wanted.To)));
        }

        static int After(int packet, int weeksRaised) => Math.Max(LeastAfterSettingOutDays, packet - 7 * weeksRaised);
    }

    private static DateInterval? SetOut(Sowing sowing) =>
        !sowing.IsSetOut ? null : sowing.SetOutOn is { } date ? new(date, date) : sowing.SetOutLikely;

    /// <summary>So many days later, a day counting as far as its warmth is that of a day the packet means; by the calendar where warmth is not known.</summary>
    public static LocalDate Counted(Season season, Planting planting, LocalDate since, int days)
    {
        var crop = planting.Crop;
        if (days > WithoutWinterDays || crop is not { Warmth: { Base: var from }, Growth.BestFrom: { } best } || season.WarmthOf(planting) is not { } course)
            return since.PlusDays(days);
        double usual = UsualShareOfBest * (best.Celsius - from.Celsius), sum = 0;
        var date = since;
        // A winter in which it stands still may lie between; after a year the calendar is as good a guess.
        for (; sum < days && Period.DaysBetween(since, date) < 365; date = date.PlusDays(1))
            sum += course.Of(date) is { } warmth && usual > 0 ? Math.Min(1, warmth / usual) : 1;
        return date;
    }
}
