using NodaTime;
using NodaTime.Text;

namespace GardenWatch.Store;

/// <summary>
/// How times stand in the file. Text of one length, not a number: the owner can read it with any SQLite tool, and it
/// sorts as time goes. Milliseconds are cut, never rounded up, so that nothing is stamped later than it happened.
/// </summary>
public static class StoreText
{
    private static readonly InstantPattern Instants =
        InstantPattern.CreateWithInvariantCulture("uuuu'-'MM'-'dd'T'HH':'mm':'ss'.'fff'Z'");

    public static string Of(Instant instant) => Instants.Format(instant);

    public static string Of(LocalDate date) => LocalDatePattern.Iso.Format(date);

    public static Instant ToInstant(string text) => Instants.Parse(text).GetValueOrThrow();

    public static LocalDate ToDate(string text) => LocalDatePattern.Iso.Parse(text).GetValueOrThrow();

    /// <summary>Null when the text is no local date (the occasion of a warning is an event).</summary>
    public static LocalDate? TryDate(string text) =>
        LocalDatePattern.Iso.Parse(text) is { Success: true } parsed ? parsed.Value : null;
}
