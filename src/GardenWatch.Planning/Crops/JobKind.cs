namespace GardenWatch.Planning.Crops;

/// <summary>The kinds of job of the agenda's JSON, version 1.</summary>
public enum JobKind
{
    OrderSeed, TestSeed, Sow, StartIndoors, PotOn, HardenOff, SetOut, Thin, Stake, Prune, EarthUp, Cover, Uncover,
    Vent, Shade, Protect, Water, Feed, Mulch, Spread, Spray, Net, Look, Harvest, Cure, SaveSeed, Clear, Smother,
    SowGreenCover, Prepare, Drain, Clean, Other,
    /// <summary>A second tie for what stands tall, before a gale.</summary>
    Tie,
    /// <summary>Something over a bed while hail or a thunderstorm passes.</summary>
    Shelter,
}

public static class JobKindWords
{
    /// <summary>As the plan file and the JSON write it: lower case, words apart.</summary>
    public static string Word(this JobKind kind) => kind switch
    {
        JobKind.OrderSeed => "order seed",
        JobKind.TestSeed => "test seed",
        JobKind.StartIndoors => "start indoors",
        JobKind.PotOn => "pot on",
        JobKind.HardenOff => "harden off",
        JobKind.SetOut => "set out",
        JobKind.EarthUp => "earth up",
        JobKind.SaveSeed => "save seed",
        JobKind.SowGreenCover => "sow green cover",
        _ => kind.ToString().ToLowerInvariant(),
    };

    public static JobKind? Of(string word) =>
        Enum.GetValues<JobKind>().Cast<JobKind?>()
            .FirstOrDefault(kind => string.Equals(kind!.Value.Word(), word.Trim(), StringComparison.OrdinalIgnoreCase));
}
