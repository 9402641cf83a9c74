namespace GardenWatch.Setup;

/// <summary>The one secret among the settings: in a file of its own, so that these can be shown and backed up.</summary>
/// <param name="Password">Null when the file it should be in gave none; a fault tells why.</param>
internal sealed record MailPassword(string? Password, string From)
{
    /// <summary>Names the folder into which the service manager puts its credentials.</summary>
    public const string CredentialsVariable = "CREDENTIALS_DIRECTORY";

    /// <summary>Null when none is set, which is right for a mail server that asks for none.</summary>
    public static MailPassword? Find(SettingValues values, ConfigFolder folder, string? credentials)
    {
        var value = values.Value(SettingKey.MailPassword);
        if (values.Value(SettingKey.MailPasswordFile) is not { } file)
            return value is null ? null : new(value.Text, value.From);
        if (value is null)
        {
            string path = Locate(file.Text, folder, credentials);
            return new(Read(path, file, values), path);
        }
        values.Add(file.Fault($"Both `mail: password` ({value.From}) and `mail: password file` are set.", "Keep one of them; the file is the better place."));
        return new(null, value.From);
    }

    /// <summary>The service manager's credential of that name first, then the file in the config folder.</summary>
    private static string Locate(string name, ConfigFolder folder, string? credentials)
    {
        if (credentials is not null && !Path.IsPathRooted(name) && Path.Combine(credentials, name) is var credential && File.Exists(credential))
            return credential;
        return Path.Combine(folder.Path, name);
    }

    private static string? Read(string path, WrittenValue named, SettingValues values)
    {
        try
        {
            // Editors end a file with a newline; other blanks may belong to the password.
            string secret = File.ReadAllText(path).TrimEnd('\r', '\n');
            if (secret.Length > 0)
                return secret;
            values.Add(named.Fault($"The password file {path} is empty.", "Write the password into it, alone on its line."));
        }
        catch (Exception exception) when (exception is IOException or UnauthorizedAccessException)
        {
            values.Add(named.Fault($"The password file {path} cannot be read: {exception.Message}",
                "Write the password into that file, and let the account that runs this read it (chmod 600)."));
        }
        return null;
    }
}
