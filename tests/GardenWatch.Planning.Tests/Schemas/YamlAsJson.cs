using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace GardenWatch.Planning.Tests.Schemas;

/// <summary>YAML as an editor's checker takes it (core schema of YAML 1.2), apart from the project's own reading.</summary>
internal static partial class YamlAsJson
{
    public static JsonNode? Of(string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        return Of(stream.Documents[0].RootNode);
    }

    private static JsonNode? Of(YamlNode node) => node switch
    {
        YamlMappingNode map => new JsonObject(map.Children.Select(c => KeyValuePair.Create(((YamlScalarNode)c.Key).Value!, Of(c.Value)))),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(Of)]),
        YamlScalarNode { Style: ScalarStyle.Plain } plain => OfPlain(plain.Value ?? ""),
        YamlScalarNode quoted => quoted.Value,
        _ => null,
    };

    private static JsonNode? OfPlain(string text) => text switch
    {
        "" or "~" or "null" or "Null" or "NULL" => null,
        "true" or "True" or "TRUE" => true,
        "false" or "False" or "FALSE" => false,
        _ when Number().IsMatch(text) => double.Parse(text, CultureInfo.InvariantCulture),
        _ => text,
    };

    [GeneratedRegex(@"^[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?$", RegexOptions.CultureInvariant)]
    private static partial Regex Number();
}
