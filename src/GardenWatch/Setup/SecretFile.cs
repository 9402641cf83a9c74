namespace GardenWatch.Setup;

/// <summary>Secrets are in files of their own, so that the settings can be shown and backed up.</summary>
internal static class SecretFile
{
    /// <summary>Names the folder into which the service manager puts its credentials.</summary>
    public const string CredentialsVariable = "CREDENTIALS_DIRECTORY";

    /// <summary>The service manager's credential of that name first, then the file in the config folder.</summary>
    public static string Locate(string name, ConfigFolder folder, string? credentials)
    {
        if (credentials is not null && !Path.IsPathRooted(name) && Path.Combine(credentials, name) is var credential && File.Exists(credential))
            return credential;
        return Path.Combine(folder.Path, name);
    }

    /// <summary>Null when the key is not written, or when its file gave none; then a fault tells why.</summary>
    public static string? Of(SettingKey key, string what, SettingValues values, ConfigFolder folder, string? credentials) =>
        values.Value(key) is { } named ? Read(Locate(named.Text, folder, credentials), named, what, values) : null;

    /// <summary>Readable for its owner alone from its first byte on.</summary>
    public static void Write(string path, string text)
    {
        string beside = path + ".new";
        File.Delete(beside);
        using (var stream = new FileStream(beside, new FileStreamOptions
        {
            Mode = FileMode.CreateNew, Access = FileAccess.Write, UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite,
        }))
        using (var writer = new StreamWriter(stream))
            writer.WriteLine(text);
        File.Move(beside, path, overwrite: true);
    }

    /// <param name="what">"password".</param>
    public static string? Read(string path, WrittenValue named, string what, SettingValues values)
    {
        try
        {
            // Editors end a file with a newline; other blanks may belong to the secret.
            string secret = File.ReadAllText(path).TrimEnd('\r', '\n');
            if (secret.Length > 0)
                return secret;
            values.Add(named.Fault($"The {what} file {path} is empty.", $"Write the {what} into it, alone on its line."));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            values.Add(named.Fault($"The {what} file {path} cannot be read: {exception.Message}",
                $"Write the {what} into that file, and let the account that runs this read it (chmod 600)."));
        }
        return null;
    }
}
