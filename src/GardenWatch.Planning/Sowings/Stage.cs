namespace GardenWatch.Planning.Sowings;

/// <summary>How far a batch is. The last three are ends of a batch that never stood in its bed.</summary>
public enum Stage
{
    Planned, Sown, Up, Hardening, SetOut,
    /// <summary>Stands in its bed; since when, and what came before, nobody knows.</summary>
    Growing,
    Bearing, Finished, KeptForSeed,
    /// <summary>The gardener said that it will not be sown.</summary>
    Skipped,
    /// <summary>Its season passed before it was sown.</summary>
    Missed,
    /// <summary>Left out, since another takes its place or it would not be ready in time.</summary>
    Dropped,
}

/// <summary>By what the stage of a batch is known.</summary>
public enum Evidence
{
    /// <summary>The gardener's record.</summary>
    Seen,
    /// <summary>The plan says so, or it follows from what the plan says.</summary>
    Told,
    /// <summary>Reckoned from the weather or the packet; nobody has seen it.</summary>
    Expected,
}

public static class StageWords
{
    /// <summary>As the JSON and the digest write it.</summary>
    public static string Word(this Stage stage) => stage switch
    {
        Stage.SetOut => "set out",
        Stage.KeptForSeed => "kept for seed",
        _ => stage.ToString().ToLowerInvariant(),
    };

    /// <summary>Nothing more is to come of it.</summary>
    public static bool IsOver(this Stage stage) =>
        stage is Stage.Finished or Stage.KeptForSeed or Stage.Skipped or Stage.Missed or Stage.Dropped;

    /// <summary>It has been begun, and is not over.</summary>
    public static bool IsAlive(this Stage stage) => stage != Stage.Planned && !stage.IsOver();
}
