using GardenWatch.Messages.Digests;

namespace GardenWatch.Messages.Tests.Digests;

public sealed class ApprovedDigestTests
{
    public static TheoryData<string> Names => [.. DigestSamples.Names.Select(row => row.Data).Where(name => name != "overgrown")];

    [Theory]
    [MemberData(nameof(Names))]
    public void The_text_reads_as_approved(string name) =>
        Approved.Check(DigestText.Write(DigestSamples.Of(name)), name, "txt");

    [Theory]
    [MemberData(nameof(Names))]
    public void The_html_is_as_approved(string name) =>
        Approved.Check(DigestHtml.Write(DigestSamples.Of(name)), name, "html");
}
