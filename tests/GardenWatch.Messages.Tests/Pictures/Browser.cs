using System.Diagnostics;
using GardenWatch.Messages.Digests;
using GardenWatch.Messages.Letters;

namespace GardenWatch.Messages.Tests.Pictures;

/// <summary>A browser without a window, as a reader of the mail. Null where none is installed.</summary>
internal sealed class Browser(string program)
{
    public static Browser? Installed { get; } = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .SelectMany(folder => new[] { "chromium", "chromium-browser" }.Select(name => Path.Combine(folder, name)))
        .Where(File.Exists).Select(path => new Browser(path)).FirstOrDefault();

    /// <summary>The HTML of a letter with its pictures in it.</summary>
    public static string Page(Letter letter)
    {
        string html = DigestHtml.Write(letter);
        foreach (var picture in letter.Pictures)
            foreach (bool dark in (bool[])[false, true])
                html = html.Replace("cid:" + picture.ContentId(dark), "data:image/png;base64," + Convert.ToBase64String([.. picture.Png(dark)]), StringComparison.Ordinal);
        return html;
    }

    /// <summary>Shows the page in a frame of a width, runs a script in it and gives what it wrote into the title.</summary>
    public async Task<string> Ask(string page, int width, string script, bool dark, CancellationToken cancellationToken)
    {
        string folder = Directory.CreateTempSubdirectory("gardenwatch-browser-").FullName;
        try
        {
            await File.WriteAllTextAsync(Path.Combine(folder, "inner.html"), page, cancellationToken);
            // No window is narrower than 500 px; a frame in it is.
            string outer = $$"""
                <!DOCTYPE html><html><head><meta name="color-scheme" content="light dark"><title>none</title></head><body style="margin:0">
                <iframe scrolling="no" src="inner.html" width="{{width}}" height="900" style="border:0" onload="
                  const d=this.contentDocument, w=this.contentWindow; document.title=String({{script}})"></iframe></body></html>
                """;
            await File.WriteAllTextAsync(Path.Combine(folder, "outer.html"), outer, cancellationToken);
            string[] options =
            [
                "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--allow-file-access-from-files",
                "--disable-background-networking", "--disable-component-update", $"--user-data-dir={Path.Combine(folder, "profile")}",
                .. dark ? ["--blink-settings=preferredColorScheme=0"] : Array.Empty<string>(),
                "--virtual-time-budget=5000", "--dump-dom", new Uri(Path.Combine(folder, "outer.html")).AbsoluteUri,
            ];
            using var process = Process.Start(new ProcessStartInfo(program, options) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            var errors = process.StandardError.ReadToEndAsync(cancellationToken);
            string dom = await process.StandardOutput.ReadToEndAsync(cancellationToken);
            await process.WaitForExitAsync(cancellationToken);
            int start = dom.IndexOf("<title>", StringComparison.Ordinal) + 7, end = dom.IndexOf("</title>", StringComparison.Ordinal);
            return end > start ? dom[start..end] : $"no page: {await errors}";
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
