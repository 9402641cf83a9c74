namespace GardenWatch.Weather.OpenMeteo;

/// <summary>What a column of an answer holds: a variable, and whose.</summary>
/// <param name="Member">0 for the only run, or an ensemble's control; else the number of the perturbed run.</param>
internal readonly record struct ColumnKey(ServiceVariable Variable, int Member)
{
    private const string MemberMark = "_member";

    /// <summary>Of an answer of one run: the name asked for, and nothing else.</summary>
    public static ColumnKey? Plain(string name) => ServiceVariable.Named(name) is { } variable ? new(variable, 0) : null;

    /// <summary>
    /// Of an ensemble's answer: the control under the plain name, the others with <c>_member01</c> and so on; where the
    /// service adds its own name of the model, that comes last.
    /// </summary>
    public static ColumnKey? OfMember(string name)
    {
        foreach (var variable in ServiceVariable.All)
        {
            if (!name.StartsWith(variable.Name, StringComparison.Ordinal))
                continue;
            var rest = name.AsSpan(variable.Name.Length);
            if (rest.IsEmpty)
                return new(variable, 0);
            if (rest.StartsWith(MemberMark, StringComparison.Ordinal))
            {
                rest = rest[MemberMark.Length..];
                int digits = rest.IndexOfAnyExceptInRange('0', '9') is var end and >= 0 ? end : rest.Length;
                return digits is 2 or 3 && int.Parse(rest[..digits], System.Globalization.CultureInfo.InvariantCulture) is var member and > 0
                    && (digits == rest.Length || rest[digits] == '_')
                    ? new(variable, member)
                    : null;
            }
            // The control with the model's name, unless it is one of the variables that begin alike.
            if (rest[0] == '_' && !OtherVariables.Contains(name))
                return new(variable, 0);
        }
        return null;
    }

    // Hourly variables of the service whose names go on where one of ours ends.
    private static readonly HashSet<string> OtherVariables =
        ["precipitation_probability", "cloud_cover_low", "cloud_cover_mid", "cloud_cover_high", "snowfall_height", "shortwave_radiation_instant"];
}
