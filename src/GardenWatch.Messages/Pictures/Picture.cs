using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Pictures;

public enum PictureKind { Day, Week, Beds }

/// <summary>A picture of a message: drawn by the program, and told in words for who does not see it.</summary>
public sealed record Picture
{
    internal Picture(PictureKind kind, string gardenId, string heading, string label, string alt, string? caption, Drawing drawing)
    {
        (Kind, Label, Alt, Caption, Drawing) = (kind, label, alt, caption, drawing);
        Token = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', gardenId, heading, alt))).AsSpan(0, 8));
    }

    public PictureKind Kind { get; }

    /// <summary>In the margin beside it: "today and tonight".</summary>
    public string Label { get; }

    /// <summary>The facts it shows, for who has pictures off or can't see them.</summary>
    public string Alt { get; }

    /// <summary>What it leaves out and why; null when it shows all.</summary>
    public string? Caption { get; }

    /// <summary>Sent with a twin on dark paper.</summary>
    public bool HasDark { get; init; } = true;

    /// <summary>Height for each px of width.</summary>
    public double Steepness => Drawing.Height / Drawing.Width;

    internal Drawing Drawing { get; }

    /// <summary>Made of what is shown, so that no two mails share one by chance and the same mail has the same.</summary>
    private string Token { get; }

    /// <summary>By which a picture is known when it comes back in an answer.</summary>
    internal const string IdEnding = "@pictures.gardenwatch";

    /// <summary>By which the message names the attached file (RFC 2392), without angle brackets.</summary>
    public string ContentId(bool dark) => $"{Name(dark)}.{Token}{IdEnding}";

    public string FileName(bool dark) => Name(dark) + ".png";

    /// <summary>Opaque PNG; the same on each run.</summary>
    public ImmutableArray<byte> Png(bool dark) => Painter.Png(Drawing, dark ? Paper.Dark : Paper.Light);

    private string Name(bool dark) => (Kind switch { PictureKind.Day => "day", PictureKind.Week => "week", _ => "beds" }) + (dark ? "-dark" : "");
}
