using GardenWatch.Setup;
using GardenWatch.Web;

namespace GardenWatch.Commands;

/// <summary>Makes the file of a page's password: only its slow hash is kept.</summary>
internal static class PasswordCommand
{
    /// <param name="file">As the settings name it.</param>
    public static int Run(Terminal terminal, string file)
    {
        string path = Path.Combine(ConfigFolder.Find(terminal.Config, Directory.GetCurrentDirectory()).Path, file);
        if (File.Exists(path) && !PagePassword.TryRead(File.ReadAllText(path), out _))
        {
            Console.Error.WriteLine($"{path} is there and holds something else; name another file.");
            return ExitCode.Unusable;
        }
        string password = HiddenLine.Ask("Password: ") ?? "";
        if (password.Length is < PagePassword.LeastLength or > PagePassword.MostLength)
        {
            Console.Error.WriteLine($"A password has {PagePassword.LeastLength} to {PagePassword.MostLength} letters; three or four words that have nothing to do with each other are a good one.");
            return ExitCode.Unusable;
        }
        if (!Console.IsInputRedirected && HiddenLine.Ask("Once more: ") != password)
        {
            Console.Error.WriteLine("The two differ; nothing was written.");
            return ExitCode.Unusable;
        }
        SecretFile.Write(path, PagePassword.Of(password).Written());
        Console.Out.WriteLine($"Written to {path}. In gardenwatch.yaml: `web: {{ people: [ {{ name: ..., password file: {file} }} ] }}`. It counts from the service's next start.");
        return ExitCode.Fine;
    }
}
