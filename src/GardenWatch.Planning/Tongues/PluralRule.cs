namespace GardenWatch.Planning.Tongues;

/// <summary>The forms that a counted noun can take; no language here has all of them.</summary>
public enum PluralCategory { One, Two, Few, Many, Other }

/// <summary>
/// Which form goes with a number. Source: Unicode CLDR, supplemental plural rules (cardinals), for the languages named
/// here; any other language counts as English does.
/// </summary>
public static class PluralRule
{
    public static PluralCategory Of(string code, double count)
    {
        string language = code.Split('-')[0].ToLowerInvariant();
        bool whole = count % 1 == 0;
        long n = (long)Math.Truncate(Math.Abs(count)), tens = n % 100, ones = n % 10;
        return language switch
        {
            "ja" or "zh" or "ko" or "vi" or "th" or "id" or "ms" => PluralCategory.Other,
            "fr" => n is 0 or 1 ? PluralCategory.One : PluralCategory.Other,
            "pt" => n is 0 or 1 ? PluralCategory.One : PluralCategory.Other,
            "pl" when whole => n == 1 ? PluralCategory.One : IsFew(ones, tens) ? PluralCategory.Few : PluralCategory.Many,
            "ru" or "uk" or "be" when whole =>
                ones == 1 && tens != 11 ? PluralCategory.One : IsFew(ones, tens) ? PluralCategory.Few : PluralCategory.Many,
            "sr" or "hr" or "bs" when whole =>
                ones == 1 && tens != 11 ? PluralCategory.One : IsFew(ones, tens) ? PluralCategory.Few : PluralCategory.Other,
            "cs" or "sk" => !whole ? PluralCategory.Many : n == 1 ? PluralCategory.One : n is >= 2 and <= 4 ? PluralCategory.Few : PluralCategory.Other,
            "sl" when whole =>
                tens == 1 ? PluralCategory.One : tens == 2 ? PluralCategory.Two : tens is 3 or 4 ? PluralCategory.Few : PluralCategory.Other,
            _ => count == 1 ? PluralCategory.One : PluralCategory.Other,
        };
    }

    private static bool IsFew(long ones, long tens) => ones is >= 2 and <= 4 && tens is not (>= 12 and <= 14);
}
