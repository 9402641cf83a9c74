using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Mail;

/// <summary>How many bytes a letter takes on its way, so that no reader cuts it.</summary>
internal static class MailWeight
{
    /// <summary>Some readers cut mail near 102 KB.</summary>
    public const int Most = 99_000;

    /// <summary>Text and HTML in quoted-printable, without pictures.</summary>
    public static int OfWords(Letter letter)
    {
        var bare = letter.WithPictures(_ => null);
        return QuotedPrintable.Encode(DigestText.Write(bare)).Length + QuotedPrintable.Encode(DigestHtml.Write(bare)).Length;
    }

    /// <summary>What is left out as a letter is too heavy, step by step: twins on dark paper first, the day line and then the links last.</summary>
    public static IEnumerable<Letter> Lighter(Letter letter)
    {
        yield return letter;
        var bare = letter.WithPictures(_ => null);
        if (!letter.Pictures.Any())
        {
            yield return bare with { JobLinks = [] };
            yield break;
        }
        yield return letter.WithPictures(picture => picture with { HasDark = picture.HasDark && picture.Kind != Pictures.PictureKind.Beds });
        var light = letter.WithPictures(picture => picture with { HasDark = false });
        yield return light;
        yield return light.WithPictures(picture => picture.Kind == Pictures.PictureKind.Beds ? null : picture);
        yield return light.WithPictures(picture => picture.Kind == Pictures.PictureKind.Day ? picture : null);
        yield return bare;
        yield return bare with { JobLinks = [] };
    }
}
