namespace GardenWatch.Agronomy.Frost;

/// <summary>A linear regression, fed case by case.</summary>
internal sealed class LeastSquares(int terms)
{
    private readonly double[,] _products = new double[terms, terms + 1];

    public void Add(ReadOnlySpan<double> x, double y)
    {
        for (int row = 0; row < terms; row++)
        {
            for (int column = 0; column < terms; column++)
                _products[row, column] += x[row] * x[column];
            _products[row, terms] += x[row] * y;
        }
    }

    /// <summary>One factor a term; null where the cases do not tell the terms apart.</summary>
    public double[]? Solve()
    {
        var rows = (double[,])_products.Clone();
        for (int pivot = 0; pivot < terms; pivot++)
        {
            int largest = pivot;
            for (int row = pivot + 1; row < terms; row++)
                if (Math.Abs(rows[row, pivot]) > Math.Abs(rows[largest, pivot]))
                    largest = row;
            if (!(Math.Abs(rows[largest, pivot]) > 1e-9))
                return null;
            for (int column = pivot; column <= terms; column++)
                (rows[pivot, column], rows[largest, column]) = (rows[largest, column], rows[pivot, column]);
            for (int row = 0; row < terms; row++)
            {
                double share = row == pivot ? 0 : rows[row, pivot] / rows[pivot, pivot];
                for (int column = pivot; column <= terms; column++)
                    rows[row, column] -= share * rows[pivot, column];
            }
        }
        var factors = new double[terms];
        for (int term = 0; term < terms; term++)
            factors[term] = rows[term, terms] / rows[term, term];
        return factors;
    }
}
