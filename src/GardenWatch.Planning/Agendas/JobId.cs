using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using GardenWatch.Planning.Crops;

namespace GardenWatch.Planning.Agendas;

/// <summary>
/// Garden id, subject id, kind and the how-manieth time. Never made of a name or of a place in a list, so that it
/// stays the same while the job is open, whatever the gardener renames or moves in the file.
/// </summary>
public readonly record struct JobId(string GardenId, string SubjectId, JobKind Kind, int Time)
{
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{GardenId}/{SubjectId}/{Kind.Word().Replace(' ', '-')}/{Time}");

    public static bool TryParse(string text, [NotNullWhen(true)] out JobId? id)
    {
        id = null;
        var parts = text.Split('/');
        if (parts.Length != 4 ||
            JobKindWords.Of(parts[2].Replace('-', ' ')) is not { } kind ||
            !int.TryParse(parts[3], NumberStyles.None, CultureInfo.InvariantCulture, out int time))
            return false;
        id = new JobId(parts[0], parts[1], kind, time);
        return true;
    }
}
