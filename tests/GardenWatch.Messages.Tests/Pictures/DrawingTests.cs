using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Pictures;
using SkiaSharp;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>What holds of every picture: all words are drawn, whole, and apart from each other.</summary>
public sealed class DrawingTests
{
    public static TheoryData<string, bool> Names => PictureSamples.Names;

    /// <summary>On a phone a page draws the narrow picture.</summary>
    public static TheoryData<string> NarrowNames => [.. PictureSamples.Names.Where(row => !row.Data.Item2).Select(row => row.Data.Item1)];

    [Theory]
    [MemberData(nameof(Names))]
    public void No_word_is_clipped(string name, bool wide) =>
        Assert.All(PictureSamples.Of(name, wide), picture => Assert.All(Words(picture),
            word => Assert.True(picture.Drawing.Whole.Holds(word.Ink), $"{picture.Kind}: \"{word.Text}\" at {word.Ink} of {picture.Drawing.Whole}")));

    [Theory]
    [MemberData(nameof(Names))]
    public void No_two_words_overlap(string name, bool wide)
    {
        foreach (var picture in PictureSamples.Of(name, wide))
        {
            var words = Words(picture);
            for (int i = 0; i < words.Length; i++)
                for (int j = 0; j < i; j++)
                    Assert.False(words[i].Ink.Meets(words[j].Ink), $"{picture.Kind}: \"{words[j].Text}\" and \"{words[i].Text}\"");
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void No_word_lies_on_what_is_filled_with_ink(string name, bool wide)
    {
        foreach (var picture in PictureSamples.Of(name, wide))
        {
            var filled = picture.Drawing.Shapes.OfType<Shape.Block>().Where(block => block.Fill is Tone.Ink or Tone.Blue or Tone.Red).ToArray();
            Assert.All(Words(picture).Where(word => word.Tone != Tone.Ground),
                word => Assert.DoesNotContain(filled, block => block.Box.Meets(word.Ink)));
        }
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_word_leaves_ink_in_its_place_and_nowhere_else(string name, bool wide)
    {
        foreach (var picture in PictureSamples.Of(name, wide))
        {
            var paper = Paper.Light;
            var (with, width, height) = Painter.Pixels(picture.Drawing, paper);
            var (without, _, _) = Painter.Pixels(picture.Drawing, paper, words: false);
            bool[] changed = [.. with.Zip(without, (one, other) => one != other)];
            foreach (var word in Words(picture))
                Assert.True(Count(changed, width, word.Ink) > 2, $"{picture.Kind}: \"{word.Text}\" left no ink at {word.Ink}");
            foreach (var word in Words(picture))
                Clear(changed, width, height, word.Ink.Grown(word.Halo ? 3.5 : 1));
            Assert.DoesNotContain(true, changed);
        }
    }

    [Theory]
    [MemberData(nameof(NarrowNames))]
    public void Words_are_at_least_eleven_px_high_on_the_smallest_phone(string name)
    {
        Assert.All(PictureSamples.Of(name, wide: false), picture => Assert.All(Words(picture).Where(word => !int.TryParse(word.Text, out _)),
            word => Assert.True(word.Size * 288 / picture.Drawing.Width >= 9.6, $"\"{word.Text}\" {word.Size}")));
    }

    [Fact]
    public void The_same_picture_has_the_same_bytes_on_each_run()
    {
        foreach (bool dark in (bool[])[false, true])
            Assert.Equal(
                PictureSamples.Of("frosty", wide: false).SelectMany(picture => picture.Png(dark)),
                PictureSamples.Of("frosty", wide: false).SelectMany(picture => picture.Png(dark)));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_second_reader_finds_the_picture_in_the_png(bool dark)
    {
        foreach (var picture in PictureSamples.Of("frosty", wide: false))
        {
            var (pixels, width, height) = Painter.Pixels(picture.Drawing, dark ? Paper.Dark : Paper.Light);
            using var read = SKBitmap.Decode([.. picture.Png(dark)]);
            Assert.Equal((width, height), (read.Width, read.Height));
            Assert.Equal(656, width);
            double apart = pixels.Select((pixel, at) => Math.Abs((int)(pixel >> 8 & 255) - read.GetPixel(at % width, at / width).Green)).Average();
            Assert.InRange(apart, 0, 1);
        }
    }

    [Fact]
    public void Words_that_the_font_does_not_know_are_left_out_never_drawn_as_boxes()
    {
        var drawing = new Drawing(100, 40);
        Assert.False(drawing.Write(["番茄"], 13, Tone.Ink, bold: false, halo: false, new Place(5, 20)));
        Assert.True(drawing.Write(["番茄", "Tomate, groß"], 13, Tone.Ink, bold: false, halo: false, new Place(5, 20)));
        Assert.Equal("Tomate, groß", Assert.IsType<Shape.Lettering>(Assert.Single(drawing.Shapes)).Text);
    }

    [Fact]
    public void A_word_takes_the_first_place_that_is_free()
    {
        var drawing = new Drawing(100, 60);
        Assert.True(drawing.Write(["here"], 13, Tone.Ink, bold: false, halo: false, new Place(5, 20)));
        Assert.True(drawing.Write(["there"], 13, Tone.Ink, bold: false, halo: false, new Place(8, 21), new Place(90, 20), new Place(5, 40)));
        Assert.Equal(40, drawing.Shapes.OfType<Shape.Lettering>().Last().Start.Y);
    }

    private static Shape.Lettering[] Words(Picture picture) => [.. picture.Drawing.Shapes.OfType<Shape.Lettering>()];

    private static int Count(bool[] changed, int width, Box box)
    {
        int count = 0;
        for (int y = (int)(box.Y * Painter.Scale); y < box.Bottom * Painter.Scale; y++)
            for (int x = (int)(box.X * Painter.Scale); x < box.Right * Painter.Scale; x++)
                count += changed[y * width + x] ? 1 : 0;
        return count;
    }

    private static void Clear(bool[] changed, int width, int height, Box box)
    {
        for (int y = Math.Max(0, (int)(box.Y * Painter.Scale)); y < Math.Min(height, box.Bottom * Painter.Scale); y++)
            for (int x = Math.Max(0, (int)(box.X * Painter.Scale)); x < Math.Min(width, box.Right * Painter.Scale); x++)
                changed[y * width + x] = false;
    }
}
