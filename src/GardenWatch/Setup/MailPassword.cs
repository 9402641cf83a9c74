using System.Text;
using GardenWatch.Messages;

namespace GardenWatch.Setup;

/// <summary>The one secret that may also stand among the settings themselves.</summary>
/// <param name="Password">Null when the file it should be in gave none; a fault tells why.</param>
internal sealed record MailPassword(string? Password, string From)
{
    private bool PrintMembers(StringBuilder text) => Masked.Print(text, ("password", Masked.Of(Password)), ("from", From));

    /// <summary>Null when none is set, which is right for a mail server that asks for none.</summary>
    public static MailPassword? Find(SettingValues values, ConfigFolder folder, string? credentials)
    {
        var value = values.Value(SettingKey.MailPassword);
        if (values.Value(SettingKey.MailPasswordFile) is not { } file)
            return value is null ? null : new(value.Text, value.From);
        if (value is null)
        {
            string path = SecretFile.Locate(file.Text, folder, credentials);
            return new(SecretFile.Read(path, file, "password", values), path);
        }
        values.Add(file.Fault($"Both `mail: password` ({value.From}) and `mail: password file` are set.", "Keep one of them; the file is the better place."));
        return new(null, value.From);
    }
}
