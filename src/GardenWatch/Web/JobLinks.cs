using System.Collections.Immutable;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Web;

/// <summary>Makes the links of a message's jobs.</summary>
/// <param name="page">By which people reach the page.</param>
public sealed class JobLinks(Uri page, SecretTable secrets)
{
    /// <summary>By number; none when the key to sign them can't be stored: a message goes out without links rather than not at all.</summary>
    /// <param name="messageId">Before its @.</param>
    public ImmutableDictionary<int, string> Of(IEnumerable<(int Number, string JobId)> jobs, string messageId, Instant now) =>
        secrets.JobLinkKey() is { } key
            ? jobs.ToImmutableDictionary(job => job.Number, job => new JobLink(job.JobId, messageId, now + JobLink.Lasts).Address(page, key))
            : [];
}
