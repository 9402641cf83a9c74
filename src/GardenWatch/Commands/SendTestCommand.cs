using System.Globalization;
using GardenWatch.Messages.Channels;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using GardenWatch.Planning.Plans;
using GardenWatch.Rounds;
using GardenWatch.Setup;
using GardenWatch.Web;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Sends one message by each way out that is set up; where that fails, names the remedy.</summary>
internal static class SendTestCommand
{
    /// <param name="to">One mail address, and then nothing else is tried; null for all that plan and settings name.</param>
    public static async Task<int> Run(Terminal terminal, string? to, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        var channels = HouseChannels.Of(household.Settings, terminal.RealClock);
        if (household.Settings.Mail is null && (to is not null || channels.All.IsEmpty))
        {
            Console.Error.WriteLine($"{household.Folder.SettingsFile} names no mail server yet; add a `mail:` section as config-samples/gardenwatch.yaml shows.");
            return ExitCode.Unusable;
        }
        var addressees = new List<string>();
        if (to is not null)
            addressees.Add(to);
        else if (terminal.OpenGardens(household, store: null) is { } files)
            addressees.AddRange(files.SelectMany(file => file.Plan!.Digest.To).Select(told => told.Address).Where(address => !ChannelWords.IsOne(address)).Distinct(StringComparer.OrdinalIgnoreCase));
        else
            return ExitCode.Unusable;
        if (addressees.Count == 0 && channels.All.IsEmpty)
        {
            Console.Error.WriteLine("The plan names nobody to write to; add `digest: { to: [you@example.org] }`, or name an address: gardenwatch send-test you@example.org");
            return ExitCode.Unusable;
        }

        int code = ExitCode.Fine;
        foreach (string address in addressees)
            code = Math.Max(code, await Mail(household, address, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false));
        if (to is null)
        {
            foreach (var channel in channels.All)
                code = Math.Max(code, await By(channel, terminal.RealClock.GetCurrentInstant(), ct).ConfigureAwait(false));
        }
        using var line = new HttpClientHandler();
        if (await PageAddress.Fault(household.Settings, line, ct).ConfigureAwait(false) is { } unreachable)
        {
            Console.Error.WriteLine(unreachable);
            code = Math.Max(code, ExitCode.Problems);
        }
        return code;
    }

    private static async Task<int> Mail(Household household, string address, Instant now, CancellationToken ct)
    {
        if (household.Settings.Mail is not { } mail)
        {
            Console.Error.WriteLine($"No mail was sent to {address}: {household.Folder.SettingsFile} names no mail server; add a `mail:` section.");
            return ExitCode.Problems;
        }
        var outcome = await new SmtpPostbox(mail).Send(Rendered(mail, address, now), mail.FromAddress, address, ct).ConfigureAwait(false);
        if (outcome is SendOutcome.Accepted accepted)
        {
            Console.Out.WriteLine($"{mail.Host} took the mail for {address} ({accepted.Reply.Trim()}). Look into the mailbox, also under spam.");
            return ExitCode.Fine;
        }
        Console.Error.WriteLine($"The mail for {address} was not taken. {MailRemedy.For(outcome)}");
        return Failed(outcome);
    }

    private static async Task<int> By(IChannel channel, Instant now, CancellationToken ct)
    {
        var outcome = await channel.Send(channel.Render(ChannelNote.Test(now)), TestId(now), ct).ConfigureAwait(false);
        if (outcome is SendOutcome.Accepted)
        {
            Console.Out.WriteLine($"The test for {channel.Word} was taken. Look whether it arrived.");
            return ExitCode.Fine;
        }
        Console.Error.WriteLine($"The test for {channel.Word} was not taken. {(outcome is SendOutcome.TryLater later ? later.Reason : MailRemedy.For(outcome))}");
        return Failed(outcome);
    }

    private static int Failed(SendOutcome outcome) => outcome is SendOutcome.Refused ? ExitCode.Problems : ExitCode.OutOfReach;

    private static string TestId(Instant now) => "test." + now.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);

    private static ReadOnlyMemory<byte> Rendered(MailOptions mail, string address, Instant now)
    {
        var letter = new TestLetter
        {
            Zone = DateTimeZone.Utc,
            GardenId = "gardenwatch",
            GardenName = "GardenWatch",
            Heading = "GardenWatch",
            Subject = "A test from GardenWatch",
            Headline = "This mail came through",
            Lead = "So the digest will, too. It comes from the same account, each morning at the hour that the plan names.",
            Sections = [],
            Foot = [],
            Numbers = [],
            AnswerAddress = null,
        };
        return OutgoingMail.Render(letter, TestId(now), mail.From, address, now).Bytes.AsMemory();
    }

    private sealed record TestLetter : Letter;
}
