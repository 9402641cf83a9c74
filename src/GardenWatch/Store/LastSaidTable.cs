using System.Collections.Immutable;
using GardenWatch.Planning.Agendas;
using NodaTime;

namespace GardenWatch.Store;

/// <summary>What a garden's messages of one local date tell.</summary>
public sealed record ToldToday(string Garden, LastSaid Said, LocalDate On, Instant At);

/// <summary>What the messages have told, so that nothing is told twice and waiting days can be counted.</summary>
public sealed class LastSaidTable(StoreConnection connection)
{
    private const string Insert =
        """
        INSERT INTO last_said (garden, about, subject, standing, value, said_on, said_at)
        VALUES ($garden, $about, $subject, $standing, $value, $on, $at)
        ON CONFLICT DO NOTHING
        """;

    // The last word on each subject, beside the dates of all that was said of it.
    private const string Select =
        """
        SELECT last.about, last.subject, last.standing, last.value, every.first_on, every.last_on, every.asked
        FROM (SELECT about, subject, min(said_on) AS first_on, max(said_on) AS last_on, max(id) AS id,
                     count(DISTINCT CASE standing WHEN 'now' THEN said_on END) AS asked
              FROM last_said
              WHERE garden = $garden AND said_at <= $asOf AND id NOT IN (SELECT row FROM set_aside WHERE subject = 'last_said')
              GROUP BY about, subject) AS every
        JOIN last_said AS last ON last.id = every.id
        """;

    /// <summary>Part of the transaction that stores the message which says it.</summary>
    /// <param name="said">Only what was said on <paramref name="on"/> is new.</param>
    internal static void Add(StoreConnection.Transaction transaction, string garden, LastSaid said, LocalDate on, Instant at)
    {
        foreach (var (job, what) in said.Jobs)
            if (what.LastOn == on)
                transaction.Run(Insert, ("$garden", garden), ("$about", "job"), ("$subject", job), ("$standing", Word(what.Standing)),
                    ("$value", what.Value), ("$on", StoreText.Of(on)), ("$at", StoreText.Of(at)));
        foreach (var (sowing, stage) in said.Stages)
            transaction.Run(Insert, ("$garden", garden), ("$about", "sowing"), ("$subject", sowing), ("$standing", stage),
                ("$value", null), ("$on", StoreText.Of(on)), ("$at", StoreText.Of(at)));
    }

    public LastSaid AsOf(string garden, Instant asOf)
    {
        var jobs = ImmutableDictionary.CreateBuilder<string, Said>();
        var stages = ImmutableDictionary.CreateBuilder<string, string>();
        var rows = connection.Read(
            Select,
            row => (About: row.GetString(0), Subject: row.GetString(1), Standing: row.GetString(2),
                Value: row.IsDBNull(3) ? (double?)null : row.GetDouble(3), First: StoreText.ToDate(row.GetString(4)), Last: StoreText.ToDate(row.GetString(5)), Asked: row.GetInt32(6)),
            ("$garden", garden), ("$asOf", StoreText.Of(asOf)));
        foreach (var row in rows)
        {
            if (row.About == "job")
                jobs[row.Subject] = new(row.First, row.Last, StandingOf(row.Standing), row.Value) { TimesAsked = row.Asked };
            else
                stages[row.Subject] = row.Standing;
        }
        return new(jobs.ToImmutable(), stages.ToImmutable());
    }

    private static string Word(Standing standing) => standing.ToString().ToLowerInvariant();

    private static Standing StandingOf(string word) =>
        Enum.GetValues<Standing>().FirstOrDefault(standing => Word(standing) == word, Standing.Waiting);
}
