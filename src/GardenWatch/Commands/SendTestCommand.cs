using System.Globalization;
using GardenWatch.Messages.Letters;
using GardenWatch.Messages.Mail;
using NodaTime;

namespace GardenWatch.Commands;

/// <summary>Sends one mail through the account of the settings; when that fails, names the remedy.</summary>
internal static class SendTestCommand
{
    public static async Task<int> Run(Terminal terminal, string? to, CancellationToken ct)
    {
        if (terminal.OpenHousehold() is not { } household)
            return ExitCode.Unusable;
        if (household.Settings.Mail is not { } mail)
        {
            Console.Error.WriteLine($"{household.Folder.SettingsFile} names no mail server yet; add a `mail:` section as config-samples/gardenwatch.yaml shows.");
            return ExitCode.Unusable;
        }
        var addressees = new List<string>();
        if (to is not null)
            addressees.Add(to);
        else if (terminal.OpenGardens(household, store: null) is { } files)
            addressees.AddRange(files.SelectMany(file => file.Plan!.Digest.To).Distinct(StringComparer.OrdinalIgnoreCase));
        else
            return ExitCode.Unusable;
        if (addressees.Count == 0)
        {
            Console.Error.WriteLine("The plan names nobody to write to; add `digest: { to: [you@example.org] }`, or name an address: gardenwatch send-test you@example.org");
            return ExitCode.Unusable;
        }

        int code = ExitCode.Fine;
        var postbox = new SmtpPostbox(mail);
        foreach (string address in addressees)
        {
            var outcome = await postbox.Send(Rendered(mail, address, terminal.RealClock.GetCurrentInstant()), mail.FromAddress, address, ct).ConfigureAwait(false);
            if (outcome is SendOutcome.Accepted accepted)
            {
                Console.Out.WriteLine($"{mail.Host} took the mail for {address} ({accepted.Reply.Trim()}). Look into the mailbox, also under spam.");
                continue;
            }
            Console.Error.WriteLine($"The mail for {address} was not taken. {MailRemedy.For(outcome)}");
            code = Math.Max(code, outcome is SendOutcome.Refused ? ExitCode.Problems : ExitCode.OutOfReach);
        }
        return code;
    }

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
        string id = "test." + now.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture);
        return OutgoingMail.Render(letter, id, mail.From, address, now).Bytes.AsMemory();
    }

    private sealed record TestLetter : Letter;
}
