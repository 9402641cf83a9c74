namespace GardenWatch.Planning.Quantities;

/// <summary>What reading a written quantity gave.</summary>
public abstract record QuantityReading
{
    private QuantityReading() { }

    public sealed record Ok(Quantity Quantity) : QuantityReading;

    /// <param name="Problem">What is wrong, as a clause without a full stop.</param>
    /// <param name="Instead">What to write; null when it can't be guessed.</param>
    public sealed record Fault(string Problem, string? Instead) : QuantityReading;
}
