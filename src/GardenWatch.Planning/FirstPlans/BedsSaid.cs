using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Planning.FirstPlans;

/// <summary>A bed as it was understood.</summary>
/// <param name="SizeMetres">Null when it was not told.</param>
/// <param name="ContainerLitres">Of one pot; null for a bed in the ground.</param>
/// <param name="Guess">What was assumed of it; null when nothing was.</param>
public sealed record FirstBed(string Name, Overhead Over, (double Width, double Length)? SizeMetres, double? ContainerLitres, string? Guess);

/// <summary>What reading the answer on beds gave.</summary>
public abstract record BedsReading
{
    private BedsReading() { }

    public sealed record Ok(ImmutableArray<FirstBed> Beds) : BedsReading;

    public sealed record Fault(string Problem, string Instead) : BedsReading;
}

/// <summary>Beds in a gardener's words: "two 1.2 x 3 m, a row of pots, one 4x8 ft", "3", "the bed by the shed, a greenhouse 2 x 3 m".</summary>
public static partial class BedsSaid
{
    public const int MostBeds = 60;
    private const string Example = "such as `two 1.2 x 3 m, one 4 x 8 ft, a row of pots`, or just their number";
    /// <summary>"A few" of something that nobody counted.</summary>
    private const int AFew = 3;
    /// <summary>A bed of which only the area is known is taken to be as wide as two arms reach from its sides.</summary>
    private const double ReachedFromBothSidesMetres = 1.2;
    private const double LargestBedSquareMetres = 12;
    /// <summary>Room for one row of plants.</summary>
    private const double RowMetres = 0.5;

    /// <summary>Litres that such a vessel usually holds. Common practice.</summary>
    private static readonly (string Word, double Litres)[] Vessels =
    [
        ("hanging basket", 8), ("window box", 10), ("balcony box", 10), ("grow bag", 40), ("growbag", 40), ("flower pot", 10), ("flowerpot", 10), ("half barrel", 100),
        ("pot", 10), ("container", 20), ("tub", 40), ("bucket", 12), ("planter", 30), ("trough", 30), ("barrel", 100), ("crate", 30), ("basket", 8),
    ];

    private static readonly (string Word, Overhead Over)[] Roofs =
    [
        ("greenhouse", Overhead.Greenhouse), ("glasshouse", Overhead.Greenhouse), ("conservatory", Overhead.Greenhouse),
        ("polytunnel", Overhead.Tunnel), ("poly tunnel", Overhead.Tunnel), ("tunnel", Overhead.Tunnel), ("hoop house", Overhead.Tunnel), ("hoophouse", Overhead.Tunnel), ("film house", Overhead.Tunnel),
        ("cold frame", Overhead.Frame), ("frame", Overhead.Frame),
        ("windowsill", Overhead.Windowsill), ("window sill", Overhead.Windowsill), ("sill", Overhead.Windowsill), ("indoors", Overhead.Windowsill), ("kitchen window", Overhead.Windowsill),
    ];

    /// <param name="units">Of sizes without one.</param>
    public static BedsReading Read(string text, UnitSystem units)
    {
        var items = new List<(FirstBed Bed, int Count)>();
        foreach (string item in Words.Items(text))
        {
            switch (Item(item, units))
            {
                case (null, _, { } fault):
                    return fault;
                case ({ } bed, var count, _):
                    items.Add((bed, count));
                    break;
            }
        }
        int all = items.Sum(item => item.Count);
        if (all == 0)
            return new BedsReading.Fault("without a bed or a pot there is nowhere to grow", Example);
        if (all > MostBeds)
            return new BedsReading.Fault($"{all} beds are more than are named in one answer", $"the first {MostBeds} or fewer; the plan may have more");
        return new BedsReading.Ok(Named(items));
    }

    /// <summary>What shares a name is numbered through.</summary>
    private static ImmutableArray<FirstBed> Named(List<(FirstBed Bed, int Count)> items)
    {
        var same = items.GroupBy(item => item.Bed.Name, StringComparer.OrdinalIgnoreCase).ToDictionary(group => group.Key, group => group.Sum(item => item.Count), StringComparer.OrdinalIgnoreCase);
        var told = new Dictionary<string, int>(StringComparer.OrdinalIgnoreCase);
        var beds = ImmutableArray.CreateBuilder<FirstBed>();
        foreach (var (bed, count) in items)
        {
            for (int i = 0; i < count; i++)
            {
                int number = told[bed.Name] = told.GetValueOrDefault(bed.Name) + 1;
                beds.Add(same[bed.Name] == 1 ? bed : bed with { Name = string.Create(CultureInfo.InvariantCulture, $"{bed.Name} {number}") });
            }
        }
        return beds.ToImmutable();
    }

