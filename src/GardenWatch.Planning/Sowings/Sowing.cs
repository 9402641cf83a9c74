using System.Collections.Immutable;
using GardenWatch.Planning.Crops;
using GardenWatch.Planning.Journals;
using GardenWatch.Planning.Plans;
using NodaTime;

namespace GardenWatch.Planning.Sowings;

public enum Stage { Planned, Sown, Up, SetOut, Growing, Skipped }

/// <summary>One batch of a planting and how far it is, by the record and else by the plan.</summary>
/// <param name="Planting">What it is a batch of.</param>
/// <param name="Batch">Counted from one.</param>
/// <param name="Stage">How far it is.</param>
/// <param name="SownOn">Null when not sown, or when nobody knows.</param>
/// <param name="SetOutOn">Null when not set out, or when nobody knows.</param>
/// <param name="NotBefore">The first date on which a planned batch is wanted; null for at once.</param>
public sealed record Sowing(
    Planting Planting, int Batch, Stage Stage, LocalDate? SownOn, LocalDate? SetOutOn, LocalDate? NotBefore)
{
    // A seedling may stand above the ground unseen; a frost is worth a warning from then on. Common practice:
    // quick crops are through in about a week.
    private const int PerhapsUpAfterDays = 7;

    public string Id => $"{Planting.Id}.{Batch}";

    /// <summary>Raised in one bed and set out into another, or bought as plants.</summary>
    public bool IsSetOut => Planting.StartBedId is not null || Planting.Origin is Origin.Bought or Origin.SetOut;

    /// <summary>Leaves stand in the planting's own bed on a date, or may do so.</summary>
    public bool StandsInItsBed(LocalDate date) => Stage switch
    {
        Stage.SetOut or Stage.Growing or Stage.Up => true,
        Stage.Sown => !IsSetOut && SownOn is { } sown && Period.DaysBetween(sown, date) >= PerhapsUpAfterDays,
        _ => false,
    };

    /// <summary>When it began to gather warmth towards harvest, as its profile counts.</summary>
    public LocalDate? CountedSince =>
        Planting.Crop.Days?.Counted == CountedFrom.SettingOut ? SetOutOn ?? SownOn : SownOn ?? SetOutOn;
}

/// <summary>The batches of a planting, from what the plan says and the journal tells.</summary>
public static class Sowings
{
    public static ImmutableArray<Sowing> Of(Planting planting, Journal journal, LocalDate today)
    {
        var sowings = ImmutableArray.CreateBuilder<Sowing>();
        int most = planting.Sowings?.Batches ?? (planting.Sowings is null ? 1 : int.MaxValue);
        LocalDate? last = null;
        for (int batch = 1; batch <= most; batch++)
        {
            var sowing = Batch(planting, batch, last, journal, today);
            sowings.Add(sowing);
            if (sowing.Stage == Stage.Planned)
                break; // the next batch is counted from this one, so it is not known yet
            last = sowing.SownOn ?? sowing.SetOutOn
                ?? journal.LastSkipped(planting.Id, JobKind.Sow) ?? sowing.NotBefore ?? today;
        }
        return sowings.ToImmutable();
    }

    private static Sowing Batch(Planting planting, int batch, LocalDate? last, Journal journal, LocalDate today)
    {
        var sown = journal.DoneOn(planting.Id, JobKind.Sow, batch) ?? journal.DoneOn(planting.Id, JobKind.StartIndoors, batch);
        var setOut = journal.DoneOn(planting.Id, JobKind.SetOut, batch);
        var notBefore = batch == 1
            ? planting.OriginDate?.From
            : last?.PlusDays(planting.Sowings!.EveryDays);

        if (batch == 1)
            (sown, setOut) = FromPlan(planting, sown, setOut, today);

        var stage =
            setOut is not null ? Stage.SetOut
            : sown is not null ? Stage.Sown
            : batch == 1 && planting.Origin == Origin.Growing ? Stage.Growing
            : journal.Skipped(planting.Id, JobKind.Sow, batch) || journal.Skipped(planting.Id, JobKind.SetOut, batch) ? Stage.Skipped
            : batch == 1 && planting.Origin == Origin.SetOut && notBefore is null ? Stage.SetOut
            : batch == 1 && planting.Origin == Origin.Sown && notBefore is null ? Stage.Growing
            : Stage.Planned;
        return new(planting, batch, stage, sown, setOut, stage == Stage.Planned ? notBefore : null);
    }

    /// <summary>A date of the plan that has passed is taken as done; the record, where there is one, knows better.</summary>
    private static (LocalDate? Sown, LocalDate? SetOut) FromPlan(
        Planting planting, LocalDate? sown, LocalDate? setOut, LocalDate today)
    {
        if (planting.OriginDate is not { } dates || dates.Middle > today)
            return (sown, setOut);
        return planting.Origin switch
        {
            Origin.Sown => (sown ?? dates.Middle, setOut),
            Origin.SetOut => (sown, setOut ?? dates.Middle),
            _ => (sown, setOut),
        };
    }
}
