using GardenWatch.Messages.Pictures;

namespace GardenWatch.Messages.Pages;

/// <summary>A picture as a page holds it: drawn for a wide and for a narrow sheet, of which the page shows one.</summary>
/// <param name="Narrow">SVG, like <paramref name="Wide"/>: well-formed, every word of it encoded.</param>
public sealed record PagePicture(string Narrow, string Wide, string? Caption)
{
    internal static PagePicture? Of(string id, Picture? narrow, Picture? wide) => narrow is null || wide is null ? null : new(
        SvgWriter.Write(narrow.Drawing, id + "-n", "narrow", Title(narrow), narrow.Alt),
        SvgWriter.Write(wide.Drawing, id + "-w", "wide", Title(wide), wide.Alt), wide.Caption);

    internal static PagePicture Of(string id, string title, string description, Func<Frame, Drawing> draw) => new(
        SvgWriter.Write(draw(Frame.Mail), id + "-n", "narrow", title, description),
        SvgWriter.Write(draw(Frame.Page), id + "-w", "wide", title, description), null);

    private static string Title(Picture picture) => Digests.Words.FirstUpper(picture.Label);
}
