using System.Collections.Immutable;
using System.Globalization;
using GardenWatch.Planning.FirstPlans;
using GardenWatch.Planning.Plans;
using GardenWatch.Planning.Quantities;
using GardenWatch.Setup;
using NodaTime;
using NodaTime.TimeZones;

namespace GardenWatch.Commands;

/// <summary>The five questions at the terminal, each with what is usual, and what follows from an answer.</summary>
internal sealed class FirstQuestions(Questions questions, NewOptions given, NewGarden garden, PlaceSearch places)
{
    public async Task<(FirstPlan First, WayOut? WayOut)> All(CancellationToken ct)
    {
        if (!questions.TakesUsual)
        {
            questions.Tell($"""
                Five questions; then your plan is written into {garden.Folder.Path}.
                Enter takes what stands in brackets, ? explains, Ctrl-C ends without writing anything.

                """);
        }
        var place = await Place(ct).ConfigureAwait(false);
        var units = await Units(place, ct).ConfigureAwait(false);
        var beds = await Beds(units, ct).ConfigureAwait(false);
        var (crops, leftOut) = await Crops(beds, ct).ConfigureAwait(false);
        var (to, wayOut) = await Told(ct).ConfigureAwait(false);
        return (new()
        {
            Name = given.Name?.Trim() is { Length: > 0 and <= 60 } name ? name : FirstPlan.UsualName,
            Place = place, Units = units, Beds = beds, Crops = crops, LeftOut = leftOut, To = to,
        }, wayOut);
    }

    private async Task<FirstPlace> Place(CancellationToken ct)
    {
        const string explanation = "The weather is asked for there, so the garden itself is better than the town: latitude and longitude do, too, "
            + "such as 48.1, 11.5, or 33.9 S, 151.2 E. Of several towns of one name you choose. A state or country may stand behind a comma: Toronto, Ohio.";
        bool outOfReach = false;
        ImmutableArray<FoundTown> towns;
        try
        {
            towns = (await questions.Ask("1. The nearest town", null, explanation, given.Town, async answer =>
            {
                var said = PlaceSaid.Read(answer);
                if (!questions.TakesUsual && said is not PlaceSaid.Fault)
                    questions.Tell("   Looking it up ...");
                var finding = await places.Find(said, ct).ConfigureAwait(false);
                outOfReach = finding.OutOfReach;
                return finding.Trouble is { } trouble ? Reading<PlaceFinding>.Wrong(trouble) : finding;
            }, ct).ConfigureAwait(false)).Towns;
        }
        catch (AnswersEndedException) when (outOfReach && questions.TakesUsual)
        {
            throw new AnswersEndedException(ExitCode.OutOfReach);
        }
        var town = towns.Length == 1 ? towns[0] : await Namesake(towns, ct).ConfigureAwait(false);
        if (town.Label.Length > 0)
            questions.Tell($"   {town.Label}.");
        // What was typed as latitude and longitude is as complete as the service could make it.
        var place = town.Place.Town is null ? town.Place : await places.Completed(town.Place, ct).ConfigureAwait(false);
        return place.ZoneId is null ? place with { ZoneId = await Zone(ct).ConfigureAwait(false) } : place;
    }

