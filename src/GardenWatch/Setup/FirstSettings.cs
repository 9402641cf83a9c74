using GardenWatch.Planning.Plans;

namespace GardenWatch.Setup;

/// <summary>The service's settings as a new gardener gets them.</summary>
internal static class FirstSettings
{
    /// <param name="before">What the file holds already; null when there is none.</param>
    /// <param name="data">The data folder in force.</param>
    /// <param name="section">The way out; null for none.</param>
    public static string Of(string? before, string data, ConfigFolder folder, string? section)
    {
        string added = section is null ? "" : "\n" + section;
        if (before is not null)
            return before.TrimEnd() + "\n" + added;
        return $"""
            # The service's own settings; what the garden wants stands in its plan. Every key may be left out.
            # `gardenwatch check --show` prints what holds, and config-samples/gardenwatch.yaml of the program explains all keys.

            # Everything learned and recorded. On this machine's own disk, not on a network share.
            data: {DataFolder(data, folder)}

            # The page: on this machine at http://127.0.0.1:8710/. For other devices it asks for a password: see README, "The page".
            web:
              listen: 127.0.0.1:8710

            """ + added;
    }

    /// <summary>The system's folder holds for the system's settings; who keeps the files elsewhere has the records beside them.</summary>
    private static string DataFolder(string data, ConfigFolder folder) =>
        data == SettingKey.Data.Default && folder.Path != ConfigFolder.SystemWide ? "records" : YamlValue.Of(data);
}
