namespace GardenWatch.Planning.Plans;

/// <summary>What is wrong in a file, and where; line and column count from 1.</summary>
public sealed record FileFault(string File, int Line, int Column, string Problem, string? Instead)
{
    /// <summary>"garden.yaml:12:9: `tomatos`: no such crop; did you mean tomato?"</summary>
    public override string ToString() => $"{File}:{Line}:{Column}: {Problem}" + (Instead is null ? "" : $"; {Instead}");
}
