using System.Text;
using GardenWatch.Messages;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace GardenWatch.Setup;

/// <summary>One value as it was written, and where.</summary>
/// <param name="Where">The file's path, or "environment NAME".</param>
internal sealed record WrittenValue(string Text, string Where, int Line, int Column)
{
    public SettingsFault Fault(string problem, string remedy) => new(Where, Line, Column, problem, remedy);

    // What was written may be a secret.
    private bool PrintMembers(StringBuilder text) => Masked.Print(text, ("text", Masked.Of(Text)), ("from", From));

    public string From => Line > 0 ? $"{Path.GetFileName(Where)}:{Line}" : Where;
}

/// <summary>The keys that were written in the file and the environment; the latter wins.</summary>
internal static class WrittenSettings
{
    private const int LongestFile = 64 * 1024;

    public static Dictionary<SettingKey, WrittenValue> Read(
        string file, IReadOnlyDictionary<string, string> environment, List<SettingsFault> faults, out WrittenPeople? people)
    {
        people = null;
        var written = new Dictionary<SettingKey, WrittenValue>();
        if (File.Exists(file))
            people = ReadFile(file, written, faults);
        ReadEnvironment(environment, written, faults);
        return written;
    }

    private static WrittenPeople? ReadFile(string file, Dictionary<SettingKey, WrittenValue> written, List<SettingsFault> faults)
    {
        try
        {
            if (new FileInfo(file).Length > LongestFile)
            {
                faults.Add(new(file, 0, 0, "The file is longer than 64 KB.", "It holds a dozen settings; see config-samples/gardenwatch.yaml."));
                return null;
            }
            using var reader = new StreamReader(file);
            var stream = new YamlStream();
            stream.Load(reader);
            // An empty file, or one of comments only, is fine: all defaults.
            if (stream.Documents.Count > 0 && stream.Documents[0].RootNode is not YamlScalarNode { Value: null or "" })
                return ReadSection("", stream.Documents[0].RootNode, file, written, faults);
        }
        catch (YamlException exception)
        {
            faults.Add(new(file, (int)exception.Start.Line, (int)exception.Start.Column, $"This is no YAML: {exception.Message}",
                "Write `key: value`, one to a line, the keys of a section two spaces in."));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            faults.Add(new(file, 0, 0, $"The file cannot be read: {exception.Message}", "Give the account that runs this the right to read it."));
        }
        return null;
    }

    /// <returns>The people of the page, where they are written.</returns>
    private static WrittenPeople? ReadSection(
        string section, YamlNode node, string file, Dictionary<SettingKey, WrittenValue> written, List<SettingsFault> faults)
    {
        if (node is not YamlMappingNode mapping)
        {
            faults.Add(At(node, file, section.Length == 0 ? "The file holds no keys." : $"`{section}` holds no keys.",
                $"Write for example `{(section.Length == 0 ? "data: /var/lib/gardenwatch" : Example(section))}`."));
            return null;
        }
        WrittenPeople? people = null;
        foreach (var (keyNode, value) in mapping.Children)
        {
            string word = keyNode is YamlScalarNode { Value: { } scalar } ? scalar : "";
            if (section.Length == 0 && value is YamlScalarNode { Value: { } switched }
                && SettingKey.All.FirstOrDefault(key => key.Section == word && key.Word == SettingKey.OfSection) is { } read)
                written[read] = new(switched.Trim(), file, (int)value.Start.Line, (int)value.Start.Column);
            else if (section.Length == 0 && SettingKey.IsSection(word))
                people = ReadSection(word, value, file, written, faults) ?? people;
            else if (section == SettingKey.WebListen.Section && word == WrittenPeople.Word)
                people = new(value, file);
            else if (SettingKey.All.FirstOrDefault(key => key.Section == section && key.Word == word) is not { } key)
                faults.Add(Unknown(section, word, keyNode, file));
            else if (value is YamlScalarNode { Value: { } text })
                written[key] = new(text.Trim(), file, (int)value.Start.Line, (int)value.Start.Column);
            else
                faults.Add(At(value, file, $"`{key.Name}` wants one value.", key.Default is { } usual ? $"Write for example `{key.Word}: {usual}`." : "Write it on the same line."));
        }
        return people;
    }

    private static void ReadEnvironment(
        IReadOnlyDictionary<string, string> environment, Dictionary<SettingKey, WrittenValue> written, List<SettingsFault> faults)
    {
        foreach (var (name, text) in environment.OrderBy(variable => variable.Key, StringComparer.Ordinal))
        {
            if (!name.StartsWith(SettingKey.Prefix, StringComparison.OrdinalIgnoreCase))
                continue;
            if (SettingKey.All.FirstOrDefault(key => string.Equals(key.Variable, name, StringComparison.OrdinalIgnoreCase)) is { } key)
                written[key] = new(text.Trim(), $"environment {name}", 0, 0);
            else
                faults.Add(new($"environment {name}", 0, 0, "There is no such setting.",
                    Nearest.To(name, SettingKey.All.Select(known => known.Variable)) is { } near ? $"Was {near} meant?" : "See config-samples/gardenwatch.yaml for the keys."));
        }
    }

    private static SettingsFault Unknown(string section, string word, YamlNode node, string file)
    {
        var known = SettingKey.All.Where(key => key.Section == section).Select(key => key.Word);
        if (section.Length == 0)
            known = known.Concat(SettingKey.All.Select(key => key.Section).Where(name => name.Length > 0).Distinct());
        string place = section.Length == 0 ? "" : $" in `{section}`";
        return At(node, file, $"There is no setting `{word}`{place}.",
            Nearest.To(word, known) is { } near ? $"Was `{near}` meant?" : $"There are: {string.Join(", ", known)}.");
    }

    private static string Example(string section) =>
        section == "mail" ? "mail: { host: mail.example.org, from: garden@example.org }"
        : section == "push" ? "push: { address: https://push.example.org/garden, token file: push-token }"
        : section == "webhook" ? "webhook: { address: https://example.org/hooks/garden, secret file: webhook-secret }"
        : section == "home hub" ? "home hub: { host: hub.example.org }"
        : section == "replies" ? "replies: yes"
        : section == "web" ? "web: { listen: 127.0.0.1:8710 }"
        : "weather: { pull every: 60 minutes }";

    private static SettingsFault At(YamlNode node, string file, string problem, string remedy) =>
        new(file, (int)node.Start.Line, (int)node.Start.Column, problem, remedy);
}
