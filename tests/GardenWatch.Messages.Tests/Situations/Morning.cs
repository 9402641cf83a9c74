using System.Text.RegularExpressions;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tests.Agendas;
using NodaTime;

namespace GardenWatch.Messages.Tests.Situations;

/// <summary>What a gardener is told on one morning: the agenda, and the digest as plain text on one line.</summary>
internal sealed partial record Morning(Agenda Agenda, Digest Digest)
{
    private static readonly Addressee Reader = new("you@example.org", UnitSystem.Metric);

    public static Morning Of(Scenario scenario) => Of(scenario.At());

    public static Morning Of(Agenda agenda) => new(agenda, Digest.Of(agenda, [], Reader, DigestOccasion.OnTime));

    public string Text => WhiteSpace().Replace(DigestText.Write(Digest), " ");

    public string Subject => Digest.Subject;

    public Job The(JobKind kind) => Assert.Single(Agenda.Jobs, job => job.Kind == kind);

    public Job The(JobKind kind, string subject) => Assert.Single(Agenda.Jobs, job => job.Kind == kind && job.SubjectId == subject);

    public bool Asks(JobKind kind) => Agenda.Jobs.Any(job => job.Kind == kind && job.Standing == Standing.Now);

    /// <summary>The text of a section, by its title; empty where it is left out.</summary>
    public string Section(string title) =>
        Digest.Sections.FirstOrDefault(section => section.Title == title) is { } section
            ? WhiteSpace().Replace(DigestText.Write(Digest with { Sections = [section], Lead = "", Subject = "", Foot = [] }), " ")
            : "";

    public LocalTime TimeOf(Instant at) => at.InZone(Agenda.Zone).TimeOfDay;

    public LocalDate DateOf(Instant at) => at.InZone(Agenda.Zone).Date;

    /// <summary>
    /// The air of nights and days counted from a date: each night falls to its low at five in the morning, each day rises to its
    /// high at three. Nights before and days after are as usual.
    /// </summary>
    /// <param name="lows">Of the night that begins on the date, the next one, and so on.</param>
    /// <param name="highs">Of the date, the next one, and so on.</param>
    public static Func<LocalDateTime, double> Course(LocalDate date, double usualLow, double usualHigh, double[] lows, double[]? highs = null)
    {
        double Low(int night) => night >= 0 && night < lows.Length ? lows[night] : usualLow;
        double High(int day) => highs is not null && day >= 0 && day < highs.Length ? highs[day] : usualHigh;
        return at =>
        {
            int day = Period.DaysBetween(date, at.Date);
            double hour = at.Hour + at.Minute / 60.0;
            return hour < 5 ? Between(High(day - 1), Low(day - 1), (hour + 9) / 14)
                : hour < 15 ? Between(Low(day - 1), High(day), (hour - 5) / 10)
                : Between(High(day), Low(day), (hour - 15) / 14);
        };

        static double Between(double from, double to, double share) => from + (to - from) * (1 - Math.Cos(Math.PI * share)) / 2;
    }

    [GeneratedRegex(@"[\s\u00A0]+")]
    private static partial Regex WhiteSpace();
}
