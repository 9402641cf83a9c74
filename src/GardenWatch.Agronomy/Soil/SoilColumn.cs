namespace GardenWatch.Agronomy.Soil;

/// <summary>Heat in a metre of soil, or in a pot, hour by hour.</summary>
/// <remarks>
/// Conduction in eleven layers, thin above and thick below, solved implicitly, with no flux through the floor. Moist
/// garden loam: 1.0 W/mK and 2.3 MJ/m³K (0.038 m²/d, de Vries 1963; published soils lie between 0.009 and 0.064); water
/// of a fifth of the volume freezes between 0 and -1 °C.
/// </remarks>
internal sealed class SoilColumn
{
    private const double Conductivity = 1.0;
    private const double HeatCapacity = 2.3e6;
    private const double FreezingFactor = 1 + 0.2 * 3.34e8 / HeatCapacity;

    private static readonly double[] GroundLayers = [0.01, 0.02, 0.02, 0.03, 0.04, 0.06, 0.08, 0.12, 0.16, 0.24, 0.32];
    private static readonly double[] PotLayers = [0.01, 0.02, 0.02, 0.03, 0.04, 0.06, 0.08];

    // A pot 35 cm wide has 4/0.35 m² of wall to the m³; wall and still air beside it pass 5 W/m²K.
    private const double WallExchangePerVolume = 4 / 0.35 * 5;

    private readonly double[] _middles;
    private readonly double[] _toNext;
    private readonly double[] _stored;
    private readonly double[] _temperature;
    private readonly double[] _carry;
    private readonly double[] _wall;

    public SoilColumn(bool container, double startC)
    {
        double[] thickness = container ? PotLayers : GroundLayers;
        int layers = thickness.Length;
        _stored = new double[layers];
        _middles = MiddlesOf(thickness);
        _toNext = new double[layers];
        _wall = new double[layers];
        for (int i = 0; i < layers; i++)
        {
            _stored[i] = HeatCapacity * thickness[i] / 3600;
            _toNext[i] = i + 1 < layers ? Conductivity / ((thickness[i] + thickness[i + 1]) / 2) : 0;
            _wall[i] = container ? WallExchangePerVolume * thickness[i] : 0;
        }
        _carry = new double[layers];
        _temperature = new double[layers];
        Array.Fill(_temperature, startC);
    }

    public static int LayersOf(bool container) => (container ? PotLayers : GroundLayers).Length;

    /// <summary>A column with the temperatures of another one's layers.</summary>
    public static SoilColumn From(bool container, ReadOnlySpan<double> layerC)
    {
        var column = new SoilColumn(container, 0);
        layerC.CopyTo(column._temperature);
        return column;
    }

    public void CopyTo(Span<double> layerC) => _temperature.CopyTo(layerC);

    public static double Deepest(bool container) => (container ? PotLayers : GroundLayers).Sum();

    /// <summary>One hour further; the surface is drawn to a temperature through a conductance, W/m²K.</summary>
    public void Step(double drawnToC, double conductance, double airC)
    {
        double surface = 1 / (1 / conductance + _middles[0] / Conductivity);
        double fromAbove = surface;
        // Thomas's algorithm: down the column, then up.
        double carriedC = drawnToC, carriedShare = 0;
        for (int i = 0; i < _temperature.Length; i++)
        {
            double t = _temperature[i];
            double stored = t is <= 0 and > -1 ? _stored[i] * FreezingFactor : _stored[i];
            double share = 1 / (stored + fromAbove * (1 - carriedShare) + _toNext[i] + _wall[i]);
            _temperature[i] = (stored * t + fromAbove * carriedC + _wall[i] * airC) * share;
            carriedC = _temperature[i];
            carriedShare = _toNext[i] * share;
            _carry[i] = carriedShare;
            fromAbove = _toNext[i];
        }
        for (int i = _temperature.Length - 2; i >= 0; i--)
            _temperature[i] += _carry[i] * _temperature[i + 1];
    }

    /// <summary>°C at a depth.</summary>
    public double At(double depthMetres) => Between(_middles, depthMetres).Of(_temperature);

    /// <summary>Where a depth lies among the layers of a column.</summary>
    public static Depth Between(bool container, double depthMetres) =>
        Between(MiddlesOf(container ? PotLayers : GroundLayers), depthMetres);

    private static double[] MiddlesOf(double[] thickness)
    {
        double[] middles = new double[thickness.Length];
        double above = 0;
        for (int i = 0; i < thickness.Length; i++)
        {
            middles[i] = above + thickness[i] / 2;
            above += thickness[i];
        }
        return middles;
    }

    private static Depth Between(double[] middles, double depthMetres)
    {
        int below = 0;
        while (below < middles.Length && middles[below] < depthMetres)
            below++;
        if (below == 0)
            return new(0, 0, 0);
        if (below == middles.Length)
            return new(below - 1, below - 1, 0);
        return new(below - 1, below, (depthMetres - middles[below - 1]) / (middles[below] - middles[below - 1]));
    }

    /// <summary>Straight between the middles of two layers.</summary>
    public readonly record struct Depth(int Above, int Below, double Share)
    {
        public double Of(ReadOnlySpan<double> layerC) => layerC[Above] + Share * (layerC[Below] - layerC[Above]);
    }
}
