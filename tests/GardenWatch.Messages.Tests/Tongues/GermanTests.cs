using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using GardenWatch.Agronomy.Series;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Replies;
using GardenWatch.Messages.Tests.Mail;
using GardenWatch.Messages.Warnings;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Planning.Tests.Agendas;
using GardenWatch.Planning.Tongues;
using MimeKit;

namespace GardenWatch.Messages.Tests.Tongues;

/// <summary>The German file as it ships, and a digest and a warning that it makes.</summary>
public sealed class GermanTests
{
    private static readonly Addressee Somebody = new("uli@example.org", UnitSystem.Metric);

    private static TongueReading German { get; } = TongueFile.Read(
        File.ReadAllText(Path.Combine(Samples(), "languages", "de.yaml")), "de.yaml", Phrases.Of(CropShelf.Shipped(ConditionText.Read)));

    [Fact]
    public void The_file_has_no_fault() => Assert.Equal([], German.Faults);

    [Fact]
    public void A_frosty_digest_reads_as_approved()
    {
        var digest = Digest.Of(FrostyMorning(), [], Somebody, SampleGarden.Answerable);
        Approved.Check(DigestText.Write(digest), "german-digest", "txt");
        Approved.Check(DigestHtml.Write(digest), "german-digest", "html");
    }

    [Fact]
    public void A_frost_warning_reads_as_approved() => Approved.Check(DigestText.Write(Warning()), "german-warning", "txt");

    [Fact]
    public void Its_mail_keeps_to_the_standards_and_its_subject_reads_back()
    {
        var digest = Digest.Of(FrostyMorning(), [], Somebody, SampleGarden.Answerable);
        var mail = OutgoingMail.Render(digest, "a.1", "garden@example.org", Somebody.Address, SampleGarden.At(SampleGarden.Tuesday, 6), "under@example.org");
        Assert.Empty(MailLint.Faults(mail.Bytes));
        using var stream = new MemoryStream([.. mail.Bytes]);
        using var read = MimeMessage.Load(stream, TestContext.Current.CancellationToken);
        Assert.Equal(digest.Subject, read.Subject);
        Assert.Contains("Tomaten", read.Subject, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("erledigt", "Welche Arbeit ist gemeint? Schreiben Sie ihre Nummer, etwa „done 1“.")]
    [InlineData("ich hatte 1 fast erledigt", "Es ist nicht klar, was erledigt ist. Schreiben Sie es so: „erledigt 1“, „2 in 3 Tagen“ oder „3 auslassen“.")]
    public void What_is_not_clear_is_asked_back_in_german(string written, string question)
    {
        ImmutableArray<AskedJob> jobs = [new(1, "Tomaten abdecken"), new(2, "Radieschen säen")];
        var answers = ReplyReader.Read([new OwnWords(written)], new(2026, 4, 21), new Speech(UnitSystem.Metric, NodaTime.DateTimeZone.Utc, German.Tongue), jobs);
        Assert.Equal(question, Assert.IsType<Answer.Unclear>(Assert.Single(answers)).Question);
    }

    [Fact]
    public void Numbers_hours_and_dates_are_the_language_s_own()
    {
        var speech = new Speech(UnitSystem.Us, NodaTime.DateTimeZone.Utc, German.Tongue);
        Assert.Equal("0,3\u00A0Zoll", speech.Water(7.6));
        Assert.Equal("19:30", speech.Hour(new NodaTime.LocalTime(19, 30)));
        Assert.Equal("Di, 21. April", speech.Day(new(2026, 4, 21)));
        Assert.Equal("6. bis 15. Mai", speech.Dates(new(2026, 5, 6), new(2026, 5, 15)));
        Assert.Equal("1\u00A0Tag", speech.Counted(1, "day"));
        Assert.Equal("3\u00A0Tage", speech.Counted(3, "day"));
        Assert.Equal("7 von 10", speech.Chance(0.7));
    }

    private static WarningMessage Warning()
    {
        var agenda = Frost().At("16:30");
        return WarningMessage.Of(agenda, [.. agenda.Jobs.Where(job => job.Kind == JobKind.Cover)], [], Somebody, SampleGarden.Answerable.AnswerAddress);
    }

    private static Agenda FrostyMorning() => Frost().At();

    private static Scenario Frost() => Scenario.On(2026, 5, 7).In(German.Tongue!)
        .Plan("""
            beds:
              - { bed: Küchenbeet, size: 1.2 m x 3 m }
              - { bed: Senke, size: 1.2 m x 2.4 m, frost pocket: 1 °C, cover: light fleece }
            plantings:
              - { crop: tomato, bed: Senke, set out: 5 May 2026 }
              - { crop: radish, bed: Küchenbeet, sowings: every 10 days until too warm }
              - { crop: winter squash, bed: Küchenbeet, bought: early May }
            """)
        .ClearAndCalm().Hourly(WeatherVariable.Air, Scenario.Between(9, 21)).Days(WeatherVariable.Air, 0, 1, Scenario.Between(1.5, 13))
        .Days(WeatherVariable.Rain, 3, 3, at => at.Hour is >= 8 and < 14 ? 1.2 : 0);

    private static string Samples([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "..", "config-samples"));
}
