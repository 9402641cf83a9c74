using System.Collections.Immutable;
using System.Net;
using GardenWatch.Web;
using YamlDotNet.RepresentationModel;

namespace GardenWatch.Setup;

/// <summary>One who may see the page.</summary>
/// <param name="Gardens">Ids of the gardens that are this one's; empty for all.</param>
public sealed record WebPerson(string Name, PagePassword Password, ImmutableArray<string> Gardens)
{
    public bool Sees(string gardenId) => Gardens.IsEmpty || Gardens.Contains(gardenId, StringComparer.Ordinal);
}

/// <summary>The list of people as it was written under <c>web:</c>.</summary>
internal sealed record WrittenPeople(YamlNode Node, string File)
{
    public const string Word = "people";
    private const string Example = "people: [ { name: pat, password file: page-password } ]";
    private const int LongestName = 40;

    public ImmutableArray<WebPerson> Read(ConfigFolder folder, string? credentials, List<SettingsFault> faults)
    {
        if (Node is not YamlSequenceNode { Children.Count: > 0 } list)
        {
            faults.Add(At(Node, "`web: people` lists nobody.", $"Write for example `{Example}`, or leave it out."));
            return [];
        }
        var people = ImmutableArray.CreateBuilder<WebPerson>();
        foreach (var entry in list.Children)
        {
            if (One(entry, folder, credentials, faults) is not { } person)
                continue;
            if (people.Any(other => other.Name.Equals(person.Name, StringComparison.OrdinalIgnoreCase)))
                faults.Add(At(entry, $"`{person.Name}` is among the people twice.", "Give each a name of its own."));
            people.Add(person);
        }
        return people.ToImmutable();
    }

    private WebPerson? One(YamlNode entry, ConfigFolder folder, string? credentials, List<SettingsFault> faults)
    {
        if (entry is not YamlMappingNode keys)
        {
            faults.Add(At(entry, "A person of the page wants a name and a password file.", $"Write for example `{Example}`."));
            return null;
        }
        string? name = null;
        YamlScalarNode? file = null;
        ImmutableArray<string> gardens = [];
        foreach (var (key, value) in keys.Children)
        {
            switch ((key as YamlScalarNode)?.Value, value)
            {
                case ("name", YamlScalarNode { Value.Length: > 0 and <= LongestName } text):
                    name = text.Value!.Trim();
                    break;
                case ("password file", YamlScalarNode { Value.Length: > 0 } text):
                    file = text;
                    break;
                case ("gardens", YamlSequenceNode { Children.Count: > 0 } ids) when ids.Children.All(id => id is YamlScalarNode { Value.Length: > 0 }):
                    gardens = [.. ids.Children.Cast<YamlScalarNode>().Select(id => id.Value!.Trim())];
                    break;
                case ("name" or "password file" or "gardens", _):
                    faults.Add(At(value, $"`{(YamlScalarNode)key}` of a person can't be read.", "Write for example `{ name: pat, password file: page-password, gardens: [quarry-lane] }`."));
                    return null;
                default:
                    faults.Add(At(key, $"A person of the page has no `{(key as YamlScalarNode)?.Value}`.", "There are: name, password file, gardens."));
                    return null;
            }
        }
        if (name is null || file is null)
        {
            faults.Add(At(entry, $"A person of the page has no {(name is null ? "name" : "password file")}.", $"Write for example `{Example}`."));
            return null;
        }
        return Password(file, folder, credentials, faults) is { } password ? new(name, password, gardens) : null;
    }

    private PagePassword? Password(YamlScalarNode named, ConfigFolder folder, string? credentials, List<SettingsFault> faults)
    {
        string path = SecretFile.Locate(named.Value!, folder, credentials);
        string make = $"Make it: gardenwatch password {named.Value}";
        try
        {
            if (PagePassword.TryRead(System.IO.File.ReadAllText(path), out var password))
                return password;
            faults.Add(At(named, $"The password file {path} holds no password of the page; what is in it is not what `gardenwatch password` writes.", make));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            faults.Add(At(named, $"The password file {path} cannot be read: {exception.Message}", $"{make}, and let the account that runs this read it."));
        }
        return null;
    }

    private SettingsFault At(YamlNode node, string problem, string remedy) => new(File, (int)node.Start.Line, (int)node.Start.Column, problem, remedy);
}

/// <summary>A page that more than this machine reaches asks for a password.</summary>
internal static class PageReach
{
    private const string Remedy =
        "Make a password (`gardenwatch password page-password`) and name who has it: `people: [ { name: pat, password file: page-password } ]` under `web:`.";

    /// <param name="isOpen">The settings say that nothing but this machine reaches it, whatever it listens on.</param>
    public static void Check(Settings settings, bool isOpen, SettingValues values)
    {
        // People who could not be read have a fault of their own.
        if (!settings.People.IsEmpty || values.FaultCount > 0)
            return;
        if (!IPAddress.IsLoopback(settings.WebListen.Address) && !isOpen)
            values.Add(values.Value(SettingKey.WebListen)!.Fault(
                $"`web: listen` is {settings.WebListen}, which other machines reach, and the page asks nobody for a password.", $"{Remedy} Or write `listen: 127.0.0.1:{settings.WebListen.Port}`; or, in a container whose port only this machine reaches, `open: yes`."));
        else if (settings.WebAddress is { IsLoopback: false } address)
            values.Add(values.Value(SettingKey.WebAddress)!.Fault(
                $"`web: address` is {address}, by which other machines reach the page, and it asks nobody for a password.", Remedy));
    }
}
