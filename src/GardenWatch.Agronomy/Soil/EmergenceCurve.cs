using System.Collections.Immutable;

namespace GardenWatch.Agronomy.Soil;

/// <summary>What a trial at one steady soil temperature found.</summary>
/// <param name="Days">From sowing to emergence; null when nothing, or next to nothing, came up.</param>
public readonly record struct EmergenceTrial(double SoilC, double? Days);

/// <summary>Normal seedlings of a hundred seeds at one steady soil temperature, as a share of 1.</summary>
public readonly record struct SeedlingTrial(double SoilC, double Share);

/// <summary>How far sown seed has come: a share of 1, and the share of the hours of which nothing could be said.</summary>
public readonly record struct EmergenceProgress(double Done, double UnknownShare);

/// <summary>What a soil temperature means to sown seed.</summary>
public enum SoilForSeed { NotKnown, TooCold, Right, TooHot }

/// <summary>How fast a crop comes up at a soil temperature, from trials at steady temperatures.</summary>
/// <remarks>
/// Such as Harrington and Minges 1954 (Knott's Handbook 1997), each 5 °C. Between two trials the rate, 1/days, is
/// interpolated, not the days; towards a trial where nothing came up it falls to nothing. Colder than the coldest trial at
/// which seed came up, the line through the two coldest goes on down to nothing, as thermal time has it; hotter than the
/// hottest it is unknown, since there the fall is steep. Trials were in moist soil at half an inch; dry or deeper seed takes
/// longer.
/// </remarks>
public sealed class EmergenceCurve
{
    /// <summary>
    /// Progress from which a gardener should look: half as long again as the trials took. By judgement: seed from a packet
    /// is older and lies deeper than theirs, but what has not come by then mostly rots, is eaten or lies in a crust.
    /// </summary>
    public const double WorryFrom = 1.5;

    private readonly ImmutableArray<EmergenceTrial> _trials;
    private readonly ImmutableArray<SeedlingTrial> _seedlings;

    /// <param name="trials">At different temperatures, in any order.</param>
    /// <param name="seedlings">Where the table has them.</param>
    /// <exception cref="ArgumentException">Trials that contradict each other, or that can't be.</exception>
    public EmergenceCurve(IEnumerable<EmergenceTrial> trials, IEnumerable<SeedlingTrial>? seedlings = null)
    {
        _trials = [.. trials.OrderBy(trial => trial.SoilC)];
        _seedlings = [.. (seedlings ?? []).OrderBy(trial => trial.SoilC)];
        foreach (var trial in _trials)
            if (trial.Days is { } days && !(days > 0 && double.IsFinite(days)))
                throw new ArgumentException(Invariant($"{days} days at {trial.SoilC} °C: emergence takes some time."), nameof(trials));
        foreach (var trial in _seedlings)
            if (!(trial.Share is >= 0 and <= 1))
                throw new ArgumentException(Invariant($"A share of {trial.Share} at {trial.SoilC} °C: it is 0 to 1."), nameof(seedlings));
        CheckTemperatures([.. _trials.Select(trial => trial.SoilC)], nameof(trials));
        CheckTemperatures([.. _seedlings.Select(trial => trial.SoilC)], nameof(seedlings));
    }

    /// <summary>Share of the way per day; 0 where nothing comes up, NaN where it is not known.</summary>
    public double RatePerDay(double soilC)
    {
        if (_trials.IsEmpty || double.IsNaN(soilC))
            return double.NaN;
        if (soilC < _trials[0].SoilC)
            return Colder(soilC);
        if (soilC > _trials[^1].SoilC)
            return _trials[^1].Days is null ? 0 : double.NaN;
        int above = 0;
        while (_trials[above].SoilC < soilC)
            above++;
        if (_trials[above].SoilC == soilC)
            return Rate(_trials[above]);
        var (cold, warm) = (_trials[above - 1], _trials[above]);
        double share = (soilC - cold.SoilC) / (warm.SoilC - cold.SoilC);
        return Rate(cold) + share * (Rate(warm) - Rate(cold));
    }

    /// <summary>Days to emergence at a steady temperature; infinite where nothing comes up, NaN where it is not known.</summary>
    public double Days(double soilC) => 1 / RatePerDay(soilC);

    /// <summary>Normal seedlings, as a share of the seeds sown; NaN where it was not tried.</summary>
    public double ShareComingUp(double soilC)
    {
        for (int i = 0; i < _seedlings.Length; i++)
        {
            if (_seedlings[i].SoilC == soilC)
                return _seedlings[i].Share;
            if (i > 0 && _seedlings[i - 1].SoilC < soilC && soilC < _seedlings[i].SoilC)
                return _seedlings[i - 1].Share + (soilC - _seedlings[i - 1].SoilC) / (_seedlings[i].SoilC - _seedlings[i - 1].SoilC)
                    * (_seedlings[i].Share - _seedlings[i - 1].Share);
        }
        return double.NaN;
    }

    /// <summary>Whether seed would come up at a soil temperature, or why not.</summary>
    public SoilForSeed At(double soilC)
    {
        double rate = RatePerDay(soilC);
        if (double.IsNaN(rate))
            return SoilForSeed.NotKnown;
        if (rate > 0)
            return SoilForSeed.Right;
        foreach (var trial in _trials)
            if (trial.Days is not null)
                return soilC < trial.SoilC ? SoilForSeed.TooCold : SoilForSeed.TooHot;
        return SoilForSeed.NotKnown;
    }

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

    /// <summary>Hours from sowing until the progress reaches a share, within the hour; null if these do not suffice.</summary>
    /// <param name="done">1 for emergence, <see cref="WorryFrom"/> for when to look for what went wrong.</param>
    public double? HoursUntil(double done, ReadOnlySpan<double> soilHoursC)
    {
        if (!(done > 0))
            throw new ArgumentOutOfRangeException(nameof(done), done, "Progress to wait for is above 0.");
        double sum = 0;
        for (int hour = 0; hour < soilHoursC.Length; hour++)
        {
            double rate = RatePerDay(soilHoursC[hour]) / 24;
            if (!(rate > 0))
                continue;
            if (sum + rate >= done)
                return hour + (done - sum) / rate;
            sum += rate;
        }
        return null;
    }

    private double Colder(double soilC)
    {
        if (_trials[0].Days is null)
            return 0;
        if (_trials.Length < 2 || _trials[1].Days is null)
            return double.NaN;
        double slope = (Rate(_trials[1]) - Rate(_trials[0])) / (_trials[1].SoilC - _trials[0].SoilC);
        return slope > 0 ? Math.Max(0, Rate(_trials[0]) + slope * (soilC - _trials[0].SoilC)) : double.NaN;
    }

    private static void CheckTemperatures(double[] sorted, string name)
    {
        for (int i = 0; i < sorted.Length; i++)
        {
            if (!(sorted[i] is >= -40 and <= 80))
                throw new ArgumentException(Invariant($"A trial at {sorted[i]} °C: soil is -40 to 80 °C."), name);
            if (i > 0 && sorted[i] == sorted[i - 1])
                throw new ArgumentException(Invariant($"Two trials at {sorted[i]} °C."), name);
        }
    }

    private static double Rate(EmergenceTrial trial) => trial.Days is { } days ? 1 / days : 0;

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);
}