    private static (FirstBed? Bed, int Count, BedsReading.Fault? Fault) Item(string item, UnitSystem units)
    {
        if (Nothing().IsMatch(item))
            return (new("bed", Overhead.Open, null, null, null), 0, null);
        string rest = item;
        (double, double)? size = null;
        double? litres = null;
        int? count = null;
        string? guess = null;

        if (TwoLengths().Match(rest) is { Success: true } two)
        {
            if (two.Groups["count"].Success)
                count = int.Parse(two.Groups["count"].Value, CultureInfo.InvariantCulture);
            switch (SizeText.Read(WithUnit(two, units, ref guess)))
            {
                case SizeReading.Ok(var a, var b) when a > 0 && b > 0 && a <= 200 && b <= 200:
                    size = (a, b);
                    break;
                case SizeReading.Ok:
                    return (null, 0, new($"`{item}`: no bed is of that size", "look at the numbers and their unit"));
                case SizeReading.Fault(var problem, var instead):
                    return (null, 0, new(problem, instead ?? Example));
            }
            rest = Without(rest, two);
        }
        else if (OneQuantity(ref rest, Area(), Dimension.Area) is { } area)
        {
            double width = area <= LargestBedSquareMetres ? Math.Min(ReachedFromBothSidesMetres, Math.Sqrt(area)) : Math.Sqrt(area);
            size = (width, area / width);
            guess = "of the area that was told; its shape is a guess";
        }
        else if (OneQuantity(ref rest, Litres(), Dimension.Volume) is { } told)
            litres = told;
        else if (OneQuantity(ref rest, Length(), Dimension.Length) is { } length)
        {
            bool isRow = Row().IsMatch(rest);
            size = isRow ? (RowMetres, length) : null;
            guess = isRow ? "its width is a guess" : "one length alone is no size; write `size: 1.2 m x 3 m`";
        }

        if (count is null && Few().Match(rest) is { Success: true } few)
        {
            (count, rest) = (AFew, rest[few.Length..]);
            guess ??= "how many there are is a guess";
        }
        (int? before, rest) = Words.Count(rest);
        count ??= before;
        (int? after, rest) = Words.Count(Filler().Replace(rest, " ").Trim());
        return Made(rest, count ?? after, size, litres, guess);
    }

    private static (FirstBed? Bed, int Count, BedsReading.Fault? Fault) Made(string name, int? told, (double, double)? size, double? litres, string? guess)
    {
        string plain = name.ToLowerInvariant();
        int count = told ?? 1;
        var roof = Roofs.FirstOrDefault(known => Has(plain, known.Word));
        var vessel = Vessels.FirstOrDefault(known => Has(plain, known.Word));
        if (litres is not null || vessel.Word is not null && size is null && roof.Word is null)
        {
            // One entry for all of a kind: nobody wants a job for each pot.
            string vessels = Short(Clean(GroupOf().Replace(name, "")));
            if (vessels.Length == 0)
                vessels = "pot";
            if (litres is null)
                guess = "what one holds is a guess";
            return (new(Plural(vessels, count > 1 || GroupOf().IsMatch(name)), Overhead.Open, null, litres ?? vessel.Litres, guess), count == 0 ? 0 : 1, null);
        }
        string clean = Clean(name);
        if (count > 1 || told is null && Plurals().IsMatch(clean))
        {
            if (told is null && size is null && Plurals().IsMatch(clean) && roof.Word is null)
            {
                count = 2;
                guess ??= "how many there are is a guess";
            }
            clean = Singular(clean);
        }
        clean = Short(clean);
        return (new(clean.Length == 0 ? "bed" : clean, roof.Word is null ? Overhead.Open : roof.Over, size, null, guess), count, null);
    }

    private static string Short(string name) => name.Length > LongestName ? name[..LongestName].Trim() : name;

    // A plan takes ten letters more: a number may follow, and the ending of several.
    private const int LongestName = 50;

    /// <summary>Two lengths as <see cref="SizeText"/> reads them; a unit that is missing is what the gardener's own would be.</summary>
    private static string WithUnit(Match two, UnitSystem units, ref string? guess)
    {
        string a = two.Groups["a"].Value, b = two.Groups["b"].Value;
        if (two.Groups["au"].Success || two.Groups["bu"].Success)
            return $"{a}{two.Groups["au"].Value} x {b}{two.Groups["bu"].Value}";
        bool small = Value(a) >= 20 && Value(b) >= 20;
        string unit = units == UnitSystem.Us ? (small ? "in" : "ft") : small ? "cm" : "m";
        guess = $"no unit was told, taken as {unit}";
        return $"{a} x {b} {unit}";
    }

