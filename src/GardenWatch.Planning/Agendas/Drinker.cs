using GardenWatch.Agronomy.Water;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Sowings;
using NodaTime;
using SoilTexture = GardenWatch.Agronomy.Water.SoilTexture;

namespace GardenWatch.Planning.Agendas;

/// <summary>How far what drinks in a bed is: the young ones want it little and often.</summary>
internal enum DrinkerAge
{
    /// <summary>Sown here and not up: only the upper soil counts.</summary>
    Seed,
    /// <summary>Set out in the past days: its roots are those of its pot.</summary>
    New,
    Grown,
}

/// <summary>One batch for the time it stands in a bed, and what it draws from it day by day (FAO-56, Allen et al. 1998, ch. 6 to 8).</summary>
internal sealed class Drinker
{
    // Of short-rooted vegetables, where a profile says nothing (FAO-56 tables 12 and 22).
    private const double UsualRootsMetres = 0.3, UsualShare = 0.3;
    private static readonly CoefficientCurve FullGrown = new(new(0, 0, 1, 0), 1, 1, 1);
    // The layer that dries by evaporation is 0.10 to 0.15 m (FAO-56 p. 144); three weeks is what a drill is kept damp (common practice).
    private const double SeedBedMetres = 0.10, RootBallMetres = 0.15;
    private const int SeedDays = 21;
    // Two, four and seven days after setting out, then less (common practice).
    private const int NewDays = 10;
    // The crop's own part of its coefficient by FAO-56 table 18: 0.15 over nearly bare soil, 0.10 less than the whole later on.
    private const double FirstBasal = 0.15, BasalBelow = 0.10;
    // Film lowers use by 10 to 30 % (FAO-56 ch. 10, plastic mulches).
    private const double UnderFilm = 0.8;
    // One layer of glass or film lets about seven tenths of the sun through and keeps the wind out, but it is warmer. Common practice.
    private const double UnderGlass = 0.8;
    // A room has a third of the light and no wind. Common practice.
    private const double OnTheSill = 0.4;
    private const double WidestLeavesSquareMetres = 0.5, MostSpread = 12;

    private readonly BedBalance _balance;
    private readonly Bed _bed;
    private readonly LocalDate? _since;
    private readonly LocalDate? _seedUntil;
    private readonly LocalDate? _newUntil;

    private Drinker(Sowing sowing, Bed bed, SoilTexture soil, LocalDate? from, LocalDate? until, bool isThereNow)
    {
        (Sowing, _bed, From, Until, IsThereNow) = (sowing, bed, from, until, isThereNow);
        var need = sowing.Planting.Crop.Water;
        bool own = sowing.Planting.BedId == bed.Id;
        _since = sowing.SetOutOn is { } out_ && own ? out_ : sowing.Begun?.Start ?? sowing.SownOn ?? from;
        bool sownHere = !own || !sowing.IsSetOut;
        _seedUntil = sownHere && sowing.SownOn is { } sown ? LocalDate.Min(sowing.UpOn ?? (sowing.Stage == Stage.Sown ? LocalDate.MaxIsoValue : sowing.UpLikely?.Start ?? sown.PlusDays(SeedDays)), sown.PlusDays(SeedDays)) : null;
        _newUntil = own && sowing.IsSetOut && sowing.SetOutOn is { } setOut ? setOut.PlusDays(NewDays) : null;
        var curve = CurveOf(need);
        double roots = need?.RootsFromMetres ?? UsualRootsMetres;
        var water = new CropWater(
            sowing.Planting.Crop.Name, curve,
            curve with { Initial = Math.Min(FirstBasal, curve.Initial), Middle = curve.Middle - BasalBelow, End = curve.End - BasalBelow },
            sowing.Planting.Crop.Habit?.HeightMetres ?? double.NaN, roots, need?.RootsToMetres ?? roots, need?.Depletion ?? UsualShare, double.NaN);
        _balance = new(water, soil)
        {
            MulchedShare = bed.Mulch is Mulch.Straw or Mulch.Leaves or Mulch.Grass or Mulch.WoodChips or Mulch.Compost ? 1 : 0,
            UseShare = UseShareOf(bed),
            Pot = bed.ContainerLitres is { } litres ? Container.RootZone(litres) : null,
        };
    }

    public Sowing Sowing { get; }

    /// <summary>Since before the record where it is null.</summary>
    public LocalDate? From { get; }

    /// <summary>The first day on which it is gone; null while it is there.</summary>
    public LocalDate? Until { get; }

    public bool IsThereNow { get; }

    /// <summary>Watered in on this day; null for what was sown.</summary>
    public LocalDate? WateredInOn => _newUntil?.PlusDays(-NewDays);

