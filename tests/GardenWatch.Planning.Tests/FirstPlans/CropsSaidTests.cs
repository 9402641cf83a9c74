using System.Collections.Immutable;
using GardenWatch.Planning.Conditions;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.FirstPlans;

namespace GardenWatch.Planning.Tests.FirstPlans;

/// <summary>The fourth answer: what grows, since when, where.</summary>
public sealed class CropsSaidTests
{
    private static readonly CropShelf Shelf = CropShelf.Shipped(ConditionText.Read);

    private static readonly ImmutableArray<string> Beds = ["bed 1", "bed 2", "greenhouse", "Anna's bed", "pots"];

    private static CropsReading Read(string text) => CropsSaid.Read(text, Shelf, Beds);

    private static string Said(string text)
    {
        var reading = Read(text);
        Assert.Empty(reading.Doubts);
        return string.Join("; ", reading.Crops.Select(crop => crop.Crop.Name
            + (crop.Variety is { } variety ? $" '{variety}'" : "") + (crop.Plants is { } plants ? $" x{plants}" : "")
            + (crop.Key is { } key ? $" {key} {crop.When}" : "") + (crop.Sowings is { } sowings ? $" {sowings}" : "")
            + (crop.OnSill ? " sill" : "") + (crop.IsAssumed ? " assumed" : "") + (crop.BedName is { } bed ? $" in {bed}" : "")));
    }

    [Theory]
    [InlineData("tomatoes, garlic growing, carrots", "tomato; garlic growing yes; carrot")]
    [InlineData("tomatoes and beans & peas", "tomato; snap bean; pea")]
    [InlineData("Tomatoes\nGarlic", "tomato; garlic")]
    [InlineData("6 tomatoes", "tomato x6")]
    [InlineData("tomatoes x 6", "tomato x6")]
    [InlineData("tomatoes (6)", "tomato x6")]
    [InlineData("six peppers in the greenhouse", "sweet pepper x6 in greenhouse")]
    [InlineData("a few courgettes", "summer squash")]
    [InlineData("a row of carrots in Anna's bed", "carrot in Anna's bed")]
    [InlineData("carrots in bed 2 sown mid April", "carrot sown mid April in bed 2")]
    [InlineData("carrots sown mid April", "carrot sown mid April")]
    [InlineData("carrots sown on 3 April", "carrot sown 3 April")]
    [InlineData("carrots sown two weeks ago", "carrot sown two weeks ago")]
    [InlineData("carrots sown", "carrot sown yes")]
    [InlineData("garlic planted in October", "garlic sown October")]
    [InlineData("garlic planted late October last year", "garlic sown late October last year")]
    [InlineData("tomatoes planted 20 May", "tomato set out 20 May")]
    [InlineData("tomatoes set out mid May", "tomato set out mid May")]
    [InlineData("tomatoes planted out", "tomato set out yes")]
    [InlineData("lettuce since May", "lettuce up May")]
    [InlineData("lettuce growing since early May", "lettuce up early May")]
    [InlineData("peas up", "pea up yes")]
    [InlineData("growing garlic", "garlic growing yes")]
    [InlineData("kale already there", "kale growing yes")]
    [InlineData("leeks still standing", "leek growing yes")]
    [InlineData("tomatoes bought mid May", "tomato bought mid May")]
    [InlineData("tomatoes mid May", "tomato bought mid May")]
    [InlineData("garlic mid October", "garlic sown mid October")]
    [InlineData("6 tomato plants", "tomato x6 bought yes")]
    [InlineData("cabbage seedlings", "cabbage bought yes")]
    [InlineData("tomatoes from seed", "tomato sill")]
    [InlineData("peppers started indoors", "sweet pepper sill")]
    [InlineData("carrots not yet", "carrot")]
    [InlineData("carrots to sow", "carrot")]
    [InlineData("radishes every 10 days", "radish every 10 days")]
    [InlineData("radishes every two weeks until it is too warm", "radish every two weeks until it is too warm")]
    [InlineData("tomatoes (6, bought mid May), carrots", "tomato x6 bought mid May; carrot")]
    [InlineData("garlic: growing; carrots: sown 3 April", "garlic growing yes; carrot sown 3 April")]
    [InlineData("brandywine tomatoes", "tomato 'brandywine'")]
    [InlineData("tomato Brandywine", "tomato 'Brandywine'")]
    [InlineData("butternut squash", "winter squash")]
    [InlineData("sweet potatoes", "sweet potato")]
    [InlineData("cherry tomatoes", "tomato")]
    [InlineData("rhubarb, strawberries", "rhubarb growing yes assumed; strawberry growing yes assumed")]
    [InlineData("strawberries planted April", "strawberry set out April")]
    [InlineData("mint in pots", "mint growing yes assumed in pots")]
    [InlineData("new zealand spinach", "new zealand spinach")]
    [InlineData("nothing yet", "")]
    [InlineData("", "")]
    public void Crops_are_understood_as_people_tell_them(string text, string crops) => Assert.Equal(crops, Said(text));

