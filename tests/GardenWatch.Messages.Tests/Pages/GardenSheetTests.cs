using System.Collections.Immutable;
using System.Xml.Linq;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Messages.Pages;
using GardenWatch.Messages.Tests.Digests;
using GardenWatch.Planning.Agendas;
using GardenWatch.Planning.Quantities;

namespace GardenWatch.Messages.Tests.Pages;

/// <summary>The agenda as the page shows it.</summary>
public class GardenSheetTests
{
    private static GardenSheet SheetOf(Agenda agenda, ImmutableDictionary<string, int>? numbers = null) =>
        GardenSheet.Of(agenda, [], UnitSystem.Us, numbers ?? ImmutableDictionary<string, int>.Empty);

    [Fact]
    public void Pictures_are_whole_without_styles_and_say_in_words_what_they_show()
    {
        foreach (var agenda in (Agenda[])[SampleGarden.FrostyMorning(), HostileGarden.Agenda()])
        {
            var sheet = SheetOf(agenda);
            foreach (string svg in new[] { sheet.Day, sheet.Week, sheet.Plan }.OfType<PagePicture>().SelectMany(picture => new[] { picture.Narrow, picture.Wide }))
            {
                var drawn = XElement.Parse(svg);
                Assert.Equal(["title", "desc"], drawn.Elements().Take(2).Select(element => element.Name.LocalName));
                Assert.True(drawn.Element("desc")!.Value.Length > 20);
                Assert.Equal("img", drawn.Attribute("role")!.Value);
                var names = drawn.DescendantsAndSelf().SelectMany(element => element.Attributes()).Select(attribute => attribute.Name.LocalName).ToHashSet();
                Assert.DoesNotContain("style", names);
                Assert.DoesNotContain(names, name => name.StartsWith("on", StringComparison.Ordinal));
                Assert.All(drawn.Elements().Skip(2), element => Assert.Contains(element.Name.LocalName, (string[])["rect", "circle", "path", "text"]));
            }
        }
        Assert.NotNull(SheetOf(SampleGarden.FrostyMorning()).Day);
    }

    [Fact]
    public void A_job_keeps_the_number_of_the_message_and_new_ones_follow()
    {
        var agenda = SampleGarden.FrostyMorning();
        var plain = SheetOf(agenda);
        var ids = plain.Jobs.OrderBy(job => job.Key).Select(job => job.Value.Id).ToList();
        Assert.True(ids.Count >= 3);
        var kept = SheetOf(agenda, ImmutableDictionary<string, int>.Empty.Add(ids[1], 7).Add(ids[2], 3));
        Assert.Equal(ids[1], kept.Jobs[7].Id);
        Assert.Equal(ids[2], kept.Jobs[3].Id);
        Assert.Equal(ids[0], kept.Jobs[8].Id);
        Assert.Equal(ids.Order(), kept.Jobs.Values.Select(job => job.Id).Order());
    }

    [Fact]
    public void Every_job_of_the_page_is_told_in_full()
    {
        var sheet = SheetOf(SampleGarden.FrostyMorning());
        var rows = new[] { sheet.Pressing, sheet.Suits, sheet.OnTheWay, sheet.Waiting }.OfType<Section>().SelectMany(section => section.Rows).OfType<JobRow>().ToList();
        Assert.Equal(sheet.Jobs.Keys.Order(), rows.Select(row => row.Number).Order());
    }

    [Fact]
    public void Links_stand_in_both_twins_of_a_mail_and_are_left_out_before_it_grows_too_heavy()
    {
        var letter = DigestSamples.Of("frosty-morning");
        var linked = letter with { JobLinks = letter.Numbers.ToImmutableDictionary(number => number.Number, number => "https://garden.example.org/job/" + number.Number + new string('x', 200)) };
        string text = DigestText.Write(linked), html = DigestHtml.Write(linked);
        Assert.Contains("Answer job 1 on the page:\n     https://garden.example.org/job/1xxx", text, StringComparison.Ordinal);
        Assert.Contains("href=\"https://garden.example.org/job/1xxx", html, StringComparison.Ordinal);
        XDocument.Parse(html);
        Assert.Empty(MailWeight.Lighter(linked).Last().JobLinks);
        Assert.Equal(DigestText.Write(letter), DigestText.Write(linked with { JobLinks = [] }));
    }
}