    private async Task<FoundTown> Namesake(ImmutableArray<FoundTown> towns, CancellationToken ct)
    {
        for (int i = 0; i < towns.Length; i++)
            questions.Tell(string.Create(CultureInfo.InvariantCulture, $"   {i + 1,2}  {towns[i].Label}"));
        return await questions.Ask("   Which one", "1", "The number before the town; the weather of the others is another.", null, answer =>
            int.TryParse(answer.Trim().TrimEnd('.'), NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number >= 1 && number <= towns.Length
                ? towns[number - 1]
                : Reading<FoundTown>.Wrong($"a number from 1 to {towns.Length}"), ct).ConfigureAwait(false);
    }

    /// <summary>Asked where the service could not tell it.</summary>
    private Task<string> Zone(CancellationToken ct) => questions.Ask(
        "   Time zone", MachineZone() ?? "Etc/UTC", "The zone decides when it is morning. It has the name of a large town: Europe/Berlin, America/New_York.", null,
        answer => DateTimeZoneProviders.Tzdb.GetZoneOrNull(answer.Trim()) is { } zone
            ? zone.Id
            : Reading<string>.Wrong($"`{answer.Trim()}` is no time zone{(Spelling.Nearest(answer, DateTimeZoneProviders.Tzdb.Ids) is { } near ? $"; did you mean {near}?" : ", such as Europe/Berlin")}"), ct);

    /// <summary>This machine's zone is a good guess, and no more: the gardener is asked.</summary>
    internal static string? MachineZone()
    {
        try
        {
            return DateTimeZoneProviders.Tzdb.GetSystemDefault().Id;
        }
        catch (DateTimeZoneNotFoundException)
        {
            return null;
        }
    }

    private async Task<UnitSystem> Units(FirstPlace place, CancellationToken ct)
    {
        string word = await questions.Ask("2. Units, metric or us", UnitsSaid.Word(UnitsSaid.Usual(place.CountryCode, place.ZoneId)),
            "How messages speak: °C, mm and metres, or °F, inches and feet. The plan itself may use either.", given.Units,
            answer => UnitsSaid.Read(answer) is { } units ? UnitsSaid.Word(units) : Reading<string>.Wrong("`metric` or `us`"), ct).ConfigureAwait(false);
        return UnitsSaid.Read(word)!.Value;
    }

    private async Task<ImmutableArray<FirstBed>> Beds(UnitSystem units, CancellationToken ct)
    {
        var reading = await questions.Ask("3. Your beds", FirstPlan.UsualBeds(units),
            "Roughly is fine, and the number alone does: 3. With sizes, messages can say how many plants find room and how much water a bed wants: "
            + "two 1.2 x 3 m, one 4 x 8 ft, a row of pots, a greenhouse 2 x 3 m, the bed by the shed.", given.Beds,
            answer => BedsSaid.Read(answer, units) switch
            {
                BedsReading.Ok ok => ok,
                BedsReading.Fault(var problem, var instead) => Reading<BedsReading.Ok>.Wrong($"{problem}: {instead}"),
                _ => throw new InvalidOperationException("No such reading."),
            }, ct).ConfigureAwait(false);
        if (reading.Beds.Length > 1 && !questions.TakesUsual)
            questions.Tell($"   That is: {string.Join(", ", reading.Beds.Select(bed => bed.Name))}.");
        return reading.Beds;
    }

    private async Task<(ImmutableArray<FirstCrop> Crops, ImmutableArray<string> LeftOut)> Crops(ImmutableArray<FirstBed> beds, CancellationToken ct)
    {
        ImmutableArray<string> names = [.. beds.Select(bed => bed.Name)];
        var crops = ImmutableArray.CreateBuilder<FirstCrop>();
        var leftOut = ImmutableArray.CreateBuilder<string>();
        CropsReading Read(string answer) => CropsSaid.Read(answer, garden.Crops, names);
        var reading = await questions.Ask("4. What grows, or shall grow", FirstPlan.UsualCrops,
            "Crops with commas between them, as you speak of them: tomatoes, garlic growing, carrots sown mid April, 6 peppers in the greenhouse, "
            + "radishes every 10 days, kale from seed. What has no word behind it is still to come. `nothing yet` is an answer, too.", given.Crops,
            answer => Read(answer) is var read && questions.TakesUsual && !read.Doubts.IsEmpty
                ? Reading<CropsReading>.Wrong(string.Join("\n  ", read.Doubts))
                : read, ct).ConfigureAwait(false);
        crops.AddRange(reading.Crops);
        var doubts = new Queue<CropDoubt>(reading.Doubts);
        while (doubts.TryDequeue(out var doubt))
        {
            questions.Tell($"   {doubt}");
            var again = await questions.Ask("   Write it anew, or - to leave it out", doubt.Better, "What is left out stays in the plan as a remark. A crop that is not known can be described in a file of its own.", null,
                answer => answer.Trim() is "-" or "–" ? new CropsReading([], []) : (Reading<CropsReading>)Read(answer), ct).ConfigureAwait(false);
            crops.AddRange(again.Crops);
            foreach (var left in again.Doubts)
                doubts.Enqueue(left);
            if (again is { Crops.IsEmpty: true, Doubts.IsEmpty: true })
                leftOut.Add(doubt.Item);
        }
        return (crops.ToImmutable(), leftOut.ToImmutable());
    }

    private async Task<(string? To, WayOut? WayOut)> Told(CancellationToken ct)
    {
        var settings = garden.Settings;
        var told = await questions.Ask("5. Where shall the digest go: a mail address, a push address, or terminal", "terminal",
            "A mail address is asked for its mail server next. The address of a push is that of your push server with the topic your telephone follows. "
            + "terminal: nothing is sent, and you read it with `gardenwatch today` or on the page.", given.To,
            answer => ToldSaid.Read(answer, settings.ChannelsSetUp) is var said && said is ToldSaid.Fault(var problem, var instead)
                ? Reading<ToldSaid>.Wrong($"{problem}: {instead}")
                : said, ct).ConfigureAwait(false);
        switch (told)
        {
            case ToldSaid.ByChannel(var channel):
                return (channel, null);
            case ToldSaid.ByMail mail when garden.NeedsWayOut:
                return (mail.Address, await Server(mail, ct).ConfigureAwait(false));
            case ToldSaid.ByMail mail:
                questions.Tell($"   It goes by {settings.Mail!.Host}, as {settings.Mail.FromAddress}; that is set already.");
                return (mail.Address, null);
            case ToldSaid.ByPush push:
                string? token = await Secret("   The server's access token (Enter for none)", ct).ConfigureAwait(false);
                return (ChannelWords.Push, new WayOut.ByPush(push.Address, token));
            default:
                return (null, null);
        }
    }

    private async Task<WayOut> Server(ToldSaid.ByMail mail, CancellationToken ct)
    {
        var server = await questions.Ask("   Your provider's server for outgoing mail", mail.UsualServer,
            "Its help names it, often smtp. or mail. and the provider's name. A port may stand behind it: smtp.example.org:465.", given.Server,
            answer => MailServerSaid.Read(answer) is { } said ? said : Reading<MailServerSaid>.Wrong("the name of a server, such as smtp.example.org"), ct).ConfigureAwait(false);
        string user = await questions.Ask("   User name there (- for none)", server.Security == "none" ? "-" : mail.Address,
            "Often the whole address. A mail server on this machine may ask for none.", given.User,
            answer => answer.Trim().Length is > 0 and <= 200 ? answer.Trim() : Reading<string>.Wrong("a user name"), ct).ConfigureAwait(false);
        if (user == "-")
            return new WayOut.ByMail(server, null, null, mail.Address);
        string? password = await Secret("   Password (not shown; many providers want an app password)", ct).ConfigureAwait(false);
        if (password is null)
        {
            questions.Tell("  A user name wants a password; from a file with --secret-file, or typed here.");
            throw new AnswersEndedException(ExitCode.Unusable);
        }
        return new WayOut.ByMail(server, user, password, user.Contains('@', StringComparison.Ordinal) ? user : mail.Address);
    }

    /// <summary>Null when there is none.</summary>
    private async Task<string?> Secret(string question, CancellationToken ct)
    {
        string secret = given.SecretFile is { } file
            ? await File.ReadAllTextAsync(file, ct).ConfigureAwait(false)
            : await questions.Secret(question, ct).ConfigureAwait(false);
        secret = secret.TrimEnd('\r', '\n');
        return secret.Length == 0 ? null : secret;
    }
}
