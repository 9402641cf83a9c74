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
        string password = Asked("Password: ") ?? "";
        if (password.Length is < PagePassword.LeastLength or > PagePassword.MostLength)
        {
            Console.Error.WriteLine($"A password has {PagePassword.LeastLength} to {PagePassword.MostLength} letters; three or four words that have nothing to do with each other are a good one.");
            return ExitCode.Unusable;
        }
        if (!Console.IsInputRedirected && Asked("Once more: ") != password)
        {
            Console.Error.WriteLine("The two differ; nothing was written.");
            return ExitCode.Unusable;
        }
        Write(path, PagePassword.Of(password).Written());
        Console.Out.WriteLine($"Written to {path}. In gardenwatch.yaml: `web: {{ people: [ {{ name: ..., password file: {file} }} ] }}`. It counts from the service's next start.");
        return ExitCode.Fine;
    }

    /// <summary>Readable for its owner alone from its first byte on.</summary>
    private static void Write(string path, string text)
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

    /// <summary>A line that is not shown while it is typed; one line of what another program hands over.</summary>
    private static string? Asked(string question)
    {
        if (Console.IsInputRedirected)
            return Console.In.ReadLine();
        Console.Error.Write(question);
        var typed = new System.Text.StringBuilder();
        while (Console.ReadKey(intercept: true) is { Key: not ConsoleKey.Enter } key)
        {
            if (key.Key == ConsoleKey.Backspace)
                typed.Length = Math.Max(0, typed.Length - 1);
            else if (!char.IsControl(key.KeyChar))
                typed.Append(key.KeyChar);
        }
        Console.Error.WriteLine();
        return typed.ToString();
    }
}
