using System.Text;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using NodaTime;

namespace GardenWatch.Trial.Seasons;

/// <summary>The digests of a season that are worth reading one by one: every eleventh day's, and those of days on which something is new.</summary>
internal static class SeasonDigests
{
    private const int EveryDays = 11;

    public static string Of(IEnumerable<PlayedMorning> mornings)
    {
        var text = new StringBuilder();
        var seen = new HashSet<string>();
        PlayedMorning? before = null, first = null;
        foreach (var morning in mornings)
        {
            first ??= morning;
            string[] rare = [.. Rare(morning, before).Where(seen.Add)];
            if (morning.Digest is { } digest && (rare.Length > 0 || Period.DaysBetween(first.Date, morning.Date) % EveryDays == 0))
                text.Append("########## ").Append(string.Join(", ", rare)).Append('\n').Append(Written(digest, text.Length == 0)).Append('\n');
            before = morning;
        }
        return text.ToString();
    }

    /// <summary>The foot is the same each day.</summary>
    private static string Written(Digest digest, bool withFoot)
    {
        string text = DigestText.Write(digest);
        return withFoot ? text : text[..(text.IndexOf("\n--\n", StringComparison.Ordinal) + 1)];
    }

    private static IEnumerable<string> Rare(PlayedMorning morning, PlayedMorning? before)
    {
        foreach (var job in morning.Agenda.Jobs.Where(job => job.Standing == Standing.Now))
        {
            if (job.Kind is JobKind.Cover && job.Protects)
                yield return morning.Date.Month is > 3 and < 10 == morning.Plan.Place.LatitudeDegrees > 0 ? "first cover of the growing half" : "first cover of the resting half";
            if (job.Kind is JobKind.Harvest)
                yield return "first harvest of " + job.Crop;
            if (job.Threat is not null)
                yield return "first " + job.Kind.Word() + " against weather";
        }
        if (morning.Agenda.Jobs.Any(job => job.Standing == Standing.Missed))
            yield return "first job missed";
        if (!morning.Agenda.BeforeLeaving.IsEmpty)
            yield return "before leaving";
        if (morning.ForSitter)
            yield return "first for the sitter";
        if (before is not null && morning.Plan.Away.Any(away => away.To == before.Date))
            yield return "return";
        if (before is not null && before.Plan != morning.Plan)
            yield return "plan edited";
        if (morning.Agenda.Rests)
            yield return "first at rest";
    }
}