    /// <summary>Those that have stood in a bed, and those that stand there.</summary>
    public static IEnumerable<Drinker> In(Season season, Bed bed)
    {
        var soil = SoilOf(bed);
        foreach (var sowing in season.Sowings)
        {
            var planting = sowing.Planting;
            bool begun = sowing.Stage is not (Stage.Planned or Stage.Skipped or Stage.Missed or Stage.Dropped), over = begun && sowing.Stage.IsOver();
            if (!begun)
                continue;
            if (planting.BedId == bed.Id && (!sowing.IsSetOut || over || sowing.SetOutOn is not null || sowing.Stage is Stage.SetOut or Stage.Growing or Stage.Bearing))
            {
                var from = sowing.IsSetOut ? sowing.SetOutOn : sowing.SownOn ?? sowing.Begun?.Start;
                if (!over || sowing.EndedOn is not null)
                    yield return new(sowing, bed, soil, from, over ? sowing.EndedOn : null, !over);
            }
            else if (planting.StartBedId == bed.Id && sowing.StandsInItsStartBed)
            {
                yield return new(sowing, bed, soil, sowing.SownOn ?? sowing.Begun?.Start, null, true);
            }
        }
    }

    /// <summary>The class that the plan names, else loam.</summary>
    public static SoilTexture SoilOf(Bed bed) =>
        SoilTexture.Named(bed.Soil is { } said ? PlanSummary.Words(said.ToString()) : UsualSoil)!;

    public const string UsualSoil = "loam";

    /// <summary>ET0 at a bed over that in the open.</summary>
    public static double UseShareOf(Bed bed) => (bed.Mulch is Mulch.BlackFilm or Mulch.ClearFilm ? UnderFilm : 1) * bed.Over switch
    {
        Overhead.Open => 1,
        Overhead.Windowsill => OnTheSill,
        _ => UnderGlass,
    };

    public bool DrinksOn(LocalDate date) => !(From > date) && !(Until <= date);

    public DrinkerAge AgeOn(LocalDate date) => date < _seedUntil ? DrinkerAge.Seed : date < _newUntil ? DrinkerAge.New : DrinkerAge.Grown;

    /// <summary>
    /// What ripens underground as a bulb is left to dry towards its lifting: garlic for two weeks, onions from when their tops lean
    /// (Kansas State University Extension).
    /// </summary>
    public bool RipensDry(LocalDate today) => Sowing.Planting.Crop.Roots?.Form == RootForm.Bulb
        && (Sowing.Stage == Stage.Bearing || Sowing.BearingLikely?.Start.PlusDays(-14) <= today);

    /// <param name="referenceMm">ET0 of the whole day; NaN when it is not known.</param>
    public Draw On(LocalDate date, double referenceMm)
    {
        double passed = _since is { } since ? Math.Max(0, Period.DaysBetween(since, date)) : double.PositiveInfinity;
        var stages = _balance.Crop.Coefficient.Stages;
        bool lasts = Sowing.Planting.Crop.Habit?.Life == PlantLife.Perennial;
        // Nobody knows since when, or it has long been there: in full leaf.
        if (double.IsPositiveInfinity(passed) || lasts && passed > stages.Total)
            passed = stages.Initial + stages.Growth;
        // A day of unknown use has its usual root zone, so that the course can find its way again after it.
        double reference = double.IsNaN(referenceMm) ? UsualReferenceMm : Math.Clamp(referenceMm, -5, 30);
        var balance = _bed.ContainerLitres is null ? _balance : _balance with { LeafSpread = SpreadOf(_balance.Crop.Coefficient.Grown(passed)) };
        var draw = balance.On(Math.Min(passed, 20_000), reference);
        double? shallow = _bed.ContainerLitres is not null ? null : AgeOn(date) switch { DrinkerAge.Seed => SeedBedMetres, DrinkerAge.New => RootBallMetres, _ => null };
        return shallow is { } metres
            ? Draw.Of(RootZone.In(_balance.Soil, metres, RootZone.EasyShare(UsualShare, draw.UseOverReference * reference)), draw.UseOverReference)
            : draw;
    }

    private const double UsualReferenceMm = 5;

    /// <summary>Leaves over the surface of their pot on a day: the wider, the less rain comes in and the more is drunk.</summary>
    public double SpreadOn(LocalDate date)
    {
        if (_bed.ContainerLitres is null)
            return 1;
        double grown = _since is { } since ? _balance.Crop.Coefficient.Grown(Math.Max(0, Period.DaysBetween(since, date))) : 1;
        return SpreadOf(grown);
    }

    private double SpreadOf(double grown) => Math.Clamp(
        Math.Min(WidestLeavesSquareMetres, Math.Pow(Sowing.Planting.Crop.SpacingMetres ?? UsualRootsMetres, 2)) * grown / Container.SurfaceOf(_bed.ContainerLitres!.Value), 1, MostSpread);

    private static CoefficientCurve CurveOf(WaterNeed? need) => need switch
    {
        { KcFirst: { } first, KcFull: { } full, KcLast: { } last, StageDays: [var initial, var growth, var middle, var late] } =>
            new(new(initial, growth, middle, late), first, full, last),
        { KcFull: { } full } => FullGrown with { Initial = full, Middle = full, End = full },
        _ => FullGrown,
    };
}