    [Theory]
    [InlineData("radishs", "radish")]
    [InlineData("6 tomatos sown mid April", "6 tomato sown mid April")]
    [InlineData("cherry tomatos", "tomato")]
    [InlineData("letuce in bed 2", "lettuce in bed 2")]
    public void What_is_misspelt_gets_the_nearest_suggestion(string text, string better)
    {
        var doubt = Assert.Single(Read(text).Doubts);
        Assert.Equal(text, doubt.Item);
        Assert.Contains("no crop is called", doubt.Problem, StringComparison.Ordinal);
        Assert.Equal(better, doubt.Better);
        Assert.Single(Read(doubt.Better!).Crops);
    }

    [Theory]
    [InlineData("carrots onions", "carrots, onions")]
    [InlineData("carrots onions sown mid April", "carrots, onions sown mid April")]
    [InlineData("apple mint", "apple, mint")]
    public void A_forgotten_comma_makes_no_variety_of_a_crop(string text, string better)
    {
        var doubt = Assert.Single(Read(text).Doubts);
        Assert.Equal(better, doubt.Better);
        Assert.Equal(2, Read(better).Crops.Length);
        // In quotation marks it is a variety all the same.
        Assert.Equal("apple", Assert.Single(Read("mint \"apple\"").Crops).Variety);
    }

    [Theory]
    [InlineData("squash")]
    [InlineData("mangrove xylophones")]
    [InlineData("carrots sown last autumn")]
    [InlineData("carrots sown 3/4")]
    [InlineData("6")]
    public void What_is_not_understood_is_told_and_the_rest_is_kept(string text)
    {
        var reading = Read("garlic, " + text + ", kale");
        Assert.Equal(["garlic", "kale"], reading.Crops.Select(crop => crop.Crop.Name));
        Assert.Equal(text, Assert.Single(reading.Doubts).Item);
    }

    [Fact]
    public void A_word_that_many_crops_share_names_some_of_them()
    {
        var doubt = Assert.Single(Read("squash").Doubts);
        Assert.Contains("summer squash", doubt.ToString(), StringComparison.Ordinal);
        Assert.Contains("winter squash", doubt.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Every_shipped_crop_is_found_by_each_of_its_names()
    {
        foreach (var crop in Shelf.Crops)
        {
            foreach (string name in crop.AlsoCalled.Add(crop.Name).Add(crop.Plants))
            {
                var reading = Read($"{name} growing");
                Assert.True(reading.Doubts.IsEmpty && reading.Crops.Length == 1, $"{name}: {string.Join(", ", reading.Doubts)}");
                Assert.Equal(Shelf.Find(name)!.Name, reading.Crops[0].Crop.Name);
            }
        }
    }
}
