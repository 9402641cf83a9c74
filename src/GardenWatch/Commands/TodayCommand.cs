using System.Collections.Immutable;
using GardenWatch.Messages.Digests;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Store;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>
/// This morning's digest in the terminal. Pulls weather when what is stored is older than the pull interval, members when a
/// new run is out, and writes nothing else; past years it takes as they are stored.
/// </summary>
internal static class TodayCommand
{
    private static readonly TimeSpan MembersMayTake = TimeSpan.FromSeconds(20);

    public static async Task<int> Run(Terminal terminal, string? gardenId, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        using var store = terminal.OpenStore(household.Settings, StoreUse.Command);
        if (store is null || terminal.OpenGardens(household, store) is not { } files || Terminal.Named(files, gardenId) is not { } plans)
            return ExitCode.Unusable;

        int code = ExitCode.Fine;
        foreach (var plan in plans)
            code = Math.Max(code, await OfGarden(terminal, household, store, plan, ct).ConfigureAwait(false));
        return code;
    }

    private static async Task<int> OfGarden(Terminal terminal, Setup.Household household, GardenStore store, Plan plan, CancellationToken ct)
    {
        int code = ExitCode.Fine;
        using var finding = Terminal.LookingHouse(household, store, terminal.RealClock);
        var place = await finding.Places.Settle(plan.Place, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false);
        switch (place)
        {
            case PlaceOutcome.Unclear(var sentence):
                Console.Error.WriteLine(sentence);
                return ExitCode.Unusable;
            case PlaceOutcome.OutOfReach(var sentence):
                Console.Error.WriteLine(sentence);
                return ExitCode.OutOfReach;
        }
        var settled = ((PlaceOutcome.Settled)place).Place;
        if (terminal.NowIn(settled.Calendar.Zone) is not { } now)
            return ExitCode.Unusable;

        var clock = new ClockFrom(terminal.RealClock, now);
        using var house = Terminal.LookingHouse(household, store, clock);
        var pullEvery = Duration.FromTimeSpan(household.Settings.Weather.PullEvery);
        bool isOld = !store.Pulls.NewestByPlace(PullRound.Kind, now).TryGetValue(settled.Key, out var newest) || now - newest >= pullEvery;
        if (isOld && await house.Pulls.Run(settled, _ => true, ct).ConfigureAwait(false) is { } reason)
        {
            Console.Error.WriteLine(reason);
            code = ExitCode.OutOfReach;
        }

        if (code == ExitCode.Fine && house.Members.IsDue(settled)
            && await MembersPulled(house, settled, ct).ConfigureAwait(false) is { } withoutChances)
            Console.Error.WriteLine(withoutChances);

        var agenda = house.Mornings.AgendaOf(plan, settled, clock.GetCurrentInstant());
        var digest = Digest.Of(agenda, house.Mornings.JournalOf(plan, now).Entries, new("", plan.Units), DigestOccasion.OnTime);
        if (terminal.Json)
        {
            using var output = Console.OpenStandardOutput();
            AgendaJson.Write(output, agenda, digest.Numbers.ToImmutableDictionary(number => number.JobId, number => number.Number));
            output.Write("\n"u8);
        }
        else
        {
            Console.Out.Write(DigestText.Write(digest));
        }
        return code;
    }

    /// <summary>Why there are no fresh members, in a sentence; null when all is well. Somebody waits at the terminal, so not for long.</summary>
    private static async Task<string?> MembersPulled(House house, GardenPlace place, CancellationToken ct)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(ct);
        patience.CancelAfter(MembersMayTake);
        try
        {
            return await house.Members.Run(place, _ => true, patience.Token).ConfigureAwait(false);
        }
        catch (OperationCanceledException) when (!ct.IsCancellationRequested)
        {
            return $"The ensemble did not answer within {MembersMayTake.TotalSeconds:0} seconds; chances are of the last members, or left out.";
        }
    }
}
