using System.Collections.Immutable;

namespace GardenWatch.Agronomy.Soil;

/// <summary>What a trial at one steady soil temperature found.</summary>
/// <param name="Days">From sowing to emergence; null when nothing came up.</param>
public readonly record struct EmergenceTrial(double SoilC, double? Days);

/// <summary>How far sown seed has come: a share of 1, and the share of the hours of which nothing could be said.</summary>
public readonly record struct EmergenceProgress(double Done, double UnknownShare);

/// <summary>How fast a crop comes up at a soil temperature, from trials at steady temperatures.</summary>
/// <remarks>
/// Such as Harrington and Minges 1954 (Knott's Handbook 1997), each 5 °C. Between two trials the rate, 1/days, is
/// interpolated, not the days; towards a trial where nothing came up it falls to nothing. Beyond the last trial it is
/// unknown unless nothing came up there. Trials were in moist soil at half an inch; dry or deeper seed takes longer.
/// </remarks>
public sealed class EmergenceCurve
{
    private readonly ImmutableArray<EmergenceTrial> _trials;

    public EmergenceCurve(IEnumerable<EmergenceTrial> trials)
    {
        _trials = [.. trials.OrderBy(trial => trial.SoilC)];
        for (int i = 0; i < _trials.Length; i++)
        {
            if (_trials[i].Days is { } days && !(days > 0))
                throw new ArgumentException($"{days} days at {_trials[i].SoilC} °C: emergence takes some time.", nameof(trials));
            if (i > 0 && _trials[i].SoilC == _trials[i - 1].SoilC)
                throw new ArgumentException($"Two trials at {_trials[i].SoilC} °C.", nameof(trials));
        }
    }

    /// <summary>Share of the way per day; 0 where nothing comes up, NaN where it was not tried.</summary>
    public double RatePerDay(double soilC)
    {
        if (_trials.IsEmpty || double.IsNaN(soilC))
            return double.NaN;
        if (soilC <= _trials[0].SoilC)
            return AtEdge(_trials[0], soilC);
        if (soilC >= _trials[^1].SoilC)
            return AtEdge(_trials[^1], soilC);
        int above = 1;
        while (_trials[above].SoilC < soilC)
            above++;
        var (cold, warm) = (_trials[above - 1], _trials[above]);
        double share = (soilC - cold.SoilC) / (warm.SoilC - cold.SoilC);
        return Rate(cold) + share * (Rate(warm) - Rate(cold));
    }

    /// <summary>Days to emergence at a steady temperature; infinite where nothing comes up, NaN where it was not tried.</summary>
    public double Days(double soilC) => 1 / RatePerDay(soilC);

    /// <summary>What some hours of soil have brought; unknown hours bring nothing and are told apart.</summary>
    public EmergenceProgress After(ReadOnlySpan<double> soilHoursC)
    {
        double done = 0;
        int unknown = 0;
        foreach (double soil in soilHoursC)
        {
            double rate = RatePerDay(soil);
            if (double.IsNaN(rate))
                unknown++;
            else
                done += rate / 24;
        }
        return new(done, soilHoursC.IsEmpty ? 0 : (double)unknown / soilHoursC.Length);
    }

    private static double AtEdge(EmergenceTrial trial, double soilC) =>
        trial.Days is null ? 0 : soilC == trial.SoilC ? Rate(trial) : double.NaN;

    private static double Rate(EmergenceTrial trial) => trial.Days is { } days ? 1 / days : 0;
}
