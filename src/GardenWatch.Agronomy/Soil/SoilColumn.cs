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

    // A pot 35 cm wide has 4/0.35 m² of wall to the m³; wall and still air beside it pass 5 W/m²K.
    private const double WallExchangePerVolume = 4 / 0.35 * 5;

    // Frost goes some 40 cm deep in a hard winter's bare ground; what is deeper stands at the temperature at which it would freeze.
    private const double FrostDepth = 0.4;

    private static readonly Layering Ground = new([0.01, 0.02, 0.02, 0.03, 0.04, 0.06, 0.08, 0.12, 0.16, 0.24, 0.32], 0);
    private static readonly Layering Pot = new([0.01, 0.02, 0.02, 0.03, 0.04, 0.06, 0.08], WallExchangePerVolume);

    private readonly Layering _layers;
    private readonly double[] _temperature;

    /// <summary>All of one temperature; ground that starts in frost has it in its upper part alone, for freezing takes weeks to get deeper.</summary>
    public SoilColumn(bool container, double startC)
    {
        _layers = LayeringOf(container);
        _temperature = new double[_layers.Count];
        for (int i = 0; i < _layers.Count; i++)
            _temperature[i] = startC < 0 && !container ? startC * Math.Max(0, 1 - _layers.Middles[i] / FrostDepth) : startC;
    }

    private static Layering LayeringOf(bool container) => container ? Pot : Ground;

    public static int LayersOf(bool container) => LayeringOf(container).Count;

    public static double Deepest(bool container) => LayeringOf(container).Deepest;

    /// <summary>A column with the temperatures of another one's layers.</summary>
    public static SoilColumn From(bool container, ReadOnlySpan<double> layerC)
    {
        var column = new SoilColumn(container, 0);
        layerC.CopyTo(column._temperature);
        return column;
    }

    public void CopyTo(Span<double> layerC) => _temperature.CopyTo(layerC);

    /// <summary>One hour further; the surface is drawn to a temperature through a conductance, W/m²K.</summary>
    /// <remarks>
    /// Thomas's algorithm from the floor up, so that what only the soil decides is reckoned once for all hours: each
    /// layer is a share of the one above it and a rest. Where water is freezing the shares are not those of other hours.
    /// </remarks>
    public void Step(double drawnToC, double conductance, double airC)
    {
        var layers = _layers;
        Span<double> t = _temperature;
        int floor = t.Length - 1;
        Span<double> rest = stackalloc double[Layering.Most];
        Span<double> shares = stackalloc double[Layering.Most];
        scoped ReadOnlySpan<double> ofAbove = layers.ShareOfAbove;
        double fromBelowC = 0, ofTop;
        if (Freezes(t))
        {
            double below = 0;
            for (int i = floor; i > 0; i--)
            {
                double stored = Stored(i);
                double share = 1 / (stored + layers.ToAbove[i] + layers.Wall[i] + below);
                rest[i] = (stored * t[i] + layers.Wall[i] * airC + fromBelowC) * share;
                shares[i] = layers.ToAbove[i] * share;
                fromBelowC = layers.ToAbove[i] * rest[i];
                below = layers.ToAbove[i] * (1 - shares[i]);
            }
            ofAbove = shares;
            ofTop = Stored(0) + layers.Wall[0] + below;
        }
        else
        {
            for (int i = floor; i > 0; i--)
                rest[i] = layers.ShareOfOwn[i] * t[i] + layers.ShareOfWall[i] * airC + layers.ShareOfBelow[i] * rest[i + 1];
            fromBelowC = layers.ToAbove[1] * rest[1];
            ofTop = layers.OfTop;
        }
        double surface = 1 / (1 / conductance + layers.Middles[0] / Conductivity);
        double above = (Stored(0) * t[0] + layers.Wall[0] * airC + fromBelowC + surface * drawnToC) / (ofTop + surface);
        t[0] = above;
        for (int i = 1; i <= floor; i++)
            t[i] = above = rest[i] + ofAbove[i] * above;
    }

    /// <summary>°C at a depth.</summary>
    public double At(double depthMetres) => _layers.Find(depthMetres).Of(_temperature);

    /// <summary>Where a depth lies among the layers of a column.</summary>
    public static Depth Between(bool container, double depthMetres) => LayeringOf(container).Find(depthMetres);

    private double Stored(int layer) =>
        _temperature[layer] is <= 0 and > -1 ? _layers.Stored[layer] * FreezingFactor : _layers.Stored[layer];

    private static bool Freezes(ReadOnlySpan<double> layerC)
    {
        foreach (double t in layerC)
            if (t is <= 0 and > -1)
                return true;
        return false;
    }

    /// <summary>Straight between the middles of two layers.</summary>
    public readonly record struct Depth(int Above, int Below, double Share)
    {
        public double Of(ReadOnlySpan<double> layerC) => layerC[Above] + Share * (layerC[Below] - layerC[Above]);
    }

    /// <summary>What is the same in all columns of a kind and all unfrozen hours. Conductances in W/m²K; heat an hour.</summary>
    private sealed class Layering
    {
        public const int Most = 12;

        public Layering(double[] thickness, double wallPerMetre)
        {
            Count = thickness.Length;
            Deepest = thickness.Sum();
            (Middles, Stored, ToAbove, Wall) = (new double[Count], new double[Count], new double[Count], new double[Count]);
            (ShareOfAbove, ShareOfOwn, ShareOfWall, ShareOfBelow) = (new double[Count], new double[Count], new double[Count], new double[Count]);
            double top = 0;
            for (int i = 0; i < Count; i++)
            {
                Middles[i] = top + thickness[i] / 2;
                top += thickness[i];
                Stored[i] = HeatCapacity * thickness[i] / 3600;
                ToAbove[i] = i > 0 ? Conductivity / ((thickness[i - 1] + thickness[i]) / 2) : 0;
                Wall[i] = wallPerMetre * thickness[i];
            }
            double below = 0;
            for (int i = Count - 1; i > 0; i--)
            {
                double share = 1 / (Stored[i] + ToAbove[i] + Wall[i] + below);
                ShareOfOwn[i] = Stored[i] * share;
                ShareOfWall[i] = Wall[i] * share;
                ShareOfAbove[i] = ToAbove[i] * share;
                ShareOfBelow[i] = i + 1 < Count ? ToAbove[i + 1] * share : 0;
                below = ToAbove[i] * (1 - ShareOfAbove[i]);
            }
            OfTop = Stored[0] + Wall[0] + below;
        }

        public int Count { get; }

        public double Deepest { get; }

        public double[] Middles { get; }

        public double[] Stored { get; }

        public double[] ToAbove { get; }

        public double[] Wall { get; }

        public double[] ShareOfAbove { get; }

        public double[] ShareOfOwn { get; }

        public double[] ShareOfWall { get; }

        public double[] ShareOfBelow { get; }

        public double OfTop { get; }

        public Depth Find(double depthMetres)
        {
            int below = 0;
            while (below < Count && Middles[below] < depthMetres)
                below++;
            if (below == 0)
                return new(0, 0, 0);
            if (below == Count)
                return new(below - 1, below - 1, 0);
            return new(below - 1, below, (depthMetres - Middles[below - 1]) / (Middles[below] - Middles[below - 1]));
        }
    }
}
