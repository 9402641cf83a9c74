using System.Text;

namespace GardenWatch.Commands;

/// <summary>A line that is not shown while it is typed; one line of what another program hands over.</summary>
internal static class HiddenLine
{
    public static string? Ask(string question)
    {
        if (Console.IsInputRedirected)
            return Console.In.ReadLine();
        Console.Error.Write(question);
        var typed = new StringBuilder();
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