    private static double Value(string number) =>
        double.TryParse(number.Replace(',', '.'), NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double value) ? value : 0;

    private static double? OneQuantity(ref string rest, Regex pattern, Dimension dimension)
    {
        if (pattern.Match(rest) is not { Success: true } match
            || QuantityText.Read(match.Groups["quantity"].Value.Replace('-', ' '), dimension) is not QuantityReading.Ok { Quantity.Value: > 0 and < 5000 and var value })
            return null;
        rest = Without(rest, match);
        return value;
    }

    private static string Without(string text, Match match) => Words.Tidy(text[..match.Index] + " " + text[(match.Index + match.Length)..]);

    private static bool Has(string plain, string word) =>
        plain.IndexOf(word, StringComparison.Ordinal) is var at and >= 0 && (at == 0 || !char.IsLetter(plain[at - 1]))
        && plain[(at + word.Length)..] is var tail && (tail.Length == 0 || !char.IsLetter(tail[0]) || tail.StartsWith('s') || tail.StartsWith("es", StringComparison.Ordinal));

    private static string Clean(string name)
    {
        string clean = name.Trim(' ', ':', '-', '.', ',', '(', ')', '"', '\'');
        string before;
        do
        {
            before = clean;
            clean = Edge().Replace(clean, "").Trim(' ', ':', '-', '.', ',', '(', ')', '"', '\'');
        }
        while (clean != before);
        return clean;
    }

    private static string Singular(string name) =>
        name.EndsWith("boxes", StringComparison.OrdinalIgnoreCase) || name.EndsWith("patches", StringComparison.OrdinalIgnoreCase) ? name[..^2]
        : name.EndsWith('s') && !name.EndsWith("ss", StringComparison.Ordinal) ? name[..^1]
        : name;

    private static string Plural(string name, bool several) =>
        !several || name.EndsWith('s') ? name : name.EndsWith('x') ? name + "es" : name + "s";

    private const string Number = @"[0-9]{1,4}(?:[.,][0-9]{1,3})?(?: ?[½¼¾]| [1-3]/[2-4])?";
    private const string Unit = @"(?: ?(?:metres?|meters?|mm|cm|m|feet|foot|ft\.?|inch(?:es)?|in\.?|yards?|yd|'|"")(?![a-z²³]))";
    private const string Inches = @"(?: ?[0-9]{1,2} ?(?:""|''|inch(?:es)?|in\.?)(?![a-z]))?";

    [GeneratedRegex(@"(?<![0-9.,])(?:(?<count>[0-9]{1,2}) ?[x×*] ?)?(?<a>" + Number + ")(?<au>" + Unit + Inches + @")?(?: wide| long)? ?(?:x|×|\*|by) ?(?<b>" + Number + ")(?<bu>" + Unit + Inches + @")?(?: wide| long)?", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex TwoLengths();

    [GeneratedRegex(@"(?<quantity>" + Number + @" ?(?:m²|m2|m\^2|sq\.? ?m\b|sqm|square met(?:re|er)s?|sq\.? ?ft|sqft|ft²|ft2|square f(?:ee|oo)t))", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Area();

    [GeneratedRegex(@"(?<quantity>" + Number + @"[ -]?(?:litres?|liters?|l|gallons?|gal|quarts?|qt)(?![a-z]))", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Litres();

    [GeneratedRegex(@"(?<quantity>" + Number + Unit + ")", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Length();

    [GeneratedRegex(@"\b(?:row|hedge|strip|border|edge|fence)", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Row();

    [GeneratedRegex(@"^(?:a few|few|some|several) ", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Few();

    [GeneratedRegex(@"\b(?:each|about|around|roughly|approx\.?|approximately|circa|ca\.|measuring|sized|in size|together|in all)(?= |$)", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Filler();

    [GeneratedRegex(@"\b(?:a )?(?:rows?|groups?|lots?|sets?|collection|line|bunch|number) of ", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex GroupOf();

    [GeneratedRegex(@"^(?:the|my|our|an?|of|with|there (?:is|are)|i have|we have|is|are|x)(?: |$)|(?:^| )(?:of|with|at|is|are|for|in)$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Edge();

    [GeneratedRegex(@"\b(?:beds|borders|boxes|plots|patches|frames)$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Plurals();

    [GeneratedRegex(@"^(?:none|no|nothing|0|zero|no (?:garden )?(?:beds?|garden))(?: yet)?$", RegexOptions.CultureInvariant | RegexOptions.IgnoreCase)]
    private static partial Regex Nothing();
}
