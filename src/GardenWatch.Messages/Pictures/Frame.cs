namespace GardenWatch.Messages.Pictures;

/// <summary>The width a picture is drawn for. A wide one is never shrunk to a phone: the narrow one is drawn.</summary>
/// <param name="Wide">Of a page; else of mail, which must be read at 288 px.</param>
internal sealed record Frame(double Width, bool Wide)
{
    public static Frame Mail { get; } = new(328, Wide: false);

    public static Frame Page { get; } = new(600, Wide: true);

    public double Of(double wide, double narrow) => Wide ? wide : narrow;
}
