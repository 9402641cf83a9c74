namespace GardenWatch.Planning.Sowings;

/// <summary>
/// The how-manieth time of a planting's job, made of the batch and of how often its job has come for it: the first time is
/// the batch's number, each further one a hundred more. So the batches' jobs never meet, and each keeps its own number.
/// </summary>
internal static class BatchTime
{
    /// <summary>More batches than a plan can have.</summary>
    private const int Step = 100;

    /// <param name="batch">Counted from one.</param>
    /// <param name="repeat">Counted from zero.</param>
    public static int Of(int batch, int repeat) => repeat * Step + batch;

    public static int BatchOf(int time) => time % Step;

    public static int RepeatOf(int time) => time / Step;
}
