using GardenWatch.Agronomy.Quantities;

namespace GardenWatch.Agronomy.Diseases;

/// <summary>How weather suits an infection.</summary>
public enum Infection { None, Possible, Favoured }

/// <summary>Weather for the downy mildews of lettuce, cucumbers and basil: when to look, never a finding. Null when unknown.</summary>
/// <remarks>Anything sprayed follows its label and local rules.</remarks>
public static class DownyMildew
{
    /// <summary>Hours from six in the morning that lettuce must stay wet.</summary>
    public const double LettuceWetHours = 4;

    /// <summary>Lettuce: wet for four hours from six in the morning, and not too warm.</summary>
    /// <param name="wetHoursFromSix">Leaf wetness from 06:00 on, 0 to 18 h.</param>
    /// <param name="firstThreeHoursC">Mean air of the first three of them, °C.</param>
    /// <param name="nextFourHoursC">Mean air of the four hours after those.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>Wu, van Bruggen, Subbarao and Scherm 2002, Phytopathology 92:631: at most 20 and 22 °C.</remarks>
    public static bool? LettuceByWarmth(double wetHoursFromSix, double firstThreeHoursC, double nextFourHoursC)
    {
        Within.Checked(wetHoursFromSix, 0, 18, "Wet hours from six in the morning", "hours", nameof(wetHoursFromSix));
        // One condition that surely fails settles the day, whatever is unknown; all are looked at, so that none is wrong unseen.
        if (wetHoursFromSix < LettuceWetHours | Within.Air(firstThreeHoursC) > 20 | Within.Air(nextFourHoursC) > 22)
            return false;
        return double.IsNaN(wetHoursFromSix + firstThreeHoursC + nextFourHoursC) ? null : true;
    }

    /// <summary>Cucumber and its kin, by how long leaves are wet and how warm it is then.</summary>
    /// <param name="wetHours">On end, 0 to 240.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>
    /// Cohen 1977, Can. J. Bot. 55:1478-1487: below 2 h nothing; 2 h want about 20 °C, 6 h work from 10 to 15, 12 h from 5 to
    /// 10 °C; above 25 °C hardly ever (one treatment at 28 °C did). Where he gives a range for the least, its lower end is taken.
    /// </remarks>
    public static Infection? Cucurbit(double wetHours, double meanAirC)
    {
        Within.Checked(wetHours, 0, 240, "Wet hours on end", "hours", nameof(wetHours));
        if (wetHours < 2 | Within.Air(meanAirC) > 25 | meanAirC < 5)
            return Infection.None;
        if (double.IsNaN(wetHours) || double.IsNaN(meanAirC))
            return null;
        var (least, from, until) = wetHours switch
        {
            >= 24 => (5, 5, 20),
            >= 12 => (5, 10, 20),
            >= 6 => (10, 15, 20),
            _ => (20, 20, 20),
        };
        return meanAirC < least ? Infection.None : meanAirC >= from && meanAirC <= until ? Infection.Favoured : Infection.Possible;
    }

    /// <summary>Basil: four hours of wet leaves let it in.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>Cohen and Ben-Naim 2016, PLoS ONE 11:e0155330.</remarks>
    public static bool? BasilInfection(double wetHours) =>
        double.IsNaN(Within.Checked(wetHours, 0, 240, "Wet hours on end", "hours", nameof(wetHours))) ? null : wetHours >= 4;

    /// <summary>Basil: 7.5 hours of the night at 95 % and more make spores.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A value that can't be true.</exception>
    /// <remarks>Cohen and Ben-Naim 2016.</remarks>
    public static bool? BasilSpores(double nightHoursAt95Percent) =>
        double.IsNaN(Within.Checked(nightHoursAt95Percent, 0, 24, "Humid hours of a night", "hours", nameof(nightHoursAt95Percent))) ? null
        : nightHoursAt95Percent >= 7.5;

    /// <summary>Basil: outbreaks come in this warmth, 11.7 to 25 °C.</summary>
    /// <remarks>Mississippi State University Extension P2936 (53 to 77 °F).</remarks>
    public static bool? BasilWarmth(double meanAirC) =>
        double.IsNaN(Within.Air(meanAirC)) ? null : meanAirC is >= 11.7 and <= 25;
}
