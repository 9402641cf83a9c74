using GardenWatch.Messages.Letters;
using Microsoft.AspNetCore.Html;

namespace GardenWatch.Web;

/// <summary>A line of the foot with its links.</summary>
internal static class FootLineMarkup
{
    public static IHtmlContent Of(FootLine line)
    {
        var markup = new HtmlContentBuilder();
        string rest = line.Text;
        foreach (var (words, address) in line.Links)
        {
            int at = rest.IndexOf(words, StringComparison.Ordinal);
            if (at < 0)
                continue;
            markup.Append(rest[..at]).AppendHtml("<a href=\"").Append(address).AppendHtml("\">").Append(words).AppendHtml("</a>");
            rest = rest[(at + words.Length)..];
        }
        return markup.Append(rest);
    }
}
