using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>Where the garden is, as a gardener answers: a town, or latitude and longitude.</summary>
public abstract partial record PlaceSaid
{
    private const string Example = "`48.1, 11.5`: degrees north, then degrees east; south and west are less than nothing";

    private PlaceSaid() { }

    /// <param name="Within">"Ohio" of "Toronto, Ohio": state, county or country; null when it is not said.</param>
    public sealed record Town(string Name, string? Within) : PlaceSaid
    {
        /// <summary>Whether a town of the name lies in what was said beside it.</summary>
        public bool IsWithin(string? region, string? country, string? countryCode) =>
            Within is null || IsMeant(region, Within) || IsMeant(country, Within) || string.Equals(countryCode, Within, StringComparison.OrdinalIgnoreCase);

        private static bool IsMeant(string? name, string said) => name?.Contains(said, StringComparison.OrdinalIgnoreCase) == true;
    }

    public sealed record Position(double LatitudeDegrees, double LongitudeDegrees) : PlaceSaid;

    public sealed record Fault(string Problem, string Instead) : PlaceSaid;

    public static PlaceSaid Read(string text)
    {
        string said = Words.Tidy(text);
        if (said.Length == 0)
            return new Fault("no place is said", "the nearest town, or latitude and longitude, such as " + Example);
        if (TwoAngles().Match(WrittenNumber.Plain(said)) is { Success: true } angles)
            return PositionOf(said, angles);
        if (!said.Any(char.IsLetter))
            return new Fault($"`{said}` is no town, and no latitude and longitude", Example);
        string[] parts = said.Split([',', '(', ')', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return parts is [{ Length: >= 2 and <= 100 } name, .. var within]
            ? new Town(name, within is [var first, ..] ? first : null)
            : new Fault($"`{said}` is no name of a town", "2 to 100 letters, or " + Example);
    }

    private static PlaceSaid PositionOf(string said, Match angles)
    {
        var (one, other) = (Angle.Of(angles, "a"), Angle.Of(angles, "b"));
        if (one.Side is 'e' or 'w' && other.Side is 'n' or 's')
            (one, other) = (other, one);
        if (one.Side is 'e' or 'w' || other.Side is 'n' or 's')
            return new Fault($"`{said}` is not one latitude and one longitude", Example);
        if (Math.Abs(one.Degrees) > 90 && Math.Abs(other.Degrees) <= 90)
            return new Fault($"`{said}` has no latitude: {Number(one.Degrees)} is more than 90 degrees", $"`{Number(other.Degrees)}, {Number(one.Degrees)}`, if they were turned round");
        return Math.Abs(one.Degrees) <= 90 && Math.Abs(other.Degrees) <= 180
            ? new Position(one.Degrees, other.Degrees)
            : new Fault($"`{said}` is nowhere on the earth", "latitude from -90 to 90, longitude from -180 to 180, such as " + Example);
    }

    private static string Number(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    private readonly record struct Angle(double Degrees, char? Side)
    {
        public static Angle Of(Match match, string name)
        {
            double Part(string part) => match.Groups[name + part] is { Success: true } group
                ? double.Parse(group.Value.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture)
                : 0;
            string side = match.Groups[name + "side"].Success ? match.Groups[name + "side"].Value : match.Groups[name + "before"].Value;
            double degrees = Part("deg") + Part("min") / 60 + Part("sec") / 3600;
            bool negative = match.Groups[name + "sign"].Value == "-" ^ side is "s" or "w";
            return new(negative ? -degrees : degrees, side.Length > 0 ? side[0] : null);
        }
    }

    private const string First = @"(?<abefore>[nsew])? ?(?<asign>[-+])?(?<adeg>[0-9]{1,3}(?:[.,][0-9]{1,8})?) ?(?:°|deg)? ?(?:(?<amin>[0-9]{1,2}(?:[.,][0-9]{1,6})?) ?' ?)?(?:(?<asec>[0-9]{1,2}(?:[.,][0-9]{1,6})?) ?(?:""|'') ?)?(?(abefore)|(?<aside>[nsew])?)";
    private const string Second = @"(?<bbefore>[nsew])? ?(?<bsign>[-+])?(?<bdeg>[0-9]{1,3}(?:[.,][0-9]{1,8})?) ?(?:°|deg)? ?(?:(?<bmin>[0-9]{1,2}(?:[.,][0-9]{1,6})?) ?' ?)?(?:(?<bsec>[0-9]{1,2}(?:[.,][0-9]{1,6})?) ?(?:""|'') ?)?(?(bbefore)|(?<bside>[nsew])?)";

    [GeneratedRegex("^(?:lat(?:itude)?:? ?)?" + First + "(?: ?[,;/] ?| )(?:(?:lon|lng)(?:gitude)?:? ?)?" + Second + "$", RegexOptions.CultureInvariant)]
    private static partial Regex TwoAngles();
}
